//! What lengths share when one instrument took them, and what when several did.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::board;
use common::sheets::{sheet, small, yaml};
use ringrule::board::{Band, Edge, Quantity, RingWire};
use ringrule::document::{CsvFormat, Source};
use ringrule::readings::{PooledValue, Sheet, pool};

/// Standard uncertainty of an item after pooling, in mm.
fn uncertainty(sheets: &[Sheet], item: &str) -> f64 {
    let pooled = pool(sheets).expect("poolable");
    let found = pooled
        .items
        .iter()
        .find(|pooled| pooled.item.to_string() == item);
    match &found.expect("the item").value {
        PooledValue::Length { uncertainty, .. } => uncertainty.expect("known").standard(),
        _ => panic!("a length"),
    }
}

#[test]
fn the_same_instrument_twice_is_not_half_as_wrong() {
    // JCGM 100, 4.3.7, from memory: ± 0.03 mm, rectangular, is 0.03/√3.
    let systematic = 0.03 / 3.0_f64.sqrt();
    // The step, 0.0001 mm, is nothing beside it.
    let one = sheet(&small("A", "calliper 1", "8.0100,8.0100,8.0100"));
    let again = sheet(&small("B", "calliper 1", "8.0101,8.0101,8.0101"));
    let close = |u: f64, expected: f64| assert!((u / expected - 1.0).abs() < 1e-4, "{u}");
    close(
        uncertainty(std::slice::from_ref(&one), "treble width"),
        systematic,
    );
    close(
        uncertainty(&[one.clone(), again], "treble width"),
        systematic,
    );
    // Another instrument's error is its own: it averages out by √2.
    let other = sheet(&small("B", "calliper 2", "8.0101,8.0101,8.0101"));
    close(
        uncertainty(&[one, other], "treble width"),
        systematic / 2.0_f64.sqrt(),
    );
}

#[test]
fn an_instrument_without_a_name_may_be_any_of_the_others() {
    let systematic = 0.03 / 3.0_f64.sqrt();
    let sheets = |names: [&str; 3]| {
        let readings = ["8.0100,,", "8.0101,,", "8.0102,,"];
        let pairs = ["A", "B", "C"].into_iter().zip(names).zip(readings);
        let sheets = pairs.map(|((who, name), readings)| sheet(&small(who, name, readings)));
        sheets.collect::<Vec<Sheet>>()
    };
    // Two are known to differ: by hand, √2 remains of √3.
    let two = sheets(["calliper 1", "calliper 2", ""]);
    for order in [[0, 1, 2], [2, 0, 1], [1, 2, 0]] {
        let u = uncertainty(&order.map(|index| two[index].clone()), "treble width");
        assert!((u * 2.0_f64.sqrt() / systematic - 1.0).abs() < 1e-3, "{u}");
    }
    // All may be one.
    let u = uncertainty(&sheets(["", "", "calliper 2"]), "treble width");
    assert!((u / systematic - 1.0).abs() < 1e-3, "{u}");
}

#[test]
fn one_name_for_two_instruments_is_refused() {
    let one = sheet(&small("A", "c", "8.01,,"));
    let other = sheet(&small("B", "c", "8.01,,").replace("0.03 mm", "0.05 mm"));
    let faults = pool(&[one, other]).expect_err("refused");
    assert_eq!(faults.len(), 1, "{faults:?}");
}

#[test]
fn one_reading_and_equal_readings_rest_on_the_instrument() {
    // By hand, from the step r/√12: where nobody repeated a reading two steps
    // stand for the scatter (house rule), where all are equal the step does; the
    // touch is 1.25 times that (house rule).
    let step = 0.01 / 12.0_f64.sqrt();
    let text = small("A", "calliper 1", "8.01,,")
        .replace("0.0001", "0.01")
        .replace("max error,,,0.03 mm,,\n", "");
    let close = |text: &str, expected: f64| {
        let u = uncertainty(&[sheet(text)], "treble width");
        assert!((u / expected - 1.0).abs() < 1e-9, "{u} is not {expected}");
    };
    close(
        &text,
        (0.02_f64.powi(2) * (1.0 + 1.25 * 1.25) + step * step).sqrt(),
    );
    let equal = text.replace("8.01,,", "8.01,8.01,8.01");
    close(&equal, step * (1.0 / 3.0 + 1.25 * 1.25 + 1.0_f64).sqrt());
    let bare = text.replace("resolution,,,0.01 mm,,\n", "");
    let pooled = pool(&[sheet(&bare)]).expect("poolable");
    let PooledValue::Length { uncertainty, .. } = &pooled.items[0].value else {
        panic!("a length");
    };
    assert_eq!(
        *uncertainty, None,
        "nothing is known, and nothing is made up"
    );
}

#[test]
fn the_order_of_sheets_with_an_unnamed_instrument_says_nothing() {
    let named = small("A", "x", "8.01,8.02,8.03") + "ring wires,,,16 SWG,,\n";
    let unnamed = named.replace(",,,x,", ",,,,");
    let unnamed = unnamed
        .replace("0.03 mm", "0.3 mm")
        .replace(",,,A,", ",,,B,");
    let unnamed = unnamed.replace("8.01,8.02,8.03", "8.02,8.02,8.03");
    let (named, unnamed) = (sheet(&named), sheet(&unnamed));
    let results = [[&named, &unnamed], [&unnamed, &named]].map(|order| {
        let board = common::board(&yaml(&order.map(Clone::clone)));
        let input = board.construction.inputs.into_iter();
        let mut widths = input.filter(|input| input.wire.is_none());
        let input = widths.next().expect("the width");
        (
            input.value.as_mm(),
            input.uncertainty.expect("known").standard(),
        )
    });
    let [there, back] = results;
    assert!((there.0 - back.0).abs() < 1e-12 && (there.1 - back.1).abs() < 1e-12);
}

#[test]
fn another_name_for_an_independent_instrument_is_safe() {
    // Two lengths by one instrument whose errors are independent from length to
    // length, and by two names for it: the same u of the width between them.
    let text = |outer: &str, wire: &str, errors: &str| {
        format!(
            "format: ringrule/board/1\nboard: {{ id: X }}\nmounting: staples\nunits: mm\n\
             instruments:\n  a: {{ max_error: 0.05, errors: {errors} }}\n  \
             b: {{ max_error: 0.05, errors: {errors} }}\nwires: {{ rings: {{ size: 1.6, \
             instrument: {wire} }} }}\nrings:\n  \
             treble_inner: {{ edge: inside, instrument: a, radius: 95.8 }}\n  \
             treble_outer: {{ edge: outside, instrument: {outer}, radius: 107.0 }}\n"
        )
    };
    let u = |outer: &str, wire: &str, errors: &str| {
        let board = board(&text(outer, wire, errors));
        let construction = &board.construction;
        let sum = construction.edge_radius(RingWire::TrebleInner, Edge::Outside);
        let difference = construction.width_from_radii(Band::Treble, Edge::Inside);
        [sum, difference].map(|form| {
            let u = form.expect("recorded").uncertainty(&construction.inputs);
            u.expect("known").standard()
        })
    };
    let one = u("a", "a", "independent");
    for (outer, wire) in [("a", "b"), ("b", "a"), ("b", "b")] {
        let split = u(outer, wire, "independent");
        let safe = one
            .iter()
            .zip(split)
            .all(|(one, two)| two >= one * (1.0 - 1e-12));
        assert!(safe, "{one:?} {split:?}");
    }
    // By hand, 0.05/√3 common to radius and wire is 0.0577, and 0.0408 if not:
    // there it matters which instrument it was.
    let ([common, _], [split, _]) = (u("a", "a", "common"), u("a", "b", "common"));
    assert!((common - 0.057_735).abs() < 1e-6, "{common}");
    assert!((split - 0.040_825).abs() < 1e-6, "{split}");
}

/// An invented sheet: a calliper for what it reaches, a long rule for the rest.
const TWO_INSTRUMENTS: &str = "\
item,edge,unit,reading 1,reading 2,reading 3,instrument
board,,,X,,,
mounting,,,staples,,,
inspector,,,A. Ashdown,,,
instrument,,,calliper 1,,,
resolution,,,0.01 mm,,,
max error,,,0.03 mm,,,
resolution,,,0.5 mm,,,long rule
max error,,,0.4 mm,,,long rule
overall diameter,,mm,451.0,451.5,451.0,long rule
treble width,inside,mm,8.00,8.01,8.00,
double width,inside,mm,8.01,8.01,8.02,calliper 1
";

#[test]
fn a_row_of_a_sheet_may_name_its_own_instrument() {
    let pooled = pool(&[sheet(TWO_INSTRUMENTS)]).expect("poolable");
    let file = yaml(&[sheet(TWO_INSTRUMENTS)]);
    assert!(file.contains("instrument: long rule"), "{file}");
    assert!(!file.contains("unidentified"), "{file}");
    // JCGM 100, 4.3.7, from memory: the error of an instrument is MPE/√3.
    let board = board(&file);
    for (quantity, error) in [
        (Quantity::Overall, 0.4),
        (Quantity::Width(Band::Treble), 0.03),
        (Quantity::Width(Band::Double), 0.03),
    ] {
        let mut inputs = board.construction.inputs.iter();
        let input = inputs.find(|input| input.quantity == quantity);
        let taken = input.and_then(|input| input.taken()).expect("taken");
        let components = taken.components.as_ref().expect("known");
        let own = components.instruments.first().expect("one").standard;
        let expected: f64 = error / 3.0_f64.sqrt();
        assert!((own - expected).abs() < 1e-9, "{quantity} {own} {expected}");
    }
    assert_eq!(pooled.board.instruments.len(), 2);
    // The two widths share the calliper, and the overall diameter does not.
    let taking = |quantity: Quantity| {
        let mut inputs = board.construction.inputs.iter();
        let input = inputs.find(|input| input.quantity == quantity);
        let taken = input.and_then(|input| input.taken()).expect("taken");
        taken.takings.first().expect("one").instrument
    };
    let treble = taking(Quantity::Width(Band::Treble));
    assert_eq!(treble, taking(Quantity::Width(Band::Double)));
    assert_ne!(treble, taking(Quantity::Overall));
}

#[test]
fn an_instrument_of_a_row_must_be_described_once_and_as_elsewhere() {
    let fault = |from: &str, to: &str| {
        let text = TWO_INSTRUMENTS.replacen(from, to, 1);
        let invalid = Sheet::read(Source::new("s.csv", text), CsvFormat::default());
        let faults = invalid.expect_err("refused").diagnostics;
        assert_eq!(faults.len(), 1, "{faults:?}");
        faults.first().expect("one").message.clone()
    };
    let unknown = fault("451.0,long rule", "451.0,short rule");
    assert!(
        unknown.contains("does not describe the instrument `short rule`"),
        "{unknown}"
    );
    let stray = fault("board,,,X,,,", "board,,,X,,,long rule");
    assert!(
        stray.contains("`board` is not about an instrument"),
        "{stray}"
    );
    let twice = fault("max error,,,0.03 mm,,,", "max error,,,0.03 mm,,,long rule");
    assert!(twice.contains("`max error` has two rows"), "{twice}");
    let own = fault("max error,,,0.03 mm,,,", "max error,,,0.03 mm,,,calliper 1");
    assert!(own.contains("is the sheet's own instrument"), "{own}");
    // Another sheet that describes the rule otherwise.
    let other = TWO_INSTRUMENTS
        .replace("A. Ashdown", "B. Birch")
        .replace("0.4 mm", "0.6 mm")
        .replace("8.00", "8.02");
    let faults = pool(&[sheet(TWO_INSTRUMENTS), sheet(&other)]).expect_err("contradictory");
    assert!(format!("{faults:?}").contains("`long rule` is described otherwise"));
}
