//! No file that the program writes draws a finding of `lint` by its form alone: what is
//! measured without doubt, and recorded in full, has none.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::league::{League, err, out};
use common::root;

/// What `lint` finds in a file, notes included.
fn clean(league: &League, name: &str) {
    let linted = league.run(&format!("lint {name} --fail-at note"));
    let said = format!("{}{}", out(&linted), err(&linted));
    assert_eq!(
        linted.status.code(),
        Some(0),
        "{name}: {said}\n{}",
        league.text(name)
    );
}

/// A sheet that is filled in completely, in a unit.
fn sheet(inspector: &str, unit: &str, readings: &[(&str, &str, &str)]) -> String {
    let rows: String = readings
        .iter()
        .map(|(item, edge, values)| format!("{item},{edge},{unit},{values},\n"))
        .collect();
    format!(
        "item,edge,unit,reading 1,reading 2,reading 3,remark\nboard,,,FL-40,,,\n\
         mounting,,,staples,,,\nprofile,,,round,,,\ninspector,,,{inspector},,,\n\
         date,,,2026-11-07,,,\ninstrument,,,calliper 2,,,\nresolution,,,0.01 mm,,,\n\
         max error,,,0.03 mm,,,\ncalibrated,,,2026-05-02,,,\n{rows}"
    )
}

/// Invented readings with zeros at their ends, which a number does not keep.
const MM: [(&str, &str, &str); 7] = [
    ("inner_bull diameter", "inside", "12.70,12.70,12.71"),
    ("treble width", "inside", "8.10,8.10,8.10"),
    ("treble_outer radius", "outside", "106.90,106.90,106.90"),
    ("double width", "inside", "8.00,8.01,8.00"),
    ("double_outer radius", "outside", "169.90,169.90,169.90"),
    ("ring wires", "", "1.60,1.60,1.60"),
    ("sector wires", "", "1.60,1.61,1.60"),
];

/// The same board in inches, whose digits in mm nobody read.
const INCHES: [(&str, &str, &str); 7] = [
    ("inner_bull diameter", "inside", "0.500,0.5005,0.500"),
    ("treble width", "inside", "0.315,0.3155,0.315"),
    ("treble_outer radius", "outside", "4.2125,4.213,4.2125"),
    ("double width", "inside", "0.315,0.315,0.3155"),
    ("double_outer radius", "outside", "6.693,6.6925,6.693"),
    ("ring wires", "", "0.063,0.063,0.063"),
    ("sector wires", "", "0.063,0.0635,0.063"),
];

#[test]
fn pooled_boards_are_clean_in_either_unit() {
    let league = League::new();
    for (name, unit, readings) in [("mm", "mm", &MM), ("in", "in", &INCHES)] {
        let one = format!("{name}.csv");
        league.write(&one, &sheet("A. Ashdown", unit, readings));
        std::fs::create_dir(league.path(name)).expect("made");
        let board = format!("{name}/fl-40.yaml");
        league.good(&format!("pool {one} --output {board}"));
        clean(&league, &board);
    }
}

#[test]
fn boards_of_a_workbook_and_of_points_are_clean() {
    let league = League::new();
    let beside = |name: &str| root().join(name).display().to_string();
    let season = beside("specs/season/autumn-2026.xlsx");
    league.good(&format!("intake {season} --into taken"));
    let taken = std::fs::read_dir(league.path("taken")).expect("a folder");
    let taken: Vec<String> = taken
        .map(|entry| {
            entry
                .expect("readable")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    // Six boards in the invented workbook of that year.
    assert_eq!(taken.len(), 6, "{taken:?}");
    for name in taken {
        clean(&league, &format!("taken/{name}"));
    }
    let points = beside("specs/demo/points/fl-15.csv");
    league.good(&format!("digitise {points} --output fl-15.yaml"));
    clean(&league, "fl-15.yaml");
}
