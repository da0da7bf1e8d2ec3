//! Readings at places, from a blank sheet by way of several people to a verdict.
#![allow(clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod common;

use std::fs;

use common::fill::{fill, sound};
use common::{ringrule, transcript};
use ringrule::board::{Mounting, Profile};
use ringrule::document::Source;
use ringrule::readings::plan;

const PLACES: &str = "tolerances/fenwick-lane-places.yaml";

/// A league's work in a folder of its own.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_string_lossy().into_owned()
    }

    fn write(&self, name: &str, text: &str) -> String {
        fs::write(self.path(name), text).expect("written");
        self.path(name)
    }
}

/// Standard output of a run that ends with this code.
fn run(arguments: &[&str], code: i32) -> String {
    let output = ringrule(arguments);
    assert_eq!(output.status.code(), Some(code), "{}", transcript(&output));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn blank(table: &str) -> String {
    run(&["worksheet", "--table", table, "--mounting", "staples"], 0)
}

/// The values of a board whose treble is alternately 7.75 and 8.25 mm wide, from
/// place to place: the fifth of the eight is a narrow one again. Invented.
fn uneven(item: &str, at: &str) -> Option<f64> {
    match (item, at) {
        ("treble width", "20" | "6" | "3" | "11") => Some(7.75),
        ("treble width", "4" | "2" | "16" | "12") => Some(8.25),
        _ => sound(item),
    }
}

/// Two filled sheets, pooled and validated with a table; the verdict's code.
fn validated(table: &str, value: impl Fn(&str, &str) -> Option<f64>, code: i32) -> String {
    let folder = Folder::new();
    let blank = blank(table);
    let sheets = [("A. Ashdown", 0.0), ("B. Birch", 0.01)].map(|(who, shift)| {
        let name = format!("{who}.csv");
        folder.write(&name, &fill(&blank, who, shift, &value))
    });
    let made = folder.path("fl-21.yaml");
    run(&["pool", &sheets[0], &sheets[1], "--output", &made], 0);
    run(
        &["validate", &made, "--table", table, "--show", "everything"],
        code,
    )
}

#[test]
fn a_board_that_is_right_in_the_mean_fails_at_its_places() {
    let said = validated(PLACES, uneven, 1);
    assert!(said.starts_with("does not conform  FL-21"), "{said}");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("the worst of 8 places, from 7.7"), "{said}");
    assert!(said.contains("8 beyond the limits"), "{said}");
    // The same sheets by a table that asks for the mean alone.
    let folder = Folder::new();
    let blank = blank(PLACES);
    let one = folder.write("a.csv", &fill(&blank, "A. Ashdown", 0.0, uneven));
    let two = folder.write("b.csv", &fill(&blank, "B. Birch", 0.01, uneven));
    let made = folder.path("fl-21.yaml");
    run(&["pool", &one, &two, "--output", &made], 0);
    let mean = run(&["validate", &made, "--table", "tolerances/wdf.yaml"], 0);
    let mean = mean.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(mean.contains("8 of 8 places lie beyond it"), "{mean}");
}

#[test]
fn a_sound_board_conforms_at_every_place() {
    let said = validated(PLACES, |item, _| sound(item), 0);
    assert!(said.starts_with("conforms          FL-21"), "{said}");
}

#[test]
fn a_single_place_decides_and_is_named() {
    let one_place = |item: &str, at: &str| match (item, at) {
        ("treble width", "16") => Some(8.35),
        _ => sound(item),
    };
    let said = validated(PLACES, one_place, 1);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("at 16"), "{said}");
    assert!(said.contains("1 beyond the limits"), "{said}");
}

/// Limits on every place, and on the form of every ring. Invented.
const ALL: &str = "format: ringrule/table/1
title: Invented
source: { document: Invented, provenance: invented }
units: mm
limits:
  bull: { measurand: inner_bull.diameter, edge: inside, of: every place, nominal: 12.7, tolerance: 0.2 }
  outer_bull: { measurand: outer_bull.diameter, edge: inside, of: every place, nominal: 31.8, tolerance: 0.3 }
  treble: { measurand: treble.width, edge: inside, of: every place, nominal: 8.0, tolerance: 0.2 }
  double: { measurand: double.width, edge: inside, of: every place, nominal: 8.0, tolerance: 0.2 }
  treble_radius: { measurand: treble.outer_radius, edge: outside, of: every place, nominal: 107.0, tolerance: 0.3 }
  double_radius: { measurand: double.outer_radius, edge: outside, of: every place, nominal: 170.0, tolerance: 0.3 }
  double_diameter: { measurand: double.outer_diameter, edge: outside, of: every place, nominal: 340.0, tolerance: 0.5 }
  overall: { measurand: overall.diameter, of: every place, nominal: 451.0, tolerance: 3.0 }
  round: { measurand: ring.roundness, tolerance: { max: 0.5 } }
  centred: { measurand: ring.offset, tolerance: { max: 0.5 } }
";

#[test]
fn a_sheet_asks_for_all_that_its_table_needs() {
    let folder = Folder::new();
    let table = folder.write("all.yaml", ALL);
    let said = validated(&table, |item, _| sound(item), 0);
    assert!(said.starts_with("conforms          FL-21"), "{said}");
    assert!(!said.contains("not checked"), "{said}");
    // Nothing else would have done: each length of the sheet is needed.
    for item in [
        "treble width",
        "double width",
        "treble_outer radius",
        "outer_bull radius",
    ] {
        let without = |own: &str, at: &str| match at {
            "" | "20" | "6" | "3" => sound(own),
            _ => sound(own).filter(|_| own != item),
        };
        let said = validated(&table, without, 1);
        assert!(said.contains("not checked"), "{item}: {said}");
    }
}

#[test]
fn places_are_numbered_in_the_order_in_which_one_goes_round() {
    for name in ["all", "fenwick"] {
        let table = match name {
            "all" => ringrule::table::Table::read(Source::new("all.yaml", ALL), &()),
            _ => Ok(common::table("fenwick-lane-places.yaml")),
        };
        let rows = plan(&table.expect("sound"), Mounting::Staples, Profile::Round);
        let placed: Vec<_> = rows.iter().filter(|row| !row.places.is_empty()).collect();
        assert!(placed.len() >= 2);
        for row in placed {
            let degrees: Vec<f64> = row
                .places
                .iter()
                .map(|place| place.at.angle().as_degrees())
                .collect();
            assert!(degrees[0].abs() < 1e-9, "the first is at the top");
            assert!(
                degrees.windows(2).all(|pair| pair[0] < pair[1]),
                "{degrees:?}"
            );
            // House rule: four places decide, of a diameter four diameters.
            let turn = if row.item.is_across() { 180.0 } else { 360.0 };
            assert!(degrees.len() >= 4 && degrees.iter().all(|at| *at < turn));
            let numbers = row.places.iter().map(|place| place.number);
            assert!(numbers.eq(1..=row.places.len()));
        }
    }
}

#[test]
fn a_sheet_with_places() {
    insta::assert_snapshot!("worksheet-places", blank(PLACES));
    let table = Folder::new();
    let all = table.write("all.yaml", ALL);
    insta::assert_snapshot!("worksheet-all-places", blank(&all));
    let page = run(
        &[
            "worksheet",
            "--table",
            PLACES,
            "--mounting",
            "staples",
            "--format",
            "html",
        ],
        0,
    );
    let drawing = "1 at 20, 2 at 4, 3 at 6, 4 at 2, 5 at 3, 6 at 16, 7 at 11, 8 at 12.";
    assert!(page.contains(drawing), "{page}");
    assert!(
        page.contains("<th scope=\"col\" class=\"room\">8 at 12</th>"),
        "{page}"
    );
    // A table that speaks of means asks for none, on strip boards too: there the
    // limit on every place is not for them.
    let page = run(
        &[
            "worksheet",
            "--table",
            "tolerances/wdf.yaml",
            "--mounting",
            "staples",
            "--format",
            "html",
        ],
        0,
    );
    assert!(!page.contains("Where to measure") && !page.contains("8 at 12"));
}

#[cfg(feature = "pdf")]
#[test]
fn a_sheet_with_places_on_paper() {
    use ringrule::readings::PlannedItem;
    use ringrule::report::{PaperSize, SheetHead, worksheet_pdf};
    let table = common::table("fenwick-lane-places.yaml");
    let head = SheetHead {
        board: Some("FL-21"),
        name: None,
        mounting: Mounting::Staples,
        profile: Profile::Round,
        table: &table,
        inspector: None,
        instrument: None,
    };
    let mut rows = plan(&table, head.mounting, head.profile);
    let pdf = |rows: &[PlannedItem]| {
        let pages = [PaperSize::A4, PaperSize::Letter].map(|paper| {
            let made = worksheet_pdf(&[(head, rows.to_vec())], paper, Vec::new()).expect("made");
            assert!(made.missing.is_empty(), "{:?}", made.missing);
            made.pages
        });
        pages[0].max(pages[1])
    };
    assert!(pdf(&rows) <= 2, "places need a second page at most");
    for row in &mut rows {
        row.places.clear();
    }
    assert_eq!(pdf(&rows), 1);
}
