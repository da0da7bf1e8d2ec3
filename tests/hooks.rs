//! What hooks run: files of others are passed over, and nothing that claims to be ours is.
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;

use common::{BOARD_R, ringrule};

/// A folder as a hook finds it: our files among others' (all invented).
fn repository() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in [
        (".pre-commit-config.yaml", "repos: []\n"),
        ("compose.yaml", "services: { web: { image: x } }\n"),
        ("several.yaml", "a: 1\n---\nb: 2\n"),
        ("prices.csv", "item,price\nflights,3\n"),
        ("board.yaml", BOARD_R),
        ("slip.yaml", "format: ringrule/bord/1\n"),
    ] {
        fs::write(folder.path().join(name), text).expect("written");
    }
    folder
}

fn run(folder: &Path, command: &[&str], names: &[&str]) -> (Option<i32>, String) {
    let paths = names.iter().map(|name| folder.join(name));
    let paths: Vec<String> = paths.map(|path| path.display().to_string()).collect();
    let paths: Vec<&str> = paths.iter().map(String::as_str).collect();
    let output = ringrule(&[command, &paths].concat());
    let said = [output.stdout, output.stderr].concat();
    (
        output.status.code(),
        String::from_utf8_lossy(&said).into_owned(),
    )
}

const FOREIGN: [&str; 4] = [
    ".pre-commit-config.yaml",
    "compose.yaml",
    "several.yaml",
    "prices.csv",
];

const COMMANDS: [&[&str]; 3] = [
    &["lint", "--only-ours", "--fail-at", "error"],
    &["lint", "--tidy", "--only-ours"],
    &["validate", "--only-ours", "--table", "wdf"],
];

#[test]
fn files_of_others_are_passed_over_and_ours_are_not() {
    let folder = repository();
    for command in COMMANDS {
        let (code, said) = run(folder.path(), command, &FOREIGN);
        assert_eq!(code, Some(0), "{command:?}: {said}");
        assert!(said.contains("4 files are passed over"), "{said}");
        let (code, said) = run(
            folder.path(),
            command,
            &[&FOREIGN[..], &["board.yaml"]].concat(),
        );
        assert_eq!(code, Some(0), "{command:?}: {said}");
        assert!(
            !said.contains("passed over") && !said.contains("compose"),
            "{said}"
        );
    }
    let (code, said) = run(folder.path(), &["lint"], &["compose.yaml"]);
    assert_eq!(code, Some(1), "{said}");
}

#[test]
fn a_slip_in_the_format_line_and_a_file_that_is_missing_are_told() {
    let folder = repository();
    for command in [COMMANDS[0], COMMANDS[2]] {
        for name in ["slip.yaml", "missing.yaml"] {
            let (code, said) = run(folder.path(), command, &[name]);
            assert!(matches!(code, Some(1 | 2)), "{command:?}: {said}");
            assert!(said.contains(name), "{said}");
        }
    }
}

#[test]
fn quiet_leaves_out_notes_and_nothing_that_is_wrong() {
    let folder = repository();
    let quiet = ["lint", "--only-ours", "--quiet"];
    assert_eq!(
        run(folder.path(), &quiet, &FOREIGN),
        (Some(0), "no file: nothing found\n".to_owned())
    );
    let (code, said) = run(folder.path(), &["validate", "--quiet"], &["board.yaml"]);
    assert_eq!(code, Some(2));
    assert!(said.contains("no tolerance table is named"), "{said}");
}

#[test]
fn colour_has_both_spellings() {
    let (code, said) = run(Path::new(""), &["tables", "--color", "never"], &[]);
    assert_eq!(code, Some(0), "{said}");
    let american = said;
    let (_, british) = run(Path::new(""), &["tables", "--colour", "never"], &[]);
    assert_eq!(american, british);
}
