//! What the settings file of a project says to commands.

use std::path::{Path, PathBuf};

use ringrule::document::Refusal;
use ringrule::lint::Finder;

use super::inputs::Inputs;

/// The table that is named, or that the settings for the first path name.
pub(crate) fn table(named: Option<&Path>, paths: &[PathBuf]) -> Result<Option<PathBuf>, Refusal> {
    if let Some(named) = named {
        return Ok(Some(named.to_owned()));
    }
    let Some(first) = paths.first() else {
        return Ok(None);
    };
    // Settings are those of the folder that a file is in: of a folder, its own.
    let file = if first.is_dir() {
        first.join("board.yaml")
    } else {
        first.clone()
    };
    let settings = Finder::default().settings_for(&file)?;
    Ok(settings.table.clone())
}

/// Takes out the files that settings exclude, unless they were named themselves.
pub(crate) fn without_excluded(mut found: Inputs, named: &[PathBuf]) -> Inputs {
    let mut finder = Finder::default();
    let mut refusals: Vec<Refusal> = Vec::new();
    found.files.retain(|path| {
        if named.contains(path) {
            return true;
        }
        match finder.settings_for(path) {
            Ok(settings) => !settings.excludes(path),
            Err(refusal) => {
                if !refusals.contains(&refusal) {
                    refusals.push(refusal);
                }
                true
            }
        }
    });
    found.refusals.extend(refusals);
    found
}
