//! Sheets for all boards at once.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::league::{League, err, out};
use common::root;

fn league() -> League {
    let league = League::new();
    for year in ["2025", "2026"] {
        fs::create_dir_all(league.path(year)).expect("made");
        for id in ["FL-21", "FL-22"] {
            let name = format!("{year}/{id}.yaml");
            let from = root().join("specs/season").join(&name);
            fs::copy(from, league.path(&name)).expect("copied");
        }
    }
    league
}

#[test]
fn one_run_makes_the_sheets_of_all_boards() {
    let league = league();
    fs::create_dir(league.path("sheets")).expect("made");
    let mut line: Vec<&str> = "worksheet 2025 2026 -t wdf -o all.html --each sheets/{id}.csv \
                               --each sheets/{id}.pdf"
        .split_whitespace()
        .collect();
    line.extend(["--by", "A. Ashdown", "--instrument", "league calliper 3"]);
    let output = league.command(&line).output().expect("started");
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    // The latest inspections say what the boards are.
    assert!(err(&output).contains("2 earlier inspections were left out"));
    let page = league.text("all.html");
    for id in ["FL-21", "FL-22"] {
        let title = format!("Inspection sheet for board <span class=\"whole\">{id}</span>");
        assert_eq!(page.matches(&title).count(), 1, "{id}");
        let sheet = league.text(&format!("sheets/{id}.csv"));
        for filled in [
            id,
            "A. Ashdown",
            "league calliper 3",
            "0.01 mm",
            "0.03 mm",
            "2026-05-02",
        ] {
            assert!(sheet.contains(filled), "{filled}\n{sheet}");
        }
        assert!(league.path(&format!("sheets/{id}.pdf")).exists());
    }
    // A sheet that was filled in goes back by itself.
    let sheet = league.text("sheets/FL-21.csv");
    let sheet = sheet.replace(
        "\ndate,,,,\"the day, such as 2026-11-14\",,",
        "\ndate,,,,,2026-11-14,",
    );
    league.write("sheets/FL-21.csv", &sheet);
    let said = err(&league.run("pool sheets/FL-21.csv -o fl-21.yaml"));
    assert!(
        !said.contains("inspector") && !said.contains("instrument"),
        "{said}"
    );
}

#[test]
fn what_cannot_be_made_is_said_with_a_way_out() {
    let league = league();
    let said = league.refused("worksheet 2026 -t wdf -o all.csv");
    assert!(said.contains("--each 'sheets/{id}.csv'"), "{said}");
    let said = league.refused("worksheet 2026 -t wdf --each sheet.csv");
    assert!(said.contains("put `{id}` into the name"), "{said}");
    let said = league.refused("worksheet 2026 -t wdf --each s-{id}.csv --instrument mine");
    assert!(said.contains("they name league calliper 3"), "{said}");
    // Without a board there is nothing but the name.
    let one = league.good("worksheet --mounting staples -t wdf --instrument mine");
    assert!(out(&one).contains("\ninstrument,"), "{}", out(&one));
    assert!(out(&one).contains(",mine,"), "{}", out(&one));
}
