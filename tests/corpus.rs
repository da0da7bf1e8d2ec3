//! Every file in `tests/corpus` is refused as a user would have it: exit code 2, at a place,
//! with what helps, nothing written, and no more said than anybody reads.
//!
//! The folders are named by what reads their files. The files are invented, have one fault
//! each unless their name says otherwise, and are kept byte for byte (`.gitattributes`): some
//! hold what no editor shows. What each of them is told is in one snapshot a folder.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use common::{json, root};
use tempfile::TempDir;

/// Bytes that a run may print of one file. House rule: a thousand lines.
const MOST_SAID: usize = 100_000;

/// Problems of a file that its snapshot shows; the others are counted.
const SHOWN: usize = 2;

/// Characters of a message and of a remedy there.
const WIDTH: usize = 120;

/// The command that reads the files of a folder; records come on standard input.
fn line(kind: &str, file: &str) -> String {
    match kind {
        "board" => format!("validate {file} --table wdf"),
        "table" => format!("validate one.yaml --table {file}"),
        "event" => format!("report one.yaml --table wdf --event {file} -o report.html"),
        "settings" => format!("lint one.yaml --settings {file}"),
        "sheet" => format!("pool {file} -o pooled.yaml"),
        "intake" => format!("intake {file} --into boards"),
        "points" => format!("digitise {file} -o digitised.yaml --also residuals.svg"),
        "throws" => format!("compare one.yaml two.yaml --throws {file} --at T20 -o compared.txt"),
        "records" => "validate --records --table wdf".to_owned(),
        other => panic!("nothing reads `{other}`"),
    }
}

/// A folder with two sound boards.
fn scratch() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (from, to) in [
        ("01-round-to-rule.yaml", "one.yaml"),
        ("02-strip-to-rule.yaml", "two.yaml"),
    ] {
        let from = root().join("specs/demo").join(from);
        fs::copy(from, folder.path().join(to)).expect("copied");
    }
    folder
}

fn run(folder: &Path, line: &str, stdin: Stdio) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(line.split_whitespace())
        .current_dir(folder)
        .stdin(stdin)
        .env_remove("CLICOLOR_FORCE")
        .env_remove("COLUMNS")
        .env("NO_COLOR", "1")
        .output()
        .expect("the program starts")
}

fn names(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<_> = entries.map(|entry| entry.expect("there").path()).collect();
    names.sort();
    names
}

/// One thing that a user is told.
struct Told {
    /// A line and a column, a cell, or nothing where it is the file as a whole.
    place: String,
    message: String,
    remedy: String,
}

/// What follows the name of the file in a place.
fn within<'a>(place: &'a str, file: &str) -> &'a str {
    let rest = place.strip_prefix(file);
    let rest = rest.unwrap_or_else(|| panic!("{place} does not name {file}"));
    rest.trim_start_matches(':')
}

/// What a terminal shows, lines that were wrapped put together again.
fn told(said: &str, file: &str) -> Vec<Told> {
    let mut all: Vec<Told> = Vec::new();
    let mut of_remedy = false;
    for line in said.lines() {
        if let Some(message) = line.strip_prefix("  × ") {
            let (place, message) = (String::new(), message.to_owned());
            let remedy = String::new();
            all.push(Told {
                place,
                message,
                remedy,
            });
            of_remedy = false;
            continue;
        }
        let Some(last) = all.last_mut() else { continue };
        if let Some(more) = line.strip_prefix("  │ ") {
            last.message = format!("{} {}", last.message, more.trim());
        } else if let Some((_, place)) = line.split_once("─[") {
            if last.place.is_empty() {
                place.trim_end_matches(']').clone_into(&mut last.place);
            }
        } else if let Some(remedy) = line.strip_prefix("  help: ") {
            remedy.clone_into(&mut last.remedy);
            of_remedy = true;
        } else if let Some(more) = line.strip_prefix("        ").filter(|_| of_remedy) {
            last.remedy = format!("{} {}", last.remedy, more.trim());
        } else {
            of_remedy = false;
        }
    }
    for one in &mut all {
        // Where no lines are shown, the place stands before the message.
        if let Some((place, message)) = one.message.split_once(": error ") {
            (one.place, one.message) = (place.to_owned(), message.to_owned());
        } else {
            let message = one.message.strip_prefix("error ");
            one.message = message.expect("an error").to_owned();
        }
        one.place = within(&one.place, file).to_owned();
    }
    all
}

/// The same of records, which are lines of JSON.
fn told_of_records(out: &str) -> Vec<Told> {
    let mut all = Vec::new();
    for line in out.lines() {
        let record = json(line);
        let invalid = &record["invalid"];
        let text = |of: &serde_json::Value| of.as_str().expect("a text").to_owned();
        let file = text(&invalid["file"]);
        for problem in invalid["problems"].as_array().expect("problems") {
            let place = &problem["place"];
            assert_eq!(place["file"], invalid["file"]);
            all.push(Told {
                place: format!("{file}:{}:{}", place["line"], place["column"]),
                message: format!("{}: {}", text(&problem["code"]), text(&problem["message"])),
                remedy: text(&problem["remedy"]),
            });
        }
    }
    all
}

/// What of a text fits into a snapshot, with everything that nobody sees named.
fn short(text: &str) -> String {
    let shown: String = text.chars().take(WIDTH).collect();
    let cut = if shown.len() < text.len() { "…" } else { "" };
    let seen = |c: char| {
        if c.is_control() {
            c.escape_unicode().to_string()
        } else {
            c.to_string()
        }
    };
    shown.chars().map(seen).collect::<String>() + cut
}

/// Runs one file, checks what holds of every refusal, and returns what it was told.
fn refusal(kind: &str, path: &Path) -> Vec<Told> {
    let file = path.file_name().expect("a name").to_string_lossy();
    let at = format!("{kind}/{file}");
    let folder = scratch();
    fs::copy(path, folder.path().join(&*file)).expect("copied");
    let before = names(folder.path());
    let stdin = if kind == "records" {
        Stdio::from(File::open(path).expect("opened"))
    } else {
        Stdio::null()
    };
    let output = run(folder.path(), &line(kind, &file), stdin);
    let [out, err] = [&output.stdout, &output.stderr].map(|text| {
        let text = std::str::from_utf8(text);
        text.unwrap_or_else(|error| panic!("{at}: {error}"))
    });
    assert_eq!(output.status.code(), Some(2), "{at}\n{out}{err}");
    assert_eq!(names(folder.path()), before, "{at} left something behind");
    let bytes = out.len() + err.len();
    assert!(bytes <= MOST_SAID, "{at} made {bytes} bytes");
    // A file must not move the cursor, nor turn what a reader sees.
    let harm = |c: char| {
        c != '\n' && c.is_control()
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    assert!(!err.contains(harm), "{at}: {err:?}");
    assert!(!out.contains(harm), "{at}: {out:?}");
    let told = if kind == "records" {
        told_of_records(out)
    } else {
        assert!(out.is_empty(), "{at} printed a result: {out}");
        told(err, &file)
    };
    if told.is_empty() {
        // Nothing is wrong with a line of it: it holds nothing to use.
        let nothing = ["there was no record to check", "nothing was written"];
        assert!(
            nothing.iter().any(|words| err.contains(words)),
            "{at}: {err}"
        );
    }
    for one in &told {
        assert!(
            !one.message.is_empty() && !one.remedy.is_empty(),
            "{at}: {err}"
        );
    }
    told
}

/// Every file of a folder, and what it was told.
fn transcript(kind: &str) -> String {
    let mut all = String::new();
    for path in names(&root().join("tests/corpus").join(kind)) {
        let told = refusal(kind, &path);
        let name = path.file_name().expect("a name").to_string_lossy();
        all += &format!("{name}\n");
        for one in told.iter().take(SHOWN) {
            let place = if one.place.is_empty() {
                "whole"
            } else {
                &one.place
            };
            all += &format!("  {} {}\n", short(place), short(&one.message));
            all += &format!("    {}\n", short(&one.remedy));
        }
        if told.len() > SHOWN {
            all += &format!("  and {} more\n", told.len() - SHOWN);
        }
    }
    all
}

#[test]
fn boards() {
    insta::assert_snapshot!("board", transcript("board"));
}

#[test]
fn tables() {
    insta::assert_snapshot!("table", transcript("table"));
}

#[test]
fn events() {
    insta::assert_snapshot!("event", transcript("event"));
}

#[test]
fn settings() {
    insta::assert_snapshot!("settings", transcript("settings"));
}

#[test]
fn sheets() {
    insta::assert_snapshot!("sheet", transcript("sheet"));
}

#[test]
fn workbooks() {
    insta::assert_snapshot!("intake", transcript("intake"));
}

#[test]
fn points() {
    insta::assert_snapshot!("points", transcript("points"));
}

#[test]
fn throws() {
    insta::assert_snapshot!("throws", transcript("throws"));
}

#[test]
fn records() {
    insta::assert_snapshot!("records", transcript("records"));
}

/// What is no file that can be read, wherever a file is asked for.
#[test]
#[cfg(unix)]
fn paths() {
    let kinds = [
        "board", "table", "event", "settings", "sheet", "intake", "points", "throws",
    ];
    for kind in kinds {
        let folder = scratch();
        fs::create_dir(folder.path().join("folder.yaml")).expect("made");
        std::os::unix::fs::symlink("loop.yaml", folder.path().join("loop.yaml")).expect("linked");
        let before = names(folder.path());
        for name in [
            "missing.yaml",
            "folder.yaml",
            "loop.yaml",
            "one.yaml/two.yaml",
        ] {
            let line = line(kind, name);
            let output = run(folder.path(), &line, Stdio::null());
            let said = String::from_utf8(output.stderr).expect("text");
            assert_eq!(output.status.code(), Some(2), "{line}\n{said}");
            assert!(output.stdout.is_empty(), "{line}");
            // A folder of boards is looked into, and this one has none.
            assert!(said.contains(name), "{line}\n{said}");
            assert_eq!(names(folder.path()), before, "{line}");
        }
    }
}
