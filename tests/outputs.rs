//! What a run may write, and what it leaves behind: whole commands in folders
//! of their own.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::ffi::OsStr;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

use common::root;
use tempfile::TempDir;

const BOARD: &str = "boards/01-round-to-rule.yaml";

/// A folder like a league's: boards, two tables of which one extends the other,
/// settings, an event, throws, a font.
struct League(TempDir);

impl League {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let copy = |from: &str, to: &str| {
            let to = folder.path().join(to);
            fs::create_dir_all(to.parent().expect("a folder")).expect("made");
            fs::copy(root().join(from), to).expect("copied");
        };
        for board in ["01-round-to-rule.yaml", "02-strip-to-rule.yaml"] {
            copy(&format!("specs/demo/{board}"), &format!("boards/{board}"));
        }
        copy("tolerances/wdf.yaml", "tables/wdf.json");
        copy("tolerances/fenwick-lane.yaml", "tables/fenwick-lane.yaml");
        copy("specs/events/fenwick-lane-autumn.yaml", "event.md");
        copy("src/report/fonts/DejaVuSansCondensed.ttf", "font.html");
        let league = Self(folder);
        league.write("throws.txt", "x,y\n1,2\n-3,4\n5,-6\n2,9\n-8,1\n4,4\n");
        let own = league.text("tables/fenwick-lane.yaml");
        league.write(
            "tables/fenwick-lane.yaml",
            &own.replace("extends: wdf.yaml", "extends: wdf.json"),
        );
        league
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).expect("written");
    }

    fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).expect("read")
    }

    fn command<S: AsRef<OsStr>>(&self, arguments: &[S]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_ringrule"));
        command
            .args(arguments)
            .current_dir(self.0.path())
            .env_remove("CLICOLOR_FORCE")
            .env("NO_COLOR", "1");
        command
    }

    fn run(&self, line: &str) -> Output {
        let arguments: Vec<&str> = line.split_whitespace().collect();
        self.command(&arguments)
            .output()
            .expect("the program starts")
    }

    /// Runs a command that must change nothing, and returns what it said.
    fn refused(&self, line: &str) -> String {
        let before = self.files();
        let output = self.run(line);
        let said = err(&output);
        assert_eq!(output.status.code(), Some(2), "{line}\n{said}");
        assert_eq!(self.files(), before, "{line}\n{said}");
        said
    }

    fn good(&self, line: &str) -> Output {
        let output = self.run(line);
        assert_eq!(output.status.code(), Some(0), "{line}\n{}", err(&output));
        output
    }

    /// Every file with its bytes.
    fn files(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files = Vec::new();
        let mut folders = vec![self.0.path().to_owned()];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(folder).expect("a folder") {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    files.push((path.clone(), fs::read(&path).unwrap_or_default()));
                }
            }
        }
        files.sort();
        files
    }

    fn names(&self) -> Vec<String> {
        let files = self.files();
        let names = files.iter().filter_map(|(path, _)| path.file_name());
        names
            .map(|name| name.to_string_lossy().into_owned())
            .collect()
    }
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

const INPUT: &str = "is an input of this run and was left as it is";

#[test]
fn no_command_writes_over_a_table_that_another_extends() {
    let league = League::new();
    let table = "--table tables/fenwick-lane.yaml";
    for line in [
        format!("compare nominal:embedded nominal:staples {table} -o tables/wdf.json --overwrite"),
        format!(
            "compare {BOARD} nominal:staples {table} -o x.txt --also tables/wdf.json --overwrite"
        ),
        format!("worksheet {table} --mounting staples --format csv -o tables/wdf.json --overwrite"),
        format!("draw {BOARD} {table} -o tables/wdf.svg --overwrite"),
        format!("validate {BOARD} {table} --also tables/wdf.json --overwrite"),
        format!("validate {BOARD} {table} --also tables/../tables/wdf.json --overwrite"),
        "lint tables --also tables/wdf.json --overwrite".to_owned(),
        "lint tables/fenwick-lane.yaml --also tables/wdf.json --overwrite".to_owned(),
        format!("report {BOARD} {table} -o tables/wdf.json --overwrite"),
        format!("report {BOARD} {table} -o a.html -o tables/wdf.json --overwrite"),
    ] {
        let line = if line.starts_with("draw") {
            // A drawing has endings of its own: the table gets one of them.
            fs::rename(
                league.path("tables/wdf.json"),
                league.path("tables/wdf.svg"),
            )
            .expect("moved");
            let own = league.text("tables/fenwick-lane.yaml");
            league.write(
                "tables/fenwick-lane.yaml",
                &own.replace("wdf.json", "wdf.svg"),
            );
            line
        } else {
            if league.path("tables/wdf.svg").exists() {
                fs::rename(
                    league.path("tables/wdf.svg"),
                    league.path("tables/wdf.json"),
                )
                .expect("moved");
                let own = league.text("tables/fenwick-lane.yaml");
                league.write(
                    "tables/fenwick-lane.yaml",
                    &own.replace("wdf.svg", "wdf.json"),
                );
            }
            line
        };
        let said = league.refused(&line);
        assert!(said.contains(INPUT), "{line}\n{said}");
    }
}

#[test]
fn a_table_that_cannot_be_used_is_an_input_all_the_same() {
    let league = League::new();
    league.write("tables/wdf.json", "format: ringrule/table/1\nlimits: [\n");
    let line = format!(
        "validate {BOARD} --table tables/fenwick-lane.yaml --also tables/wdf.json --overwrite"
    );
    assert!(league.refused(&line).contains(INPUT));
}

#[test]
fn events_fonts_throws_boards_and_sheets_are_inputs() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    for line in [
        format!("report {BOARD} {table} --event event.md -o event.md --overwrite"),
        format!("report {BOARD} {table} --font font.html -o font.html --overwrite"),
        "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml \
         --throws throws.txt --at T20 -o throws.txt --overwrite"
            .to_owned(),
        "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml \
         --format text -o boards/02-strip-to-rule.yaml --overwrite"
            .to_owned(),
    ] {
        let said = league.refused(&line);
        assert!(said.contains(INPUT), "{line}\n{said}");
    }
    let sheet = root().join("specs/demo/sheets/fl-11-ashdown.csv");
    fs::copy(sheet, league.path("sheet.yaml")).expect("copied");
    let said = league.refused("pool sheet.yaml -o sheet.yaml --overwrite");
    assert!(said.contains(INPUT), "{said}");
}

#[test]
fn settings_are_inputs() {
    let league = League::new();
    league.write("set.json", "format: ringrule/settings/1\n");
    let said = league.refused("lint boards --settings set.json --also set.json --overwrite");
    assert!(said.contains(INPUT), "{said}");
    // A settings file keeps its name, so that only a link can have an ending.
    league.write(
        "boards/ringrule.yaml",
        "format: ringrule/settings/1\ntable: ../tables/wdf.json\n",
    );
    fs::hard_link(
        league.path("boards/ringrule.yaml"),
        league.path("link.json"),
    )
    .expect("linked");
    for command in ["lint", "validate"] {
        let said = league.refused(&format!("{command} boards --also link.json --overwrite"));
        assert!(said.contains(INPUT), "{said}");
    }
    let said = league.refused(&format!(
        "validate {BOARD} --also tables/wdf.json --overwrite"
    ));
    assert!(said.contains(INPUT), "{said}");
}

#[test]
#[cfg(unix)]
fn links_hide_no_input() {
    let league = League::new();
    std::os::unix::fs::symlink("wdf.json", league.path("tables/soft.json")).expect("linked");
    std::os::unix::fs::symlink("tables", league.path("elsewhere")).expect("linked");
    fs::hard_link(league.path("tables/wdf.json"), league.path("hard.json")).expect("linked");
    for other in [
        "tables/soft.json",
        "elsewhere/wdf.json",
        "hard.json",
        "./tables/./wdf.json",
    ] {
        for (table, output) in [("tables/wdf.json", other), (other, "tables/wdf.json")] {
            let line = format!("validate {BOARD} --table {table} --also {output} --overwrite");
            let said = league.refused(&line);
            let spared = said.contains(INPUT) || said.contains("not an ordinary file");
            assert!(spared, "{line}\n{said}");
        }
    }
    let board = fs::File::open(league.path(BOARD)).expect("opened");
    fs::hard_link(league.path(BOARD), league.path("board.json")).expect("linked");
    let line = [
        "validate",
        "-",
        "--table",
        "tables/wdf.json",
        "--also",
        "board.json",
        "--overwrite",
    ];
    let output = league
        .command(&line)
        .stdin(board)
        .output()
        .expect("the program starts");
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains(INPUT), "{}", err(&output));
}

#[test]
#[cfg(unix)]
fn names_that_are_no_text_are_inputs_too() {
    use std::os::unix::ffi::OsStrExt;
    let league = League::new();
    let name = OsStr::from_bytes(b"table-\xff.json");
    // Some file systems take no such name: there is nothing to be lost there.
    if fs::copy(league.path("tables/wdf.json"), league.0.path().join(name)).is_err() {
        return;
    }
    let words = |line: &str| -> Vec<std::ffi::OsString> {
        let words = line.split_whitespace();
        words
            .map(|word| {
                if word == "@" {
                    name.into()
                } else {
                    word.into()
                }
            })
            .collect()
    };
    for line in [
        format!("validate {BOARD} --table @ --also @ --overwrite"),
        "lint @ --also @ --overwrite".to_owned(),
        format!("report {BOARD} --table @ -o @ --overwrite"),
        "worksheet --table @ --mounting staples --format csv -o @ --overwrite".to_owned(),
    ] {
        let before = league.files();
        let output = league
            .command(&words(&line))
            .output()
            .expect("the program starts");
        assert_eq!(output.status.code(), Some(2), "{line}\n{}", err(&output));
        assert!(err(&output).contains(INPUT), "{line}\n{}", err(&output));
        assert_eq!(league.files(), before);
    }
}

#[test]
fn files_have_no_colours() {
    let league = League::new();
    for colour in ["auto", "always"] {
        let compare = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
        league.good(&format!(
            "--colour {colour} {compare} -o {colour}-a.txt --also {colour}-b.txt"
        ));
        let line = format!("--colour {colour} validate {BOARD} --table tables/wdf.json");
        league.run(&format!("{line} --also {colour}-c.txt"));
        league.run(&format!(
            "--colour {colour} lint boards --also {colour}-d.txt"
        ));
        for name in ["a", "b", "c", "d"] {
            let text = league.text(&format!("{colour}-{name}.txt"));
            assert!(
                !text.is_empty() && !text.contains('\u{1b}'),
                "{colour}-{name}"
            );
        }
    }
    let always = league.run("--colour always validate boards --table tables/wdf.json");
    assert!(out(&always).contains('\u{1b}'));
    let auto = league.run("validate boards --table tables/wdf.json");
    assert!(!out(&auto).contains('\u{1b}'));
}

#[test]
fn one_file_is_not_two_outputs() {
    let league = League::new();
    let report = format!("report {BOARD} --table tables/wdf.json");
    let whole = league.path("a.html").display().to_string();
    for (one, other) in [
        ("a.html", "a.html"),
        ("a.html", "./a.html"),
        ("a.html", &whole),
    ] {
        let said = league.refused(&format!("{report} -o {one} -o {other}"));
        assert!(said.contains("named twice"), "{said}");
        assert!(said.contains("nothing was written"), "{said}");
    }
    let said = league.refused(&format!(
        "{report} -o 01.html --each {{id}}.html -o FL-01.html"
    ));
    assert!(said.contains("FL-01.html"), "{said}");
    for command in ["validate --table tables/wdf.json", "lint"] {
        let said = league.refused(&format!(
            "{command} {BOARD} --also a.json --also boards/../a.json"
        ));
        assert!(said.contains("named twice"), "{said}");
    }
    let compare = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    let said = league.refused(&format!("{compare} -o a.txt --also ./a.txt"));
    assert!(said.contains("named twice"), "{said}");
    league.write("x.html", "x");
    fs::hard_link(league.path("x.html"), league.path("y.html")).expect("linked");
    let said = league.refused(&format!("{report} -o x.html -o y.html --overwrite"));
    assert!(said.contains("named twice"), "{said}");
}

#[test]
fn nothing_is_written_where_one_output_cannot_be() {
    let league = League::new();
    let long = format!("{}.json", "n".repeat(300));
    fs::create_dir(league.path("folder.json")).expect("made");
    league.write("there.json", "kept");
    for bad in [
        long.as_str(),
        "nowhere/x.json",
        "folder.json",
        "there.json",
        "throws.txt/x.json",
        "x.json/",
    ] {
        for line in [
            format!("report {BOARD} --table tables/wdf.json -o first.html -o {bad}"),
            format!("validate {BOARD} --table tables/wdf.json --also first.txt --also {bad}"),
            format!("lint {BOARD} --also first.txt --also {bad}"),
            format!("compare {BOARD} boards/02-strip-to-rule.yaml -o first.txt --also {bad}"),
        ] {
            let said = league.refused(&line);
            assert!(said.contains(bad), "{line}\n{said}");
        }
    }
    // An id may make a name too long that the pattern does not.
    let board = league
        .text(BOARD)
        .replace("id: FL-01", &format!("id: {}", "n".repeat(300)));
    league.write("boards/03.yaml", &board);
    league.refused("report boards --table tables/wdf.json --each {id}.html");
}

#[test]
fn an_ending_that_cannot_be_served_is_said_with_those_that_can() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    let two = "boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    for (line, known) in [
        (
            format!("compare {two} -o x.csv"),
            ".txt, .json, .md, .html or .pdf",
        ),
        (
            format!("compare {two} -o x.txt --also x.svg"),
            ".txt, .json, .md, .html or .pdf",
        ),
        (
            format!("compare {two} -o x"),
            ".txt, .json, .md, .html or .pdf",
        ),
        (
            format!("compare {two} --plot odds -o x.html"),
            ".svg or .png",
        ),
        (format!("draw {BOARD} {table} -o x.pdf"), ".svg or .png"),
        (
            format!("validate {BOARD} {table} --also x.html"),
            ".txt, .json, .sarif or .xml",
        ),
        (
            format!("lint {BOARD} --also x.yaml"),
            ".txt, .json, .sarif or .xml",
        ),
        (
            format!("report {BOARD} {table} -o x.txt"),
            ".html, .pdf, .md or .json",
        ),
        (
            format!("report {BOARD} {table} --each {{id}}.txt"),
            ".html, .pdf, .md or .json",
        ),
        (
            format!("worksheet {BOARD} {table} -o x.json"),
            ".csv, .tsv, .html or .pdf",
        ),
        ("pool sheet.csv -o x.json".to_owned(), ".yaml or .yml"),
    ] {
        let said = league.refused(&line);
        assert!(said.contains(known), "{line}\n{said}");
    }
}

#[test]
fn the_ending_decides_what_is_written() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    let two = "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml";
    for (line, file, begins) in [
        (
            format!("{two} -o page.html --also page.pdf"),
            "page.html",
            "<!DOCTYPE html>",
        ),
        (format!("{two} -o x.JSON"), "x.JSON", "{"),
        (
            format!("worksheet {BOARD} {table} -o s.html"),
            "s.html",
            "<!DOCTYPE html>",
        ),
        (
            format!("worksheet {BOARD} {table} --format csv -o t.html"),
            "t.html",
            "item",
        ),
    ] {
        league.good(&line);
        let text = league.text(file).to_lowercase();
        assert!(
            text.starts_with(&begins.to_lowercase()),
            "{line}\n{text:.80}"
        );
    }
    for (line, file) in [
        (format!("{two} --plot odds -o odds.png"), "odds.png"),
        (format!("draw {BOARD} {table} -o board.png"), "board.png"),
    ] {
        league.good(&line);
        let bytes = fs::read(league.path(file)).expect("read");
        assert!(bytes.starts_with(b"\x89PNG\r\n\x1a\n"), "{line}");
    }
    league.good(&format!("worksheet {BOARD} {table} -o s.pdf"));
    for name in ["s.pdf", "page.pdf"] {
        let pdf = fs::read(league.path(name)).expect("read");
        assert!(pdf.starts_with(b"%PDF-"), "{name}");
    }
    league.good(&format!("worksheet {BOARD} {table} -o s.tsv"));
    assert!(league.text("s.tsv").contains('\t'));
}

#[test]
#[cfg(unix)]
fn a_file_that_is_replaced_keeps_its_mode() {
    use std::os::unix::fs::PermissionsExt;
    let league = League::new();
    let mode = |name: &str| {
        let found = fs::metadata(league.path(name)).expect("there");
        found.permissions().mode() & 0o7777
    };
    let set = |name: &str, mode: u32| {
        fs::set_permissions(league.path(name), fs::Permissions::from_mode(mode)).expect("set");
    };
    for wanted in [0o600, 0o444, 0o755, 0o664] {
        league.write("a.html", "before");
        set("a.html", wanted);
        league.good(&format!(
            "report {BOARD} --table tables/wdf.json -o a.html --overwrite"
        ));
        assert_eq!(mode("a.html"), wanted);
        assert!(league.text("a.html").len() > 1000);
        fs::remove_file(league.path("a.html")).expect("removed");
    }
    let untidy = league.text(BOARD).replace("rings: 16 SWG", "rings: 16SWG");
    league.write(BOARD, &untidy);
    set(BOARD, 0o600);
    league.good(&format!("lint --tidy {BOARD}"));
    assert_eq!(mode(BOARD), 0o600);
    assert!(!league.text(BOARD).contains("rings: 16SWG"));
    assert!(league.names().iter().all(|name| !name.starts_with('.')));
}

#[test]
#[cfg(unix)]
fn a_run_that_is_ended_leaves_nothing_behind() {
    use std::os::unix::process::ExitStatusExt;
    let league = League::new();
    let board = league.text(BOARD);
    for number in 0..400 {
        let board = board.replace("id: FL-01", &format!("id: N-{number}"));
        league.write(&format!("boards/n-{number}.yaml"), &board);
    }
    let line = "report boards --table tables/wdf.json --each {id}.html --each {id}.pdf -o a.html";
    for (name, number) in [("TERM", 15), ("INT", 2), ("HUP", 1)] {
        let arguments: Vec<&str> = line.split_whitespace().collect();
        let mut run = league.command(&arguments);
        let mut run = run
            .stderr(std::process::Stdio::null())
            .spawn()
            .expect("the program starts");
        let unfinished = || league.names().iter().any(|name| name.starts_with(".tmp"));
        while !unfinished() && run.try_wait().expect("asked").is_none() {
            std::thread::yield_now();
        }
        let sent = Command::new("kill")
            .args(["-s", name, &run.id().to_string()])
            .status();
        assert!(
            sent.expect("kill runs").success(),
            "the run had ended already"
        );
        let ended = run.wait().expect("it ends");
        assert_eq!(
            ended.signal(),
            Some(number),
            "as any other run that is ended"
        );
        let left = league.names();
        let left: Vec<_> = left
            .iter()
            .filter(|n| n.starts_with('.') || n.ends_with('l'))
            .collect();
        assert!(
            left.iter()
                .all(|name| name.ends_with("yaml") || *name == "font.html"),
            "{left:?}"
        );
    }
}

#[test]
fn every_command_takes_its_table_from_the_settings() {
    let league = League::new();
    league.write(
        "ringrule.yaml",
        "format: ringrule/settings/1\ntable: tables/wdf.json\n",
    );
    for line in [
        format!("validate {BOARD}"),
        format!("report {BOARD} -o r.html"),
        format!("draw {BOARD}"),
        format!("worksheet {BOARD}"),
        "worksheet --mounting staples".to_owned(),
        format!("compare {BOARD} nominal:embedded"),
        "compare nominal:staples nominal:embedded".to_owned(),
    ] {
        let output = league.run(&line);
        assert!(output.status.code() < Some(2), "{line}\n{}", err(&output));
    }
    fs::remove_file(league.path("ringrule.yaml")).expect("removed");
    for command in ["validate", "report", "draw", "worksheet"] {
        let said = league.refused(&format!("{command} {BOARD}"));
        assert!(said.contains("no tolerance table is named"), "{said}");
    }
}

#[test]
fn a_folder_that_is_excluded_excludes_what_is_below_it() {
    let league = League::new();
    fs::create_dir_all(league.path("old/deep")).expect("made");
    fs::copy(league.path(BOARD), league.path("old/deep/01.yaml")).expect("copied");
    for pattern in ["old", "old/", "./old", "old/deep", "*ld", "old/**"] {
        league.write(
            "ringrule.yaml",
            &format!("format: ringrule/settings/1\nexclude: ['{pattern}']\n"),
        );
        let output = league.run("validate . --table tables/wdf.json --show verdicts");
        assert!(
            out(&output).contains("2 boards"),
            "{pattern}\n{}",
            out(&output)
        );
        assert!(
            !err(&output).contains("excludes nothing"),
            "{}",
            err(&output)
        );
    }
    league.write(
        "ringrule.yaml",
        "format: ringrule/settings/1\nexclude: [old, sheets]\n",
    );
    let output = league.run("validate . --table tables/wdf.json --show verdicts");
    assert!(
        err(&output).contains("`exclude: sheets`"),
        "{}",
        err(&output)
    );
    assert!(!err(&output).contains("`exclude: old`"), "{}", err(&output));
    // A run that sees one folder does not know of the others.
    let output = league.run("validate boards --table tables/wdf.json --show verdicts");
    assert!(
        !err(&output).contains("excludes nothing"),
        "{}",
        err(&output)
    );
}

#[test]
fn a_file_that_cannot_be_parsed_is_not_tidy() {
    let league = League::new();
    league.write("boards/broken.yaml", "board: [\n");
    let untidy = league.text(BOARD).replace("rings: 16 SWG", "rings: 16SWG");
    league.write(BOARD, &untidy);
    for preview in ["", "--preview"] {
        let said = league.refused(&format!("lint boards --tidy {preview}"));
        assert!(said.contains("broken.yaml"), "{said}");
        assert!(!said.contains("every file is tidy"), "{said}");
    }
}

#[test]
fn a_report_can_leave_invalid_files_out_and_says_so() {
    let league = League::new();
    league.write(
        "boards/broken.yaml",
        "format: ringrule/board/1\nboard: { idd: X }\n",
    );
    league.write("boards/torn.yaml", "board: [\n");
    let line = "report boards --table tables/wdf.json -o r.html -o r.json -o r.pdf -o r.md";
    let said = league.refused(line);
    assert!(
        said.contains("broken.yaml") && said.contains("nothing was written"),
        "{said}"
    );
    for flag in ["--skip-invalid", "--skip-refused"] {
        let output = league.run(&format!("{line} {flag} --overwrite"));
        assert_eq!(output.status.code(), Some(2));
        assert!(err(&output).contains("torn.yaml") && err(&output).contains("written: r.pdf"));
        for name in ["r.html", "r.md"] {
            let text = league.text(name);
            let (front, _) = text.split_once("FL-01").expect("the boards follow");
            assert!(front.contains("2 invalid files were refused"), "{name}");
            assert!(
                front.contains("broken") && front.contains("line 1"),
                "{name}"
            );
        }
        let json: serde_json::Value = serde_json::from_str(&league.text("r.json")).expect("JSON");
        assert_eq!(json["invalid_files"].as_array().map(Vec::len), Some(2));
        assert_eq!(json["boards"].as_array().map(Vec::len), Some(2));
    }
    // A table or an event cannot be left out, nor can every board.
    league.write("tables/broken.yaml", "format: ringrule/table/1\n");
    league.refused(&format!(
        "report {BOARD} --table tables/broken.yaml -o s.html --skip-invalid"
    ));
    league.refused("report boards/torn.yaml --table tables/wdf.json -o s.html --skip-invalid");
}
