//! What metal does differs between boards, and spreads between directions.
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

mod common;

use std::fs;

use common::{BOARD_R, STRIP_TWIN, ringrule, transcript};
use serde_json::Value;

/// The strip board against board R.
fn compared(more: &[&str]) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
    let (strip, round) = (path("s.yaml"), path("r.yaml"));
    fs::write(&strip, STRIP_TWIN).expect("written");
    fs::write(&round, BOARD_R).expect("written");
    let asked = ["compare", &strip, &round, "--format", "json"];
    let asked: Vec<&str> = asked.iter().chain(more).copied().collect();
    let output = ringrule(&asked);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn near(found: &Value, right: f64, within: f64) {
    let found = found.as_f64().expect("a number");
    assert!((found - right).abs() < within, "{found} {right}");
}

/// Recomputed independently: a player with 5 mm sideways and 25 mm up and down averages
/// 75.9 on the strip board and 71.3 on board R, metal lost.
#[test]
fn unequal_spreads_have_an_average_of_their_own_on_each_board() {
    let data = compared(&["--spread", "5,25"]);
    for (board, right) in [(0, 75.9), (1, 71.3)] {
        near(&data["player_averages"][board]["lost"], right, 0.05);
    }
}

/// Recomputed independently: for a spread of 12 mm the treble where one board's metal
/// loses every dart and the other's none, and an average of 100 on the strip.
#[test]
fn metal_may_differ_between_boards() {
    let data = compared(&["--average", "100"]);
    let difference = &data["differences"][0];
    let targets = difference["targets"].as_array().expect("targets");
    let treble = targets.iter().find(|target| target["band"] == "treble");
    let ratio = &treble.expect("a treble")["harder_crossed"];
    near(&ratio["first_glances"], 1.229, 5e-4);
    near(&ratio["first_lost"], 0.943, 5e-4);
    let average = &difference["averages"]["rows"][0]["from_first_crossed"];
    near(&average["first_glances"], 84.3, 0.05);
    near(&average["first_lost"], 105.0, 0.05);
}
