//! What the settings file of a project says to commands.

use std::path::{Path, PathBuf};

use ringrule::document::InvalidFile;
use ringrule::lint::Finder;

use super::inputs::Inputs;

/// The table that is named, or that the settings for the first path name.
pub(crate) fn table(
    named: Option<&Path>,
    paths: &[PathBuf],
) -> Result<Option<PathBuf>, InvalidFile> {
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
    let mut invalid_files: Vec<InvalidFile> = Vec::new();
    found.files.retain(|path| {
        if named.contains(path) {
            return true;
        }
        match finder.settings_for(path) {
            Ok(settings) => !settings.excludes(path),
            Err(invalid_file) => {
                if !invalid_files.contains(&invalid_file) {
                    invalid_files.push(invalid_file);
                }
                true
            }
        }
    });
    found.invalid_files.extend(invalid_files);
    found
}
