//! Files from strangers: what they may not do to a terminal, to the host of a job, to a
//! spreadsheet, or to memory.
#![allow(clippy::expect_used, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use common::{BOARD_R, printed, ringrule, root};

fn folder(files: &[(&str, String)]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in files {
        fs::write(folder.path().join(name), text).expect("written");
    }
    folder
}

fn in_folder(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("it runs")
}

fn said(output: &Output) -> String {
    let both = [output.stdout.clone(), output.stderr.clone()].concat();
    String::from_utf8(both).expect("text")
}

/// Whether a host of jobs would take a line for a command to it (from memory: what begins
/// with two colons, white space aside, or holds `##[` or `##vso[`).
fn commands(text: &str) -> Vec<&str> {
    let is_command = |line: &&str| {
        line.trim_start().starts_with("::") || line.contains("##[") || line.contains("##vso[")
    };
    text.lines().filter(is_command).collect()
}

#[test]
fn no_name_and_no_text_is_a_command_to_a_host() {
    let named = |what: &str| {
        BOARD_R
            .replace("id: R", &format!("id: R, name: \"{what}\""))
            .replace("outer_bull", "outer_bul")
    };
    let name = "::error::x.yaml";
    let folder = folder(&[
        (name, BOARD_R.to_owned()),
        ("a ::stop b.yaml", named("##vso[task] ::warning::y")),
        ("c.yaml", named("\\n::set::z")),
        (
            "tidy.yaml",
            format!("# ::notice::q\n{}", BOARD_R.replace("16 SWG", "16swg")),
        ),
    ]);
    for arguments in [
        &["validate", ".", "--table", "wdf"][..],
        &["validate", ".", "--table", "wdf", "--show", "venues"],
        &["validate", ".", "--table", "wdf", "--format", "csv"],
        &["validate", ".", "--table", "wdf", "--format", "junit"],
        &["lint", "."],
        &["lint", ".", "--format", "csv"],
        &["lint", "tidy.yaml", "--tidy", "--preview"],
        &["compare", name, name, "--spread", "12"],
        &["draw", name, "--what", "::error::z"],
        &["draw", "\n::error::z"],
        &["worksheet", "--table", "\n::error::z"],
        &["\n::error::z"],
    ] {
        let said = said(&in_folder(folder.path(), arguments));
        assert!(!said.is_empty(), "{arguments:?}");
        let found = commands(&said);
        assert!(found.is_empty(), "{arguments:?}: {found:?}");
    }
}

#[test]
fn an_argument_with_an_escape_is_printed_without_it() {
    for arguments in [
        &["validate", "--fo\u{1b}[31mo"][..],
        &["draw", "x", "--what", "\u{9b}31m"],
        &["\u{202e}etadilav"],
    ] {
        let output = ringrule(arguments);
        assert_eq!(output.status.code(), Some(2));
        let said = said(&output);
        assert!(said.contains("\\u{"), "{said}");
        assert!(!said.contains(['\u{1b}', '\u{9b}', '\u{202e}']), "{said}");
    }
}

#[test]
fn a_name_with_a_new_line_forges_no_head_of_a_difference() {
    let untidy = BOARD_R.replace("16 SWG", "16swg");
    let folder = folder(&[("n\n+++ evil.yaml", untidy)]);
    let output = in_folder(folder.path(), &["lint", ".", "--tidy", "--preview"]);
    let said = said(&output);
    let heads = said.lines().filter(|line| line.starts_with("+++"));
    assert_eq!(heads.count(), 1, "{said}");
    assert!(said.contains("n\\u{a}+++ evil.yaml"), "{said}");
}

#[test]
fn a_file_of_carriage_returns_alone_is_refused_at_the_first() {
    let folder = folder(&[("old.yaml", BOARD_R.replace('\n', "\r"))]);
    let output = in_folder(folder.path(), &["validate", "old.yaml", "--table", "wdf"]);
    assert_eq!(output.status.code(), Some(2));
    let said = said(&output);
    assert!(said.contains("a carriage return alone"), "{said}");
}

#[test]
fn a_last_line_without_an_end_is_told() {
    let folder = folder(&[
        ("cut.yaml", BOARD_R.trim_end().to_owned()),
        ("whole.yaml", BOARD_R.to_owned()),
    ]);
    let note = "the last line of cut.yaml has no end";
    let said = |name| {
        let arguments = ["validate", name, "--table", "wdf"];
        said(&in_folder(folder.path(), &arguments))
    };
    assert!(said("cut.yaml").contains(note));
    assert!(!said("whole.yaml").contains("has no end"));
}

/// Kibibytes that a run took at most, by the system's own account.
#[cfg(target_os = "linux")]
fn peak(folder: &Path, arguments: &[&str]) -> (u64, Output) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_ringrule"))
        .args(arguments)
        .current_dir(folder)
        .stdout(fs::File::create(folder.join("out")).expect("a file"))
        .stderr(fs::File::create(folder.join("err")).expect("a file"))
        .spawn()
        .expect("it starts");
    let status = format!("/proc/{}/status", child.id());
    let mut most = 0;
    loop {
        let told = fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kib = line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok());
        most = most.max(kib.unwrap_or(0));
        if let Some(status) = child.try_wait().expect("a child") {
            let read = |name| fs::read(folder.join(name)).expect("a file");
            let output = Output {
                status,
                stdout: read("out"),
                stderr: read("err"),
            };
            return (most, output);
        }
        std::thread::sleep(std::time::Duration::from_millis(2));
    }
}

/// Small files that cost hundreds of megabytes, of memory or of output, until each had a
/// budget.
#[cfg(target_os = "linux")]
#[test]
fn a_small_file_costs_little() {
    let table = |count: usize| {
        let limit = |nth| {
            format!(
                "  l{nth}: {{ measurand: treble.width, edge: inside, tolerance: {{ min: 7.8 mm }} }}\n"
            )
        };
        let limits: String = (0..count).map(limit).collect();
        format!(
            "format: ringrule/table/1\ntitle: T\nsource: {{ document: T, provenance: invented }}\n\
             limits:\n{limits}"
        )
    };
    let comments = "# ringrule: waive missing-date because x\n".repeat(24_000);
    let folder = folder(&[
        ("limits.yaml", table(1_500)),
        ("alike.yaml", table(200)),
        ("comments.yaml", format!("{comments}{BOARD_R}")),
        (
            "id.yaml",
            BOARD_R.replace("id: R", &format!("id: {}", "R".repeat(1_000_000))),
        ),
        (
            "marks.yaml",
            BOARD_R.replace("id: R", &format!("id: \"R{}\"", "\u{301}".repeat(500_000))),
        ),
        ("line.yaml", format!("{{ {} }}", "k: 1, ".repeat(9_000))),
    ]);
    let runs: [&[&str]; 7] = [
        &["lint", "limits.yaml"],
        &["lint", "alike.yaml"],
        &["lint", "comments.yaml"],
        &["report", "id.yaml", "--table", "wdf", "-o", "id.pdf"],
        &["report", "marks.yaml", "--table", "wdf", "-o", "marks.pdf"],
        &["lint", "line.yaml"],
        &["validate", "line.yaml", "--table", "wdf"],
    ];
    for arguments in runs {
        let (kib, output) = peak(folder.path(), arguments);
        assert!(kib > 0 && kib < 200 * 1024, "{arguments:?}: {kib} KiB");
        let bytes = output.stdout.len() + output.stderr.len();
        assert!(bytes < 200_000, "{arguments:?}: {bytes} bytes");
        if !arguments.contains(&"alike.yaml") && !arguments.contains(&"comments.yaml") {
            assert_ne!(output.status.code(), Some(0), "{arguments:?}");
        }
    }
}

#[test]
fn a_picture_has_the_size_that_memory_allows() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("x.png").display().to_string();
    let board = root().join("specs/demo/03-narrow-treble.yaml");
    let board = board.display().to_string();
    let output = ringrule(&[
        "draw", &board, "--table", "wdf", "-o", &path, "--width", "3201",
    ]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("to 3200"), "{}", said(&output));
}

#[test]
fn a_formula_behind_a_semicolon_is_none() {
    let text = BOARD_R.replace("id: R", "id: R, venue: \"a;=1+1\"");
    let folder = folder(&[("b.yaml", text)]);
    let path = folder.path().join("b.yaml").display().to_string();
    let rows = printed(&["validate", &path, "--table", "wdf", "--format", "csv"]);
    assert!(rows.contains("a; '=1+1"), "{rows}");
    assert!(!rows.contains(";="), "{rows}");
}

#[cfg(feature = "pdf")]
#[test]
fn a_font_that_is_none_is_named() {
    let folder = folder(&[
        ("b.yaml", BOARD_R.to_owned()),
        ("x.ttf", "no font".to_owned()),
    ]);
    let arguments = [
        "report", "b.yaml", "--table", "wdf", "-o", "b.pdf", "--font", "x.ttf",
    ];
    let output = in_folder(folder.path(), &arguments);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said(&output).contains("`x.ttf` is not a font file"),
        "{}",
        said(&output)
    );
    assert!(!folder.path().join("b.pdf").exists());
}

#[test]
fn every_promise_names_tests_that_there_are() {
    fn sources(folder: &Path, all: &mut String) {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                sources(&path, all);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                *all += &fs::read_to_string(path).expect("text");
            }
        }
    }
    let mut all = String::new();
    for folder in ["src", "tests"] {
        sources(&root().join(folder), &mut all);
    }
    let page = fs::read_to_string(root().join("specs/guide/trust.md")).expect("the page");
    let (_, promises) = page.split_once("| promise |").expect("a table");
    let (promises, _) = promises.split_once("## What is not").expect("an end");
    let names = promises.split('`').skip(1).step_by(2);
    let names: Vec<&str> = names.filter(|name| name.matches('_').count() > 2).collect();
    assert!(names.len() > 25, "{}", names.len());
    for name in names {
        assert!(all.contains(&format!("fn {name}(")), "{name}");
    }
}
