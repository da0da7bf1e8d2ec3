//! Which files a run is about.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use ignore::WalkBuilder;
use ringrule::document::{Document, Refusal, Source, Value};

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
        // One file may be reached by two ways.
        let real = |path: &PathBuf| path.canonicalize().unwrap_or_else(|_| path.clone());
        let new = found.into_iter().filter(|path| seen.insert(real(path)));
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

/// Reads a file under the name that the user gave it.
pub(crate) fn read(path: &Path) -> Result<Source, Refusal> {
    Source::read(path, &path.display().to_string())
}

/// What a file in a folder of boards is instead of one, if it says so: a folder
/// may hold the tables and events that belong to its boards.
pub(crate) fn other_kind(document: &Document) -> Option<&'static str> {
    let format = document.root.get("format").map(|node| &node.value);
    match format {
        Some(Value::Text(text)) if text.starts_with("ringrule/table/") => Some("a tolerance table"),
        Some(Value::Text(text)) if text.starts_with("ringrule/event/") => Some("an event file"),
        _ => None,
    }
}
