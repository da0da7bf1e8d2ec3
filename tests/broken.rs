//! Every file in `specs/broken` is refused, for one reason, at its place.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use common::{ringrule, root, transcript};
use ringrule::board::Board;
use ringrule::document::{Fault, InvalidFile, InvalidFiles, Source};
use ringrule::table::{Table, shelf_of};

fn files(folder: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(root().join(folder)).expect("the folder is there");
    let paths = entries.map(|entry| entry.expect("readable").path());
    let mut files: Vec<_> = paths.filter(|path| path.is_file()).collect();
    files.sort();
    assert!(!files.is_empty(), "{folder} is empty");
    files
}

fn relative(path: &Path) -> String {
    path.strip_prefix(root())
        .expect("inside the project")
        .display()
        .to_string()
}

#[test]
fn every_broken_board_is_refused_at_its_place() {
    for path in files("specs/broken") {
        let path = relative(&path);
        let output = ringrule(&["validate", &path, "--table", "tolerances/wdf.yaml"]);
        assert_eq!(output.status.code(), Some(2), "{path}");
        let name = Path::new(&path)
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        insta::assert_snapshot!(format!("board-{name}"), transcript(&output));
    }
}

#[test]
fn every_broken_table_is_refused_at_its_place() {
    for path in files("specs/broken/tables") {
        let path = relative(&path);
        let output = ringrule(&["validate", "specs/demo", "--table", &path]);
        assert_eq!(output.status.code(), Some(2), "{path}");
        let name = Path::new(&path)
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        insta::assert_snapshot!(format!("table-{name}"), transcript(&output));
    }
}

#[test]
fn every_broken_event_is_refused_at_its_place() {
    for path in files("specs/broken/events") {
        let path = relative(&path);
        let board = "specs/demo/01-round-to-rule.yaml";
        let table = "tolerances/wdf.yaml";
        let output = ringrule(&["report", board, "--table", table, "--event", &path]);
        assert_eq!(output.status.code(), Some(2), "{path}");
        assert!(output.stdout.is_empty(), "{path}");
        let name = Path::new(&path)
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        insta::assert_snapshot!(format!("event-{name}"), transcript(&output));
    }
}

#[test]
fn the_broken_files_have_one_fault_each_and_every_fault_has_a_file() {
    let refusal_of = |path: &Path| -> InvalidFile {
        let bytes = std::fs::read(path).expect("readable");
        let Ok(text) = String::from_utf8(bytes) else {
            return InvalidFile::unreadable("", "not UTF-8", "save as UTF-8");
        };
        let source = Source::new(path.display().to_string(), text);
        if path
            .parent()
            .is_some_and(|folder| folder.ends_with("tables"))
        {
            let InvalidFiles(mut all) =
                Table::read(source, &shelf_of(path)).expect_err("a broken table");
            assert_eq!(all.len(), 1, "{}", path.display());
            all.remove(0)
        } else {
            Board::read(source).expect_err("a broken board")
        }
    };
    let mut seen = BTreeSet::new();
    for path in files("specs/broken")
        .into_iter()
        .chain(files("specs/broken/tables"))
    {
        let invalid_file = refusal_of(&path);
        assert_eq!(
            invalid_file.diagnostics.len(),
            1,
            "{}: {:?}",
            path.display(),
            invalid_file.diagnostics
        );
        seen.extend(invalid_file.faults());
    }
    for fault in Fault::ALL {
        assert!(
            seen.contains(&fault),
            "no broken file shows `{}`",
            fault.code()
        );
    }
}
