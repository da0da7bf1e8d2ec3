//! What several people read at places: compared, combined and kept place by place, and
//! wrong places refused.
#![allow(clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod common;

use std::fs;

use common::sheets::{sheet, yaml};
use common::{board, ringrule};
use ringrule::board::{Band, Bearing, Board, Cause, CommonError, Quantity, Sharing};
use ringrule::document::{CsvFormat, Source};
use ringrule::readings::{Pooled, PooledItem, Sheet, pool};

/// A small sheet with the rows given, invented.
fn small(inspector: &str, rows: &str) -> String {
    format!(
        "item,at,edge,unit,reading 1,reading 2,reading 3\nboard,,,,X,,\nmounting,,,,staples,,\n\
         inspector,,,,{inspector},,\ninstrument,,,,c,,\nresolution,,,,0.01 mm,,\n\
         max error,,,,0.03 mm,,\n{rows}"
    )
}

/// Four places of a treble, and at one of them what somebody read.
fn four(inspector: &str, at_six: &str) -> Sheet {
    sheet(&small(
        inspector,
        &format!(
            "treble width,20,inside,mm,7.99,8.00,8.01\ntreble width,6,inside,mm,{at_six}\n\
             treble width,3,inside,mm,8.01,7.99,8.00\ntreble width,279°,inside,mm,8.00,8.01,7.99\n"
        ),
    ))
}

fn pooled(sheets: &[Sheet]) -> Pooled {
    match pool(sheets) {
        Ok(pooled) => pooled,
        Err(faults) => panic!("{faults:?}"),
    }
}

#[test]
fn people_are_compared_place_by_place_with_one_error_rate() {
    let a = four("A", "8.00,8.01,7.99");
    let agreeing = pooled(&[a.clone(), four("B", "8.01,8.00,8.02")]);
    assert_eq!(agreeing.items.len(), 4);
    assert_eq!(agreeing.disputed().count(), 0);
    let differing = pooled(&[a, four("B", "8.10,8.11,8.09")]);
    let disputed: Vec<String> = differing.disputed().map(PooledItem::name).collect();
    assert_eq!(disputed, ["treble width at 6"]);
    // Holm: the smallest of four probabilities times four (published; Scandinavian
    // Journal of Statistics 6, 1979, from memory).
    let six = differing.disputed().next().and_then(|item| item.taken());
    let agreement = six.and_then(|taken| taken.agreement.as_ref()).expect("two");
    assert!((agreement.corrected / agreement.probability - 4.0).abs() < 1e-9);
    // By hand: s = 0.01 of every cell, on 4·2·2 = 16 degrees; the calliper is the same.
    // F = 0.1²/2 over 0.01²/3 + 0.01²/12 = 120.
    assert!((agreement.chi_square - 120.0).abs() < 1e-6, "{agreement:?}");
}

#[test]
fn the_file_keeps_who_read_what_where() {
    let text = yaml(&[four("A", "8.00,8.01,7.99"), four("B", "8.01,8.00,8.02")]);
    let board = board(&text);
    let inputs: Vec<_> = board.construction.inputs.iter().collect();
    let places: Vec<String> = inputs.iter().map(|input| input.name()).collect();
    let names = ["20", "6", "3", "279°"].map(|at| format!("direct treble width at {at}"));
    assert_eq!(places, names);
    let six = inputs[1].taken().expect("taken");
    let people: Vec<_> = six.takings.iter().map(|of| of.by.as_str()).collect();
    assert_eq!(people, ["A", "B"]);
    assert_eq!(six.takings[1].series.readings(), [8.01, 8.00, 8.02]);
    assert!((inputs[1].value.as_mm() - 8.005).abs() < 1e-9);
    // The order of sheets and rows says nothing.
    let reversed = |sheet: &Sheet| {
        let mut sheet = sheet.clone();
        sheet.entries.reverse();
        sheet
    };
    let (a, b) = (four("A", "8.00,8.01,7.99"), four("B", "8.01,8.00,8.02"));
    assert_eq!(text, yaml(&[reversed(&a), reversed(&b)]));
}

#[test]
fn a_heavy_hand_does_not_average_out_over_places() {
    let text = yaml(&[four("A", "8.00,8.01,7.99"), four("B", "8.01,8.00,8.02")]);
    let board = board(&text);
    let construction = &board.construction;
    let width = construction.widths[Band::Treble].as_ref().expect("taken");
    let u = width
        .width
        .uncertainty(&construction.inputs)
        .expect("known");
    let of = |cause| {
        let errors = construction.inputs[0].errors.iter();
        let found = errors.clone().find(|part| part.cause == cause);
        found.expect("a part").uncertainty.standard()
    };
    let touches = construction.inputs.iter().flat_map(|input| &input.errors);
    let touches = touches.filter(|part| part.cause == Cause::BetweenPeople);
    let shared = Sharing::Unknown(CommonError::BetweenPeople(0));
    assert!(touches.clone().count() == 4 && touches.into_iter().all(|part| part.sharing == shared));
    // By hand: scatter 0.01/√6 and steps 0.01/√12/√2 at each of four places; the
    // touch of two people, 1.25·0.01/√2 (house rule), and the calliper's 0.03/√3 are
    // the same at all of them.
    let touch = 1.25 * 0.01 / libm::sqrt(2.0);
    assert!((of(Cause::BetweenPeople) - touch).abs() < 1e-9);
    let each = 0.01 * 0.01 / 6.0 + 0.01 * 0.01 / 24.0;
    let whole = libm::sqrt(each / 4.0 + touch * touch + 0.03 * 0.03 / 3.0);
    assert!((u.standard() - whole).abs() < 1e-7, "{u:?} {whole}");
}

#[test]
fn a_diameter_is_one_place_from_either_side() {
    let rows = |at: &str| {
        small(
            &format!("from {at}"),
            &format!(
                "overall diameter,{at},,mm,451.00,451.02,451.0{}\n",
                at.len()
            ),
        )
    };
    let made = pooled(&[sheet(&rows("20")), sheet(&rows("3"))]);
    assert_eq!(made.items.len(), 1);
    assert_eq!(made.items[0].taken().expect("taken").people(), 2);
    assert!(made.items[0].at.expect("a place").is(Bearing::Sector(0)));
    // In a file that one person wrote, too.
    let text = "format: ringrule/board/1\nboard: { id: X }\nmounting: staples\nunits: mm\noverall: \
                { diameter: { readings: [{ at: 20, value: 451.0 }, { at: 3, value: 451.2 }] } }\n";
    let read = board(text);
    assert_eq!(read.construction.inputs.len(), 1);
    assert!((read.construction.inputs[0].value.as_mm() - 451.1).abs() < 1e-9);
    assert_eq!(read.construction.inputs[0].quantity, Quantity::Overall);
}

#[test]
fn a_copied_sheet_is_known_by_its_places() {
    let one = "treble width,20,inside,mm,7.99,8.00,8.01\ntreble width,6,inside,mm,8.01,8.01,8.00\n";
    let swapped = one
        .replace(",20,", ",x,")
        .replace(",6,", ",20,")
        .replace(",x,", ",6,");
    let a = sheet(&small("A", one));
    assert!(pool(&[a.clone(), sheet(&small("B", one))]).is_err());
    assert!(pool(&[a, sheet(&small("B", &swapped))]).is_ok());
}

#[test]
fn wrong_places_are_reported_at_their_cells_in_one_run() {
    let folder = tempfile::tempdir().expect("a folder");
    let rows = "treble width,21,inside,mm,8.0,,\ndouble width,north,inside,mm,8.0,,\n\
                overall diameter,400°,,mm,451,,\nsector wires,20,,mm,1.6,,\n\
                double_outer diameter,20,outside,mm,340,,\ndouble_outer diameter,3,outside,mm,340,,\n\
                treble_outer radius,20,outside,mm,107,,\ntreble_outer radius,0°,outside,mm,107,,\n\
                outer_bull diameter,20,inside,mm,31.8,,\nouter_bull diameter,,inside,mm,31.8,,\n\
                date,20,,,2026-11-21,,\n";
    let path = folder.path().join("bad.csv");
    fs::write(&path, small("A", rows)).expect("written");
    let output = ringrule(&["pool", &path.to_string_lossy()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    let folder = folder.path().to_string_lossy().into_owned();
    insta::assert_snapshot!(said.replace(&folder, "FOLDER"));
}

#[test]
fn sheets_with_places_and_without_are_not_mixed() {
    let with = sheet(&small("A", "treble width,20,inside,mm,8.01,8.00,8.02\n"));
    let without = sheet(&small("B", "treble width,,inside,mm,8.00,8.00,8.01\n"));
    for (one, other, words) in [
        (
            &with,
            &without,
            "was taken without a place here, but at places in",
        ),
        (
            &without,
            &with,
            "was taken at places here, but without a place in",
        ),
    ] {
        let faults = pool(&[one.clone(), other.clone()]).expect_err("refused");
        assert_eq!(faults.len(), 1, "{faults:?}");
        assert!(faults[0].to_string().contains(words), "{}", faults[0]);
    }
}

#[test]
fn what_people_took_at_places_is_read_with_care() {
    let faults = |body: &str| {
        let text = format!(
            "format: ringrule/board/1\nboard: {{ id: X }}\nmounting: staples\nunits: mm\n{body}"
        );
        let read = Board::read(Source::new("b.yaml", text));
        let found = read.expect_err(body).diagnostics;
        assert_eq!(found.len(), 1, "{body}: {found:?}");
        found[0].message.clone()
    };
    let width = |taken: &str| {
        faults(&format!(
            "widths: {{ treble: {{ edge: inside, width: {{ taken: [{taken}] }} }} }}\n"
        ))
    };
    let mixed = "{ by: A, at: 20, readings: [8.0] }, { by: B, readings: [8.0] }";
    assert!(width(mixed).contains("do not say where they were taken"));
    let none = "{ by: A, at: 21, readings: [8.0] }";
    assert!(width(none).contains("`21` is no place around the board"));
    let wire = "wires: { sectors: { taken: [{ by: A, at: 20, readings: [1.6] }] } }\n";
    assert!(faults(wire).contains("has no place around the board"));
}

#[test]
fn decimal_commas_in_places_where_they_are_declared() {
    let text = small("A", "treble width,22.5°,inside,mm,8.01,8.00,8.02\n");
    let continental: Vec<String> = text
        .lines()
        .map(|line| line.replace(',', ";").replace('.', ","))
        .collect();
    let format = CsvFormat {
        separator: ringrule::document::Separator::Semicolon,
        decimal: ringrule::document::DecimalMark::Comma,
    };
    let source = Source::new("s.csv", continental.join("\n"));
    let read = Sheet::read(source, format).expect("declared");
    let at = read.entries[0].at.expect("a place");
    assert!((at.angle().as_degrees() - 22.5).abs() < 1e-9);
    // And on to the file, unrounded.
    let made = yaml(&[sheet(&text)]);
    assert!(made.contains("22.5°"), "{made}");
}
