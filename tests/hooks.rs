//! What hooks and hosts make of a run: files of others are passed over, and nothing that
//! claims to be ours is; a path's spelling and a remark change no result.
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;

use common::{BOARD_R, printed, ringrule};

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

#[test]
fn the_spelling_of_a_path_changes_no_fingerprint_and_no_annotation() {
    let file = "specs/demo/03-narrow-treble.yaml";
    for format in ["sarif", "github", "azure", "gitlab"] {
        let run = |path: &str| {
            let run = ["validate", path, "-t", "tolerances/wdf.yaml"];
            printed(&[&run[..], &["--format", format]].concat())
        };
        let plain = run(file);
        assert!(plain.contains(file), "{format}");
        assert_eq!(plain, run(&format!("./{file}")), "{format}");
        assert_eq!(
            plain,
            run("specs/./demo//03-narrow-treble.yaml"),
            "{format}"
        );
    }
}

#[test]
fn junit_fails_no_more_than_the_run_and_has_only_attributes_of_the_usual_schema() {
    let lint = |fail_at: &str| {
        // Invented: a file with warnings and notes, and no error.
        let run = ["lint", "tests/fixtures/board-r.yaml"];
        let output = ringrule(&[&run[..], &["--format", "junit", "--fail-at", fail_at]].concat());
        let text = String::from_utf8(output.stdout).expect("UTF-8");
        let (_, head) = text.split_once("<testsuites").expect("a report");
        assert!(!head.split_once('>').expect("a tag").0.contains("skipped"));
        let report = quick_junit::Report::deserialize_from_str(&text).expect("JUnit");
        let failures = report.test_suites.iter().map(|suite| suite.failures);
        (output.status.code(), failures.sum::<usize>())
    };
    let (code, failures) = lint("error");
    assert_eq!((code, failures), (Some(0), 0));
    let (code, failures) = lint("note");
    assert_eq!(code, Some(1));
    assert!(failures > 0);
}
