//! No command writes over a file that it read, by whatever name or link.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::ffi::OsStr;
use std::fs;

use common::league::{BOARD, League, err};
use common::root;

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
        format!("leg {BOARD} {table} --start 40 -o tables/wdf.json --overwrite"),
        format!("worksheet {table} --mounting staples --format csv -o tables/wdf.json --overwrite"),
        format!("draw {BOARD} {table} -o tables/wdf.svg --overwrite"),
        format!("validate {BOARD} {table} --also tables/wdf.json --overwrite"),
        format!("validate {BOARD} {table} --also tables/../tables/wdf.json --overwrite"),
        format!("lot boards {table} -o tables/wdf.json --overwrite"),
        format!("lot boards {table} -o x.txt --also tables/wdf.json --overwrite"),
        "lint tables --also tables/wdf.json --overwrite".to_owned(),
        "lint tables/fenwick-lane.yaml --also tables/wdf.json --overwrite".to_owned(),
        format!("report {BOARD} {table} -o tables/wdf.json --overwrite"),
        format!("history {BOARD} {table} -o tables/wdf.json --overwrite"),
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
fn events_fonts_throws_boards_sheets_and_points_are_inputs() {
    let league = League::new();
    let table = "--table tables/wdf.json";
    for line in [
        format!("report {BOARD} {table} --event event.md -o event.md --overwrite"),
        format!("report {BOARD} {table} --font font.html -o font.html --overwrite"),
        "compare boards/01-round-to-rule.yaml boards/02-strip-to-rule.yaml \
         --throws throws.txt --at T20 -o throws.txt --overwrite"
            .to_owned(),
        format!("lot boards {table} --format text -o {BOARD} --overwrite"),
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
    let points = root().join("specs/demo/points/fl-15.csv");
    for (name, line) in [
        (
            "points.yaml",
            "digitise points.yaml -o points.yaml --overwrite",
        ),
        (
            "points.svg",
            "digitise points.svg -o b.yaml --also points.svg --overwrite",
        ),
    ] {
        fs::copy(&points, league.path(name)).expect("copied");
        let said = league.refused(line);
        assert!(said.contains(INPUT), "{line}\n{said}");
    }
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
