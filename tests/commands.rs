//! Whole commands, run as a user runs them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{ringrule, root, transcript};

const WDF: &str = "tolerances/wdf.yaml";

#[test]
fn the_main_job_on_the_demo() {
    let output = ringrule(&["validate", "specs/demo", "--table", WDF]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn the_demo_by_the_house_rules_of_its_league() {
    let output = ringrule(&[
        "validate",
        "specs/demo",
        "--table",
        "tolerances/fenwick-lane.yaml",
    ]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn one_board_with_every_check() {
    let board = "specs/demo/02-strip-to-rule.yaml";
    let output = ringrule(&["validate", board, "--table", WDF, "--show", "everything"]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn verdicts_alone() {
    let output = ringrule(&[
        "validate",
        "specs/demo",
        "--table",
        WDF,
        "--show",
        "verdicts",
    ]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn the_answer_for_the_evening_by_venue() {
    let output = ringrule(&["validate", "specs/demo", "-t", WDF, "--show", "venues"]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn an_old_board_beside_the_modern_nominal_board() {
    let board = "specs/demo/01-round-to-rule.yaml";
    let output = ringrule(&["validate", board, "--table", WDF, "--nominal", "embedded"]);
    insta::assert_snapshot!(transcript(&output));
}

#[test]
fn findings_as_json() {
    let board = "specs/demo/03-narrow-treble.yaml";
    let output = ringrule(&["validate", board, "--table", WDF, "--format", "json"]);
    assert_eq!(output.status.code(), Some(1));
    // Rounded on purpose: the last digits of a double are no promise.
    let mut json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    round(&mut json);
    insta::assert_snapshot!(format!("{json:#}"));
}

fn round(json: &mut serde_json::Value) {
    match json {
        serde_json::Value::Number(number) if number.is_f64() => {
            let value = number.as_f64().expect("a double");
            let rounded = (value * 1e6).round() / 1e6 + 0.0;
            *json = serde_json::json!(rounded);
        }
        serde_json::Value::Array(items) => items.iter_mut().for_each(round),
        serde_json::Value::Object(map) => map.values_mut().for_each(round),
        _ => {}
    }
}

#[test]
fn json_is_one_document_even_with_refused_files() {
    let broken = "specs/broken/unknown-key.yaml";
    let output = ringrule(&[
        "validate",
        broken,
        "specs/demo",
        "--table",
        WDF,
        "--format",
        "json",
    ]);
    assert_eq!(output.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("one document");
    assert_eq!(json["boards"].as_array().map(Vec::len), Some(14));
    assert_eq!(
        json["invalid_files"][0]["problems"][0]["code"],
        "unknown-key"
    );
    assert_eq!(json["invalid_files"][0]["problems"][0]["place"]["line"], 12);
}

#[test]
fn exit_codes_follow_what_is_accepted() {
    let code = |arguments: &[&str]| ringrule(arguments).status.code();
    let good = "specs/demo/01-round-to-rule.yaml";
    let unchecked = "specs/demo/08-half-measured.yaml";
    let contradicted = "specs/demo/07-width-contradicts-radii.yaml";
    let narrow = "specs/demo/03-narrow-treble.yaml";
    assert_eq!(code(&["validate", good, "--table", WDF]), Some(0));
    assert_eq!(code(&["validate", unchecked, "--table", WDF]), Some(1));
    assert_eq!(
        code(&[
            "validate",
            unchecked,
            "--table",
            WDF,
            "--accept",
            "unchecked"
        ]),
        Some(0)
    );
    assert_eq!(
        code(&[
            "validate",
            unchecked,
            "--table",
            WDF,
            "--accept",
            "inconclusive"
        ]),
        Some(1)
    );
    assert_eq!(code(&["validate", contradicted, "--table", WDF]), Some(1));
    let accept = ["--accept", "inconclusive"];
    assert_eq!(
        code(&[
            "validate",
            contradicted,
            "--table",
            WDF,
            accept[0],
            accept[1]
        ]),
        Some(0)
    );
    let both = "inconclusive,unchecked";
    assert_eq!(
        code(&["validate", narrow, "--table", WDF, "--accept", both]),
        Some(1)
    );
}

#[test]
fn nothing_to_check_is_no_success() {
    let empty = tempfile::tempdir().expect("a folder");
    let path = empty.path().to_string_lossy().into_owned();
    let output = ringrule(&["validate", &path, "--table", WDF]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    assert!(String::from_utf8_lossy(&output.stderr).contains("no .yaml or .yml file"));

    std::fs::write(empty.path().join("t.yaml"), "format: ringrule/table/1\n").expect("written");
    let output = ringrule(&["validate", &path, "--table", WDF]);
    assert_eq!(output.status.code(), Some(2), "a folder with only a table");
}

#[test]
fn what_is_not_there_says_so() {
    let unreadable = "error unreadable: this file cannot be read: No such file";
    for (arguments, expected) in [
        ("specs/nowhere.yaml --table tolerances/wdf.yaml", unreadable),
        ("specs/demo --table tolerances/nowhere.yaml", unreadable),
        ("--table tolerances/wdf.yaml", "were not provided: <PATH>"),
        (
            "specs/demo",
            "no tolerance table is named: add `--table wdf`",
        ),
        (
            "tolerances/wdf.yaml --table tolerances/wdf.yaml",
            "this is a tolerance table, not a board file",
        ),
    ] {
        let words = arguments.split(' ').collect::<Vec<_>>();
        let output = ringrule(&[&["validate"][..], &words].concat());
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        let said = String::from_utf8(output.stderr).expect("text");
        // Lines are broken where the width asks for it.
        let words: Vec<&str> = said
            .split_whitespace()
            .filter(|word| *word != "│")
            .collect();
        let said = words.join(" ");
        assert!(said.contains(expected), "{arguments:?}: {said}");
    }
}

#[test]
fn a_broken_file_does_not_hide_the_others() {
    let broken = "specs/broken/tag.yaml";
    let good = "specs/demo/01-round-to-rule.yaml";
    let output = ringrule(&["validate", broken, good, "--table", WDF]);
    assert_eq!(output.status.code(), Some(2));
    let text = String::from_utf8_lossy(&output.stdout);
    assert!(
        text.contains("FL-01") && text.contains("1 file could not be used"),
        "{text}"
    );
}

#[test]
fn all_problems_of_a_file_in_one_run() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("many.yaml");
    let text = std::fs::read_to_string(root().join("specs/demo/01-round-to-rule.yaml"))
        .expect("readable")
        .replace("mounting: staples\n", "")
        .replace("rings: 16 SWG", "rings: 16")
        .replace("treble_outer:", "treble_outter:")
        .replace("31.80, edge: inside", "31.80, edge: inner")
        .replace("160.374", "\"160,374 mm\"");
    std::fs::write(&path, text).expect("written");
    let output = ringrule(&["validate", &path.to_string_lossy(), "--table", WDF]);
    let said = String::from_utf8_lossy(&output.stderr)
        .replace(&*folder.path().to_string_lossy(), "FOLDER");
    insta::assert_snapshot!(said);
}

#[test]
fn text_from_a_file_cannot_move_the_terminal() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("a.yaml");
    let text = std::fs::read_to_string(root().join("specs/demo/01-round-to-rule.yaml"))
        .expect("readable")
        .replace("Village hall", "\\e[2J\\u202Eevil");
    std::fs::write(&path, &text).expect("written");
    let output = ringrule(&["validate", &path.to_string_lossy(), "--table", WDF]);
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("\\u{1b}[2J\\u{202e}evil"), "{said}");
    assert!(!said.contains('\u{1b}') && !said.contains('\u{202e}'));
    // In a diagnostic's own lines, too.
    std::fs::write(&path, text.replace("units: mm", "units: \"\u{202e}mm\"")).expect("written");
    let output = ringrule(&["validate", &path.to_string_lossy(), "--table", WDF]);
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        !said.contains('\u{202e}') && !said.contains('\u{1b}'),
        "{said}"
    );
}

#[test]
fn colour_is_there_when_asked_for_and_only_then() {
    let arguments = [
        "validate",
        "specs/demo/01-round-to-rule.yaml",
        "--table",
        WDF,
    ];
    let plain = ringrule(&arguments);
    assert!(!plain.stdout.contains(&0x1b));
    let coloured = ringrule(&[&arguments[..], &["--colour", "always"]].concat());
    assert!(coloured.stdout.contains(&0x1b), "an option beats NO_COLOR");
}

#[test]
fn help_texts() {
    for (name, arguments) in [
        ("help", &["--help"][..]),
        ("help-validate", &["validate", "--help"][..]),
        ("help-schema", &["schema", "--help"][..]),
        ("help-lot", &["lot", "--help"][..]),
    ] {
        insta::assert_snapshot!(name, transcript(&ringrule(arguments)));
    }
}

#[test]
fn the_licences_are_those_of_everything_that_is_in_the_program() {
    let output = ringrule(&["--licences"]);
    assert_eq!(output.status.code(), Some(0));
    let said = String::from_utf8(output.stdout).expect("text");
    let text = |path: &str| std::fs::read_to_string(root().join(path)).expect("readable");
    for licence in ["LICENSE", "src/report/fonts/LICENSE"] {
        // Without blanks, which the list does not keep at the ends of lines.
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words(&said).contains(&words(&text(licence))), "{licence}");
    }
    let lock = text("Cargo.lock");
    let locked: Vec<_> = lock
        .split("[[package]]\nname = \"")
        .skip(1)
        .filter_map(|rest| {
            let (name, rest) = rest.split_once("\"\nversion = \"")?;
            Some(format!("{name} {}", rest.split('"').next()?))
        })
        .collect();
    let list = said.split("Crates in the program").nth(1).expect("a list");
    let list = list.split("-----").next().expect("a list");
    let listed: Vec<_> = list
        .lines()
        .filter_map(|line| line.split(": ").next())
        .collect();
    let listed: Vec<_> = listed.into_iter().filter(|name| !name.is_empty()).collect();
    assert!(listed.len() > 100, "{} crates", listed.len());
    for name in &listed {
        let there = locked.iter().any(|one| one == name);
        assert!(there, "{name} is not in Cargo.lock: run .ci/licences");
    }
    let manifest = text("Cargo.toml");
    let needed = manifest
        .split("\n[dependencies]\n")
        .nth(1)
        .expect("a table");
    let needed = needed.split("\n[").next().expect("a table");
    for line in needed.lines().filter(|line| line.contains(" = ")) {
        // One crate is known here by another name than its own.
        let name = line.split(" = ").next().unwrap_or_default();
        let name = if name == "serde_yaml" {
            "serde-saphyr"
        } else {
            name
        };
        let there = listed.iter().any(|one| one.split(' ').next() == Some(name));
        assert!(there, "{name} is not listed: run .ci/licences");
    }
}

#[test]
fn text_fits_the_terminal() {
    for (told, wide) in [("60", 60), ("20", 60), ("72", 72), ("500", 96)] {
        let output = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
            .args([
                "validate",
                "specs/demo",
                "--table",
                "tolerances/fenwick-lane.yaml",
            ])
            .args([
                "--show",
                "everything",
                "--nominal",
                "staples",
                "--draws",
                "1000",
            ])
            .current_dir(common::root())
            .env("COLUMNS", told)
            .env("NO_COLOR", "1")
            .output()
            .expect("the program starts");
        let text = String::from_utf8(output.stdout).expect("text");
        assert!(text.contains("does not conform"), "{text}");
        for line in text.lines() {
            // A place or a name that is longer than the line is never broken.
            let words = line.trim_start();
            let one_word = !words.contains(' ') || line.contains(".yaml");
            assert!(line.chars().count() <= wide || one_word, "{told}: {line}");
        }
    }
}

#[test]
fn text_in_a_file_is_as_wide_whatever_the_terminal() {
    let folder = tempfile::tempdir().expect("a folder");
    for (command, table) in [("validate", &["--table", WDF][..]), ("lint", &[])] {
        let written = |told: &str| {
            let file = folder.path().join(format!("{command}-{told}.txt"));
            let output = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
                .args([command, "specs/demo", "--also"])
                .arg(&file)
                .args(table)
                .current_dir(root())
                .env("COLUMNS", told)
                .env("NO_COLOR", "1")
                .output()
                .expect("the program starts");
            let text = std::fs::read_to_string(&file).expect("written");
            (text, String::from_utf8(output.stdout).expect("text"))
        };
        // 96 columns are the usual width, 60 the least: house rules.
        let ((usual, wide_screen), (file, narrow_screen)) = (written("96"), written("60"));
        assert!(!usual.is_empty());
        assert_eq!(file, usual, "{command}");
        assert_eq!(wide_screen, usual, "{command}");
        if command == "validate" {
            assert_ne!(narrow_screen, usual);
        }
    }
}
