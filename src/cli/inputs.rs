//! Which files a run is about.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use ignore::WalkBuilder;
use ringrule::document::{Refusal, Source};

/// Files to read, in a fixed order, and paths that led nowhere.
#[derive(Debug, Default)]
pub(crate) struct Inputs {
    pub(crate) files: Vec<PathBuf>,
    pub(crate) refusals: Vec<Refusal>,
}

/// Collects files: a file as it is given, a folder with every `.yaml` and
/// `.yml` file below it that no ignore file excludes, sorted by path. A file
/// that is named twice is read once.
pub(crate) fn collect(paths: &[PathBuf]) -> Inputs {
    let mut inputs = Inputs::default();
    let mut seen = HashSet::new();
    for path in paths {
        let found = if path.is_dir() {
            let (found, refusals) = below(path);
            if found.is_empty() && refusals.is_empty() {
                inputs.refusals.push(Refusal::unreadable(
                    &path.display().to_string(),
                    "there is no .yaml or .yml file in this folder",
                    "name a folder with board files, or the files themselves",
                ));
            }
            inputs.refusals.extend(refusals);
            found
        } else {
            vec![path.clone()]
        };
        let new = found.into_iter().filter(|path| seen.insert(path.clone()));
        inputs.files.extend(new);
    }
    inputs
}

fn below(folder: &Path) -> (Vec<PathBuf>, Vec<Refusal>) {
    let mut files = Vec::new();
    let mut refusals = Vec::new();
    let walk = WalkBuilder::new(folder).require_git(false).build();
    for entry in walk {
        match entry {
            Ok(entry) => {
                let path = entry.path();
                let yaml = path.extension().is_some_and(|e| {
                    e.eq_ignore_ascii_case("yaml") || e.eq_ignore_ascii_case("yml")
                });
                if yaml && path.is_file() {
                    files.push(entry.into_path());
                }
            }
            Err(error) => refusals.push(Refusal::unreadable(
                &folder.display().to_string(),
                &format!("part of this folder cannot be read: {error}"),
                "check that the folder exists and may be read",
            )),
        }
    }
    files.sort();
    (files, refusals)
}

/// Reads a file as UTF-8 text.
pub(crate) fn read(path: &Path) -> Result<Source, Refusal> {
    let name = path.display().to_string();
    let bytes = std::fs::read(path).map_err(|error| {
        Refusal::unreadable(
            &name,
            &format!("this file cannot be read: {error}"),
            "check the path; a folder may be named too",
        )
    })?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(name, text)),
        Err(error) => {
            let at = error.utf8_error().valid_up_to();
            let line = error
                .as_bytes()
                .iter()
                .take(at)
                .filter(|&&b| b == b'\n')
                .count()
                + 1;
            Err(Refusal::unreadable(
                &name,
                &format!("line {line} holds a byte that is not UTF-8 text"),
                "save the file as UTF-8",
            ))
        }
    }
}
