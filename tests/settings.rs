//! What settings say holds for every command.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::league::{BOARD, League, err, out};

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
