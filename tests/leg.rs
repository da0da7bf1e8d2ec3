//! A whole leg as a user asks for it.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use common::{ringrule, transcript};
use serde_json::Value;

const BOARD_R: &str = "tests/fixtures/board-r.yaml";

fn leg(more: &[&str]) -> (Option<i32>, String) {
    let arguments: Vec<&str> = ["leg"].iter().chain(more).copied().collect();
    let output = ringrule(&arguments);
    (output.status.code(), transcript(&output))
}

fn json(more: &[&str]) -> Value {
    let arguments = ["leg", "--format", "json"];
    let arguments: Vec<&str> = arguments.iter().chain(more).copied().collect();
    let output = ringrule(&arguments);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

#[test]
fn a_leg_of_forty_in_words() {
    let (code, said) = leg(&[BOARD_R, "--spread", "10", "--start", "40"]);
    assert_eq!(code, Some(0), "{said}");
    insta::assert_snapshot!(said);
}

/// Recomputed by an independent programme: board R, spread 10 mm, metal lost, aims at
/// the middles of beds.
#[test]
fn expected_darts_and_the_perfect_leg_as_computed_elsewhere() {
    for (start, darts) in [("501", 21.398_149), ("170", 8.979_364), ("40", 3.427_175)] {
        let found = json(&[BOARD_R, "--spread", "10", "--start", start]);
        let board = &found["boards"][0];
        let expected = number(&board["expected_darts"]);
        assert!((expected - darts).abs() < 1e-6, "{start}: {expected}");
        let average = number(&board["match_average"]);
        let total: f64 = start.parse().expect("a total");
        assert!((average - 3.0 * total / darts).abs() < 1e-4);
        let chances = board["darts"].as_array().expect("a list");
        let sum: f64 = chances.iter().map(number).sum();
        assert!((sum + number(&board["tail"]) - 1.0).abs() < 1e-9);
        if start == "501" {
            let nine = number(&board["perfect"]["chance"]);
            assert!((nine - 8.734_476e-6).abs() < 1e-12, "{nine}");
        }
    }
}

#[test]
fn page_rows_and_json_say_the_same() {
    let boards = ["nominal:embedded", "nominal:staples", "--table", "wdf"];
    let asked: Vec<&str> = boards
        .iter()
        .chain(&["--spread", "12", "--start", "60", "--against", "14"])
        .copied()
        .collect();
    let found = json(&asked);
    let (_, text) = leg(&asked);
    let rows: Vec<&str> = ["--format", "csv"].iter().chain(&asked).copied().collect();
    let (_, rows) = leg(&rows);
    for board in found["boards"].as_array().expect("boards") {
        let label = board["label"].as_str().expect("a label");
        let line = |words: &str| {
            let mut lines = text.lines().map(str::trim);
            lines.any(|line| line.starts_with(label) && line.contains(words))
        };
        let darts = number(&board["expected_darts"]);
        assert!(line(&format!("{darts:.3}")), "{label}: {text}");
        let wins = number(&board["against"]["throwing_first"]);
        assert!(line(&format!("{:.1} %", 100.0 * wins)), "{label}: {text}");
        let row = format!("{label},ringrule:wdf,expected darts,,,,,,,,,,darts,");
        let row = rows.lines().find_map(|line| line.strip_prefix(&row));
        let value = row.expect("a row").split(',').next().expect("a value");
        let value: f64 = value.parse().expect("a number");
        assert!((value - darts).abs() < 1e-12);
    }
}

/// Recomputed by an independent programme, as above: from 40 the middle of a double is best.
#[test]
fn finishes_say_where_to_aim_and_what_is_still_expected() {
    let found = json(&[BOARD_R, "--spread", "10", "--start", "60"]);
    let board = &found["boards"][0];
    let finishes = board["finishes"].as_array().expect("a list");
    let of = |left: u32, darts: u32| {
        let is_it = |row: &&Value| row["left"] == left && row["darts_in_hand"] == darts;
        finishes.iter().find(is_it).expect("a row")
    };
    let best = &of(40, 3)["choices"][0];
    assert_eq!(
        (&best["begun_from"], &best["begun_to"]),
        (&40.into(), &40.into())
    );
    assert!((number(&best["aim"]["expected"]) - 3.427_175).abs() < 1e-6);
    let bed = best["aim"]["bed"].as_str().expect("a bed");
    assert!(bed.starts_with("double"), "{bed}");
    // Runs of beginnings follow one another, and next to each other the aims differ.
    for row in finishes {
        let runs = row["choices"].as_array().expect("a list");
        let left = number(&row["left"]);
        assert!(number(&runs[0]["begun_from"]) >= left);
        for pair in runs.windows(2) {
            assert!(number(&pair[0]["begun_to"]) < number(&pair[1]["begun_from"]));
            let aims = [&pair[0]["aim"], &pair[1]["aim"]].map(|aim| (&aim["x_mm"], &aim["y_mm"]));
            assert_ne!(aims[0], aims[1]);
        }
    }
    // A dart from 40 that wins is a perfect leg; both ways of playing for it are one.
    let forty = json(&[BOARD_R, "--spread", "10", "--start", "40"]);
    let perfect = &forty["boards"][0]["perfect"];
    assert_eq!(perfect["darts"], 1);
    let first = number(&forty["boards"][0]["darts"][0]);
    assert!((number(&perfect["chance_by_the_way"]) - first).abs() < 1e-12);
    assert!(number(&perfect["chance"]) >= first);
}

#[test]
fn two_boards_alike_are_alike_and_want_no_other_aims() {
    let found = json(&[BOARD_R, BOARD_R, "--spread", "11", "--start", "80"]);
    let (one, other) = (&found["boards"][0], &found["boards"][1]);
    assert_eq!(one["expected_darts"], other["expected_darts"]);
    assert_eq!(one["finishes"], other["finishes"]);
    assert_eq!(other["differences"], Value::Array(Vec::new()));
}

#[test]
fn aims_anywhere_are_never_worse_than_middles() {
    let asked = [BOARD_R, "--spread", "14", "--start", "20"];
    let anywhere: Vec<&str> = asked
        .iter()
        .chain(&["--aims", "anywhere"])
        .copied()
        .collect();
    let [middles, anywhere] =
        [json(&asked), json(&anywhere)].map(|found| number(&found["boards"][0]["expected_darts"]));
    assert!(anywhere <= middles + 1e-6, "{anywhere} {middles}");
}

#[test]
fn what_no_leg_has_is_refused_with_a_next_step() {
    for (asked, words) in [
        (vec!["--start", "1"], "2"),
        (
            vec!["--start", "3", "--entry", "double"],
            "give another start",
        ),
        (vec!["--against", "-4"], "spread"),
        (vec!["--spread", "0"], "spread"),
    ] {
        let asked: Vec<&str> = [BOARD_R].into_iter().chain(asked).collect();
        let (code, said) = leg(&asked);
        assert_eq!(code, Some(2), "{said}");
        assert!(said.contains(words), "{asked:?}: {said}");
    }
}

#[test]
fn match_averages_are_translated_where_asked() {
    let boards = [
        "specs/demo/02-strip-to-rule.yaml",
        "specs/demo/01-round-to-rule.yaml",
    ];
    let start = ["--start", "40", "--finishes", "2"];
    let few = [&boards[..], &start[..], &["--average", "60"]].concat();
    let found = json(&few);
    let rows = found["match_averages"]["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), 1);
    let on = |board: usize, key: &str| number(&rows[0]["boards"][board][key]);
    assert!((on(0, "match_average") - 60.0).abs() < 1e-3);
    let certainty = &rows[0]["boards"][1]["certainty"];
    assert_eq!(certainty["kind"], "within");
    let (low, high) = (number(&certainty["low"]), number(&certainty["high"]));
    assert!(low < on(1, "match_average") && on(1, "match_average") < high && high < 60.0);
    // Without a value, those that the library names.
    let (code, said) = leg(&[&boards[..], &start[..], &["--average"]].concat());
    assert_eq!(code, Some(0), "{said}");
    for average in ringrule::comparison::DEFAULT_MATCH_AVERAGES {
        assert!(said.contains(&format!("\n  {average:.1} ")), "{average}");
    }
    assert!(
        !found["boards"][0]["wires"]
            .as_array()
            .expect("wires")
            .is_empty()
    );
    let none = json(&[boards[0], "--start", "40", "--finishes", "2"]);
    assert!(none.get("match_averages").is_none());
    let (code, said) = leg(&[boards[0], "--average"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("name a second board"), "{said}");
}

#[test]
fn what_a_leg_does_not_take_is_refused_and_not_passed_over() {
    let two = ["specs/demo/02-strip-to-rule.yaml", BOARD_R];
    let short = ["--start", "40", "--finishes", "2"];
    for (more, words) in [
        (&["--average", "400"][..], "no player averages 400"),
        (&["--at", "T20"][..], "`--throws`"),
        (&["--spread", "9", "--at", "T20"][..], "`--throws`"),
        (&["--spread", "9", "--sighting", "kept"][..], "`--throws`"),
        (&["--aim", "most-hits"][..], "unexpected argument '--aim'"),
    ] {
        let (code, said) = leg(&[&two[..], &short[..], more].concat());
        assert_eq!(code, Some(2), "{more:?}: {said}");
        assert!(said.contains(words), "{more:?}: {said}");
    }
}
