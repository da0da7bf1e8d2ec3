//! Every remedy is right for the file or the value at hand.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;

use common::{ringrule, root};

const TABLE: &str = "tolerances/wdf.yaml";
const BOARD: &str = "specs/demo/01-round-to-rule.yaml";
const EVENT: &str = "specs/events/fenwick-lane-autumn.yaml";
const SHEET: &str = "specs/demo/sheets/fl-11-birch.csv";
const SETTINGS: &str = "specs/demo/ringrule.yaml";

/// What a run that ends with 2 says, in one line.
fn said(arguments: &[&str]) -> String {
    let output = ringrule(arguments);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    // Lint's findings are its result.
    let all = [output.stderr, output.stdout].concat();
    let all = String::from_utf8_lossy(&all).replace('│', " ");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn says(arguments: &[&str], wanted: &[&str], unwanted: &[&str]) {
    let said = said(arguments);
    for words in wanted {
        assert!(
            said.contains(words),
            "{arguments:?} lacks `{words}`: {said}"
        );
    }
    for words in unwanted {
        assert!(
            !said.contains(words),
            "{arguments:?} says `{words}`: {said}"
        );
    }
}

/// A file in a folder of its own, by its path.
fn file(folder: &Path, name: &str, content: &[u8]) -> String {
    let path = folder.join(name);
    fs::write(&path, content).expect("written");
    path.to_string_lossy().into_owned()
}

#[test]
fn a_file_of_another_kind_is_named_with_what_reads_it() {
    let folder = tempfile::tempdir().expect("a folder");
    // Invented, and nothing but the bytes by which programs know such files.
    let xlsx = file(
        folder.path(),
        "a.xlsx",
        b"PK\x03\x04\xff[Content_Types].xml xl/workbook.xml",
    );
    let ods = b"PK\x03\x04\xffmimetypeapplication/vnd.oasis.opendocument.spreadsheet";
    let ods = file(folder.path(), "a.ods", ods);
    let pdf = file(folder.path(), "a.pdf", b"%PDF-1.7\n\xff");
    let throws = file(folder.path(), "a.csv", b"x,y\n1,2\n3,5\n0,1\n");
    let findings = ringrule(&["validate", BOARD, "--table", TABLE, "--format", "json"]);
    let json = file(folder.path(), "a.json", &findings.stdout);
    let kinds = [
        (BOARD, "a board file", "ringrule validate"),
        (TABLE, "a tolerance table", "with `--table`"),
        (EVENT, "an event file", "with `--event`"),
        (SETTINGS, "a settings file", "with `--settings`"),
        (SHEET, "a filled sheet", "`ringrule pool`"),
        (&throws, "a file of throws", "with `--throws`"),
        (&xlsx, "a spreadsheet's workbook", "`ringrule intake`"),
        (&ods, "a spreadsheet's workbook", "`ringrule intake`"),
        (&pdf, "a PDF", "give a text file"),
        (
            &json,
            "a result that Ringrule printed",
            "the files that it was made from",
        ),
    ];
    // Each place for a file: the command, `?` for the file, and what it takes.
    let places: [(&[&str], &str); 13] = [
        (&["validate", "?", "--table", TABLE], "a board file"),
        (&["report", "?", "--table", TABLE], "a board file"),
        (&["draw", "?", "--table", TABLE], "a board file"),
        (&["compare", BOARD, "?"], "a board file"),
        (&["worksheet", "?", "--table", TABLE], "a board file"),
        (&["validate", BOARD, "--table", "?"], "a tolerance table"),
        (&["report", BOARD, "--table", "?"], "a tolerance table"),
        (&["draw", BOARD, "--table", "?"], "a tolerance table"),
        (
            &["worksheet", "--table", "?", "--mounting", "staples"],
            "a tolerance table",
        ),
        (
            &["report", BOARD, "--table", TABLE, "--event", "?"],
            "an event file",
        ),
        (&["pool", "?"], "a filled sheet"),
        (&["lint", BOARD, "--settings", "?"], "a settings file"),
        (
            &["compare", BOARD, BOARD, "--throws", "?"],
            "a file of throws",
        ),
    ];
    let mut tried = 0;
    for (command, takes) in places {
        for (file, kind, remedy) in kinds.iter().filter(|(_, kind, _)| *kind != takes) {
            // It reads workbooks too.
            if command.contains(&"pool") && *kind == "a spreadsheet's workbook" {
                continue;
            }
            let command: Vec<&str> = command
                .iter()
                .map(|&word| if word == "?" { file } else { word })
                .collect();
            let is = format!("this is {kind}");
            says(
                &command,
                &[&is, remedy],
                &["write `format", "UTF-8", "calliper"],
            );
            tried += 1;
        }
    }
    // Each takes one kind, and `pool` two files more.
    assert_eq!(tried, 13 * 10 - 13 - 2);
    says(
        &["lint", &xlsx],
        &["a spreadsheet's workbook", "`ringrule intake`"],
        &["UTF-8"],
    );
    // To lint, a text of another kind is a finding.
    let output = ringrule(&["lint", &throws]);
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stdout).contains("with `--throws`"));
}

#[test]
fn folders_are_only_advised_where_they_are_taken() {
    let commands: [&[&str]; 5] = [
        &["pool", "specs"],
        &["draw", "specs", "--table", TABLE],
        &["compare", BOARD, "specs"],
        &["validate", BOARD, "--table", "specs"],
        &["report", BOARD, "--table", TABLE, "--event", "specs"],
    ];
    for command in commands {
        says(
            command,
            &["this is a folder", "name the file itself"],
            &["may be named"],
        );
    }
    says(&["pool", "nowhere.csv"], &["check the path"], &["folder"]);
}

#[test]
fn a_share_without_its_sign_is_not_made_a_hundredth() {
    let compare = |metal| ["compare", BOARD, BOARD, "--metal", metal];
    says(&compare("0.3"), &["write `30 %`"], &["`0.3 %`"]);
    says(&compare("0.07"), &["write `7 %`"], &["`0.07 %`"]);
    says(&compare("30"), &["write `30 %`"], &[]);
    let folder = tempfile::tempdir().expect("a folder");
    let text = fs::read_to_string(root().join(BOARD)).expect("there");
    let text = text.replace("units: mm", "units: mm\nmetal: 0.3");
    let board = file(folder.path(), "fl-01.yaml", text.as_bytes());
    says(
        &["validate", &board, "--table", TABLE],
        &["write `30 %`"],
        &["\"0.3\""],
    );
}

#[test]
fn numbers_are_advised_as_they_are_to_be_written() {
    let compare = |option, value| ["compare", BOARD, BOARD, option, value];
    let literal = ["invalid float literal"];
    says(&compare("--spread", "12mm"), &["write `12`"], &literal);
    says(&compare("--spread", "12.5 mm"), &["write `12.5`"], &literal);
    says(&compare("--spread", "wide"), &["such as `12`"], &literal);
    let report = ["report", BOARD, "--table", TABLE, "--issued", "20.11.2026"];
    says(&report, &["such as `2026-11-25`"], &["four digit"]);
    says(&compare("--spread", "nan"), &["such as `12`"], &literal);
    says(&compare("--spread", "12,5"), &["write `12.5`"], &literal);
    says(&compare("--average", "100,5"), &["write `100.5`"], &literal);
    says(
        &compare("--player-average", "100,5"),
        &["write `100.5`"],
        &literal,
    );
}

#[test]
fn throws_that_cannot_be_used_say_what_is_missing() {
    let folder = tempfile::tempdir().expect("a folder");
    let compare = |throws| ["compare", BOARD, BOARD, "--throws", throws];
    let hits = file(folder.path(), "hits.csv", b"hit\nT20\n20\nT20\nS1\n5\n");
    says(&compare(&hits), &["`--at T20`"], &[]);
    let one = file(folder.path(), "one.csv", b"x,y\n1,2\n");
    says(
        &compare(&one),
        &["one.csv: too few throws", "at least 3"],
        &["correlation"],
    );
    let two = file(folder.path(), "two.csv", b"x,y\n1,2\n3,5\n");
    says(
        &compare(&two),
        &["two.csv: too few throws", "at least 3"],
        &["correlation"],
    );
    let aimed = [&compare(&one)[..], &["--at", "T20"]].concat();
    says(
        &aimed,
        &["too few throws", "at least 3"],
        &["correlation", "--at"],
    );
    // On one slanting line: there is a spread along it, and no error.
    let line = file(folder.path(), "line.csv", b"x,y\n1,1\n2,2\n5,5\n");
    let output = ringrule(&compare(&line));
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn a_gauge_in_a_sheet_is_asked_for_its_system() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = |unit: &str| {
        format!(
            "item,edge,unit,reading 1\nboard,,,A-1\nmounting,,,staples\nring wires,,{unit},16\n"
        )
    };
    for unit in ["", "mm"] {
        let sheet = file(folder.path(), "sheet.csv", sheet(unit).as_bytes());
        says(&["pool", &sheet], &["`16 SWG`"], &[]);
    }
}

#[test]
fn every_numeric_option_says_how_a_number_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let picture = folder.path().join("a.png").display().to_string();
    let options: [(&[&str], &str); 10] = [
        (&["compare", BOARD, BOARD, "--spread"], "`12.5`"),
        (&["compare", BOARD, BOARD, "--player-average"], "`12.5`"),
        (&["compare", BOARD, BOARD, "--average"], "`12.5`"),
        (&["compare", BOARD, BOARD, "--start"], "`501`"),
        (&["compare", BOARD, BOARD, "--metal"], "`30 %`"),
        (&["leg", BOARD, "--start"], "`501`"),
        (&["leg", BOARD, "--against"], "`12.5`"),
        (
            &["draw", BOARD, "--table", TABLE, "-o", &picture, "--width"],
            "from 100 to 3200, such as `1600`",
        ),
        (
            &["validate", BOARD, "--table", TABLE, "--draws"],
            "from 1000 to 1000000, such as `100000`",
        ),
        (
            &[
                "validate",
                BOARD,
                "--table",
                TABLE,
                "--draws=1000",
                "--seed",
            ],
            "from 0 up, such as `7`",
        ),
    ];
    let raw = [
        "invalid digit",
        "invalid float",
        "unexpected argument",
        "number too",
    ];
    for (option, example) in options {
        let says = |value, wanted: &[&str]| says(&[option, &[value]].concat(), wanted, &raw);
        for value in ["abc", "nan", "1e400"] {
            says(value, &[example]);
        }
        // What is wrong with a negative number is the option's own business.
        for value in ["12mm", "-1", "99999999999999999999"] {
            says(value, &[]);
        }
    }
    let draw = ["draw", BOARD, "--table", TABLE, "-o", &picture, "--width"];
    says(&[&draw[..], &["1200px"]].concat(), &["write `1200`"], &raw);
    // A number that is out of range without its unit too is not advised.
    says(
        &[&draw[..], &["10mm"]].concat(),
        &["from 100 to 3200"],
        &["write `10`"],
    );
}

#[test]
fn a_decimal_comma_is_not_taken_for_a_list() {
    let compare = |option, value| ["compare", BOARD, BOARD, option, value];
    says(
        &compare("--start", "501,5"),
        &[
            "no decimals",
            "write `501` for one total",
            "give the option twice",
        ],
        &[],
    );
    for option in ["--spread", "--average"] {
        says(
            &compare(option, "12,5"),
            &["`12.5` if they are one", "`12,5.0` if they are two"],
            &[],
        );
    }
    for value in ["12,5.0", "10,14", "10,14,0.2"] {
        let output = ringrule(&compare("--spread", value));
        assert_eq!(output.status.code(), Some(0), "{value}");
    }
    let twice = [&compare("--start", "501")[..], &["--start", "5"]].concat();
    assert_eq!(ringrule(&twice).status.code(), Some(0));
}

#[test]
fn the_names_of_files_are_never_broken() {
    let folder = tempfile::tempdir().expect("a folder");
    let long = [
        "a-board-with-a-name",
        "of-many-words-and",
        "more-hyphens-than-a-line-has.yaml",
    ];
    let name = long.join("-");
    let path = file(folder.path(), &name, b"format: ringrule/board/1\n");
    let output = ringrule(&["validate", &path, "--table", TABLE]);
    let text = String::from_utf8_lossy(&output.stderr);
    assert!(text.contains(&name), "{text}");
    let gone = folder.path().join("nowhere").join(&name);
    let gone = gone.display().to_string();
    let output = ringrule(&["validate", &gone, "--table", TABLE]);
    let text = String::from_utf8_lossy(&output.stderr);
    assert!(text.contains(&gone), "{text}");
}

#[cfg(unix)]
#[test]
fn boards_are_compared_under_any_name() {
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder
        .path()
        .join(std::ffi::OsStr::from_bytes(b"fl-\xff.yaml"));
    fs::copy(root().join(BOARD), &path).expect("copied");
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(["compare", BOARD])
        .arg(&path)
        .current_dir(root())
        .output()
        .expect("the program starts");
    assert_eq!(output.status.code(), Some(0), "{output:?}");
}
