//! Several inspections of one board: the latest decides, and what has changed.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;

use common::league::{League, err, out};
use common::{board, json, root, table};
use ringrule::conformity::Judge;
use ringrule::history::{Changed, changes};
use ringrule::units::Uncertainty;

/// One length, taken with one calliper: 8 mm less so much, on a day.
fn inspected(less: f64, day: &str, calliper: &str) -> ringrule::board::Board {
    board(&format!(
        "format: ringrule/board/1
board: {{ id: FL-90 }}
mounting: staples
units: mm
inspection: {{ by: A. Ashdown, date: {day} }}
instrument: {{ {calliper} }}
wires: {{ rings: 1.5, sectors: 1.5 }}
widths: {{ treble: {{ width: {}, edge: inside }} }}
",
        8.0 - less
    ))
}

/// The standard uncertainty of the change of that width between two inspections.
fn of_the_change(earlier: &str, later: &str) -> f64 {
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    let (one, other) = (
        inspected(0.0, "2025-10-04", earlier),
        inspected(0.1, "2026-10-03", later),
    );
    let (one, other) = (judge.judge(&one), judge.judge(&other));
    let changes = changes(&one, &other);
    let width = changes.iter().find(|change| {
        matches!(&change.changed, Changed::Length { finding, .. }
            if finding.limit.name.starts_with("treble_width"))
    });
    let width = width.expect("a change");
    assert!((width.difference() + 0.1).abs() < 1e-12);
    width.uncertainty.expect("stated").standard()
}

#[test]
fn an_instrument_that_was_not_calibrated_in_between_cancels_out() {
    // By hand, JCGM 100: step 0.01 rectangular, 0.01/√12 each time; permissible
    // error 0.05 rectangular, 0.05/√3, once where it is the same and cancels out,
    // each time where it is not.
    let calliper = "name: calliper 3, resolution: 0.01, max_error: 0.05";
    let step = 0.01 / f64::sqrt(12.0);
    let error = 0.05 / f64::sqrt(3.0);
    let two = f64::sqrt(2.0);
    let close = |u: f64, expected: f64| assert!((u - expected).abs() < 1e-9, "{u} {expected}");
    let with = |more: &str| format!("{calliper}, {more}");
    let same = with("calibrated: 2025-05-02");
    close(of_the_change(&same, &same), two * step);
    let other = with("calibrated: 2026-05-02");
    close(of_the_change(&same, &other), two * step.hypot(error));
    // A certificate says more than a day.
    let one = with("calibrated: 2025-05-02, certificate: K-11");
    let again = with("calibrated: 2025-05-03, certificate: K-11");
    close(of_the_change(&one, &again), two * step);
    // Nobody says: the larger.
    close(of_the_change(calliper, calliper), two * step.hypot(error));
    // Another calliper, or one without a name.
    let named = same.replace("calliper 3", "calliper 4");
    close(of_the_change(&same, &named), two * step.hypot(error));
    let bare = "resolution: 0.01, max_error: 0.05, calibrated: 2025-05-02";
    close(of_the_change(bare, bare), two * step.hypot(error));
}

#[test]
fn a_wire_that_was_named_by_its_gauge_twice_has_not_changed() {
    let with = |day: &str| {
        board(&format!(
            "format: ringrule/board/1
board: {{ id: FL-90 }}
mounting: staples
units: mm
uncertainty: 0.05
inspection: {{ date: {day} }}
wires: {{ rings: 16 SWG, sectors: 16 SWG }}
"
        ))
    };
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    let (one, other) = (with("2025-10-04"), with("2026-10-03"));
    let (one, other) = (judge.judge(&one), judge.judge(&other));
    let changes = changes(&one, &other);
    assert!(!changes.is_empty());
    for change in changes {
        assert_eq!(change.normalised(), Some(0.0), "{change:?}");
        assert_eq!(change.uncertainty.map(Uncertainty::standard), Some(0.0));
    }
}

/// The season that comes with the project, in a folder of its own.
fn season() -> League {
    let league = League::new();
    for year in ["2025", "2026"] {
        let folder = format!("season/{year}");
        fs::create_dir_all(league.path(&folder)).expect("made");
        for entry in fs::read_dir(root().join("specs").join(&folder)).expect("there") {
            let from = entry.expect("an entry").path();
            let name = from.file_name().expect("a name");
            fs::copy(&from, league.path(&folder).join(name)).expect("copied");
        }
    }
    fs::copy(
        root().join("specs/season/ringrule.yaml"),
        league.path("season/ringrule.yaml"),
    )
    .expect("copied");
    league
}

#[test]
fn a_season_in_text() {
    let league = season();
    let output = league.run("history season --on 2026-11-01");
    // A board is overdue.
    assert_eq!(output.status.code(), Some(1), "{}", err(&output));
    insta::assert_snapshot!(out(&output));
    let before = league.run("history season --on 2026-10-04");
    assert_eq!(before.status.code(), Some(0), "{}", err(&before));
    assert!(out(&before).contains("2026-10-04  due"), "{}", out(&before));
}

#[test]
fn every_format_says_the_same() {
    let league = season();
    let line = "history season --on 2026-11-01 --show everything -o h.json --also h.csv \
                --also h.html --also h.md --also h.pdf --also h.txt";
    let output = league.run(line);
    assert_eq!(output.status.code(), Some(1), "{}", err(&output));
    let record = json(&league.text("h.json"));
    let boards = record
        .pointer("/boards")
        .and_then(|boards| boards.as_array());
    let boards = boards.expect("boards");
    assert_eq!(boards.len(), 7);
    let (csv, html) = (league.text("h.csv"), league.text("h.html"));
    let mut rows = csv.lines().skip(1);
    for board in boards {
        let id = board["id"].as_str().expect("an id");
        let changes = board["changes"].as_array().expect("changes");
        if changes.is_empty() {
            assert!(rows.next().is_some_and(|row| row.starts_with(id)));
        }
        for change in changes {
            let row = rows.next().expect("a row");
            let difference = change["change"].as_f64().expect("a number");
            assert!(row.starts_with(id), "{row}");
            assert!(
                row.contains(&format!(",{difference:?},")),
                "{row} {difference:?}"
            );
            let check = change["check"].as_str().expect("a check");
            assert!(row.contains(&format!(",{check},")), "{row}");
            assert!(html.contains(check), "{check}");
        }
    }
    assert_eq!(rows.next(), None);
    // Five boards, each with a chart of every limited length.
    assert_eq!(html.matches("<figure class=\"trend\"").count(), 5 * 10);
    assert!(
        fs::read(league.path("h.pdf"))
            .expect("read")
            .starts_with(b"%PDF")
    );
    assert!(league.text("h.md").contains("| FL-22 |"));
}

#[test]
fn the_latest_inspection_decides_everywhere() {
    let league = season();
    let output = league.run("validate season --show verdicts");
    assert_eq!(output.status.code(), Some(1));
    let (said, text) = (err(&output), out(&output));
    assert!(
        said.contains("5 earlier inspections were left out"),
        "{said}"
    );
    assert!(text.contains("7 boards against"), "{text}");
    assert!(!text.contains("2025/FL-22.yaml"), "{text}");
    // One that is named itself is looked at all the same.
    let named = league.run("validate season/2025/FL-22.yaml season/2026/FL-22.yaml --table wdf");
    assert!(out(&named).contains("2 boards against"), "{}", out(&named));

    let event = "name: Autumn\nissued: 2026-11-01\n";
    league.write("e.yaml", &format!("format: ringrule/event/1\n{event}"));
    let line = "report season --event e.yaml -o r.json --each each/{id}-{day}.md";
    fs::create_dir(league.path("each")).expect("made");
    league.good(line);
    assert!(league.path("each/FL-22-2026-10-03.md").exists());
    let page = league.text("each/FL-22-2026-10-03.md");
    assert!(
        page.contains("since the inspection before: 3 checks beyond uncertainty (on 2025-10-04)"),
        "{page}"
    );
    assert!(page.contains("3 checks beyond uncertainty"), "{page}");
    let report = json(&league.text("r.json"));
    let boards = report["boards"].as_array().expect("boards");
    assert_eq!(boards.len(), 7);
    let of = |id: &str| boards.iter().find(|board| board["id"] == id).expect("it");
    assert_eq!(of("FL-22")["since"]["verdict"], "conforms");
    assert_eq!(of("FL-22")["valid_until"], "2027-10-03");
    assert_eq!(of("FL-25")["due"], "overdue");
    assert!(of("FL-25").get("since").is_none());
}

#[test]
fn an_overdue_board_must_be_measured_again() {
    let league = season();
    let on = |day: &str| {
        let output = league.run(&format!("validate season --show venues --on {day}"));
        out(&output)
    };
    let text = on("2026-11-01");
    let overdue = "  measure again    FL-25  stage end\n    overdue: its inspection was valid until \
                   2026-10-04";
    assert!(text.contains(overdue), "{text}");
    let text = on("2026-09-20");
    assert!(
        text.contains("  may be used      FL-25  stage end\n"),
        "{text}"
    );
    assert!(
        text.contains("due: its inspection is valid until 2026-10-04"),
        "{text}"
    );
    assert!(!on("2026-08-01").contains("due:"));
}

#[test]
fn inspections_of_several_days_are_not_one_id_twice() {
    let league = season();
    let output = league.run("lint season");
    assert!(!out(&output).contains("id-repeated"), "{}", out(&output));
    let text = league.text("season/2025/FL-22.yaml");
    league.write("season/2025/again.yaml", &text);
    let said = out(&league.run("lint season"));
    assert_eq!(said.matches("id-repeated").count(), 2, "{said}");
    let undated = text.replacen("  date: \"2025-10-04\"\n", "", 1);
    league.write("season/2025/again.yaml", &undated);
    let said = out(&league.run("lint season"));
    assert_eq!(said.matches("id-repeated").count(), 3, "{said}");
}

#[test]
fn what_cannot_be_put_in_order_is_said_at_its_place() {
    let league = season();
    let text = league.text("season/2025/FL-22.yaml");
    league.write("season/2025/again.yaml", &text);
    let said = league.refused("history season -o h.txt");
    assert!(
        said.contains("is an inspection of `FL-22` on 2025-10-04"),
        "{said}"
    );
    assert!(said.contains("ringrule pool"), "{said}");
    let line = |text: &str, part: &str| {
        let before = text.split(part).next().expect("before it");
        before.matches('\n').count() + 1
    };
    let place = format!("season/2025/again.yaml:{}:", line(&text, "  by: Ida"));
    assert!(said.contains(&place), "{place}\n{said}");
    let undated = text.replacen("  date: \"2025-10-04\"\n", "", 1);
    league.write("season/2025/again.yaml", &undated);
    let said = league.refused("history season -o h.txt");
    assert!(said.contains("this file states no day"), "{said}");
    assert!(said.contains("inspection: { date:"), "{said}");
    let said = league.refused("history season/2026 -t wdf -o h.xyz");
    assert!(
        said.contains(".txt, .json, .csv, .xlsx, .md, .html or .pdf"),
        "{said}"
    );
}

#[test]
fn a_period_that_is_none_is_refused_at_its_place() {
    let league = season();
    for period in [
        "1 fortnight",
        "-1 year",
        "0 days",
        "1 year 2 months",
        "12 hours",
        "year",
    ] {
        let settings = format!(
            "format: ringrule/settings/1\ntable: wdf\ninspections: {{ valid: {period} }}\n"
        );
        league.write("season/ringrule.yaml", &settings);
        let said = league.refused("history season -o h.txt");
        assert!(said.contains("ringrule.yaml:3:23"), "{period}: {said}");
        assert!(said.contains("such as `1 year`"), "{period}: {said}");
    }
}

#[test]
fn the_demo_is_what_its_workbook_gives() {
    let league = season();
    let workbook = root().join("specs/season/autumn-2026.xlsx");
    fs::copy(workbook, league.path("autumn-2026.xlsx")).expect("copied");
    league.good("intake autumn-2026.xlsx --into new --table wdf");
    let from_format = |text: &str| {
        let (_, rest) = text.split_once("format:").expect("a format");
        rest.to_owned()
    };
    for id in ["FL-21", "FL-22", "FL-23", "FL-24", "FL-26", "FL-27"] {
        let made = league.text(&format!("new/{id}.yaml"));
        let there = league.text(&format!("season/2026/{id}.yaml"));
        assert_eq!(from_format(&made), from_format(&there), "{id}");
    }
}

#[test]
fn the_help_text() {
    let league = League::new();
    insta::assert_snapshot!(out(&league.good("history --help")));
}
