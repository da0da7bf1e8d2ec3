//! Lengths measured warm or cold, brought to 20 °C.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{board, json, printed};
use proptest::prelude::*;
use ringrule::board::{Band, Board, Cause, CommonError, Edge, Input, Quantity, RingWire, Sharing};
use ringrule::conformity::budget;
use ringrule::document::{InvalidFile, Source};

const WARM: &str = include_str!("fixtures/board-warm.yaml");

/// The same board with another statement on temperature.
fn with(temperature: &str) -> Board {
    board(&stating(temperature))
}

fn stating(temperature: &str) -> String {
    let (rest, _) = WARM.split_once("temperature:").expect("it has one");
    format!("{rest}{temperature}\n")
}

fn input(board: &Board, quantity: Quantity) -> &Input {
    let inputs = &board.construction.inputs;
    let found = inputs.iter().find(|input| input.quantity == quantity);
    found.expect("recorded")
}

const TREBLE_OUTER: Quantity = Quantity::Ring(RingWire::TrebleOuter, false);

fn close(value: f64, expected: f64) {
    assert!(
        (value / expected - 1.0).abs() < 1e-9,
        "{value} is not {expected}"
    );
}

#[test]
fn a_length_by_hand() {
    // By hand, after JCGM 100, H.1 (from memory), to the reference temperature
    // of ISO 1:2022: L20 = 107/(1 + 12e-6·10) = 107/1.00012 = 106.987161541.
    // u of it: of the length 0.02/1.00012; of the temperature, 1 K:
    // L20·12e-6·1/1.00012; of the coefficient, 2e-6/K, with the term of second
    // order: L20·2e-6·√(10² + 1²)/1.00012.
    let board = board(WARM);
    let length = input(&board, TREBLE_OUTER);
    let at_20 = 107.0 / 1.00012;
    close(length.value.as_mm(), at_20);
    close(at_20, 106.987_161_540_6);
    let expected = [
        (Cause::Stated, 0.019_997_600_3),
        (Cause::Temperature, 0.001_283_691_9),
        (Cause::Expansion, 0.002_150_157_3),
    ];
    assert_eq!(length.errors.len(), expected.len());
    let mut squares = 0.0;
    for (part, (cause, u)) in length.errors.iter().zip(expected) {
        assert_eq!(part.cause, cause);
        assert!((part.uncertainty.standard() - u).abs() < 1e-9, "{part:?}");
        squares += u * u;
    }
    let u = length.uncertainty.expect("known").standard();
    assert!((u - f64::sqrt(squares)).abs() < 1e-9, "{u}");
}

#[test]
fn the_error_is_common_to_all_lengths() {
    // By hand: of the difference of two radii, 107 and 97 mm, remains what 10 mm
    // have: the relative parts of the test before, times 10/1.00012.
    let board = board(WARM);
    let construction = &board.construction;
    let width = construction.width_from_radii(Band::Treble, Edge::Apex);
    let width = width.expect("both radii");
    let lines = budget(&width, &construction.inputs);
    let of = |cause: Cause| {
        let mut lines = lines.iter().filter(|line| line.cause == cause);
        let line = lines.next().expect("a line");
        assert!(lines.next().is_none(), "one line: {cause:?}");
        line
    };
    // Both were taken to the outside edge: the wires cancel.
    let relative = 12e-6 / 1.00012;
    let temperature = of(Cause::Temperature);
    close(temperature.contribution(), relative * 10.0 / 1.00012);
    assert_eq!(temperature.inputs.len(), 2);
    assert_eq!(temperature.common, Some(CommonError::Temperature(0)));
    close(
        of(Cause::Expansion).contribution(),
        2e-6 * f64::sqrt(101.0) / 1.00012 * 10.0 / 1.00012,
    );
}

#[test]
fn gauges_are_not_measured_and_what_is_unknown_stays_so() {
    let (warm, plain) = (board(WARM), with(""));
    let gauge = input(&warm, Quantity::RingWires);
    let named = input(&plain, Quantity::RingWires);
    assert_eq!((gauge.value, &gauge.errors), (named.value, &named.errors));
    let wire = input(&warm, Quantity::SectorWires);
    close(wire.value.as_mm(), 1.6 / 1.00012);
    assert_eq!(wire.wire.map(|wire| wire.width), Some(wire.value));
    // No uncertainty is stated: that of the temperature alone is none.
    let bull = input(&warm, Quantity::Ring(RingWire::InnerBull, true));
    close(bull.value.as_mm(), 12.7 / 1.00012);
    assert_eq!(bull.uncertainty, None);
}

#[test]
fn a_scale_as_warm_as_the_board_reads_short_by_as_much() {
    let same = with(
        "temperature: { at: 30 °C, expansion: 12e-6 /K, instrument_expansion: 12e-6 /K, \
         instrument_expansion_uncertainty: 2e-6 /K }",
    );
    let length = input(&same, TREBLE_OUTER);
    close(length.value.as_mm(), 107.0);
    // By hand: 1e-6/K times 10 K times 107 mm, over 1.00012.
    let part = length.errors.last().expect("one");
    assert_eq!(part.cause, Cause::InstrumentExpansion);
    close(part.uncertainty.standard(), 107.0 * 1e-5 / 1.00012);
    // By hand: (1 + 8e-5)/(1 + 12e-5).
    let other =
        with("temperature: { at: 30 °C, expansion: 12e-6 /K, instrument_expansion: 8 ppm/K }");
    close(
        input(&other, TREBLE_OUTER).value.as_mm(),
        107.0 * 1.00008 / 1.00012,
    );
}

#[test]
fn at_20_degrees_a_doubtful_temperature_still_counts() {
    let doubtful = with(
        "temperature: { at: 20 °C, uncertainty: 4 K, expansion: 10e-6 /K, \
         expansion_uncertainty: 4e-6 /K }",
    );
    let length = input(&doubtful, TREBLE_OUTER);
    assert_eq!(length.value.as_mm().to_bits(), 107.0_f64.to_bits());
    // By hand: 107·10e-6·2 and, of second order, 107·2e-6·2.
    let [_, temperature, expansion] = length.errors.as_slice() else {
        panic!("three parts: {:?}", length.errors);
    };
    close(temperature.uncertainty.standard(), 107.0 * 2e-5);
    close(expansion.uncertainty.standard(), 107.0 * 4e-6);
}

#[test]
fn an_offset_to_the_left_moves_to_the_middle_too() {
    let text = stating("temperature: { at: 45 °C, uncertainty: 1 K, expansion: 20e-6 /K }");
    let text = text.replace(
        "treble_outer: { radius: 107.0,",
        "treble_outer: { offset: [-0.6, 0.3], offset_uncertainty: 0.1, radius: 107.0,",
    );
    let board = board(&text);
    let offsets: Vec<&Input> = board
        .construction
        .inputs
        .iter()
        .filter(|input| matches!(input.quantity, Quantity::Offset(..)))
        .collect();
    let [left, up] = offsets.as_slice() else {
        panic!("two offsets");
    };
    close(left.value.as_mm(), -0.6 / 1.0005);
    close(up.value.as_mm(), 0.3 / 1.0005);
    let last = |input: &Input| input.errors.last().map(|part| part.sharing);
    assert_eq!(last(left), Some(Sharing::Own));
    assert_eq!(last(up), Some(Sharing::Common(CommonError::Temperature(0))));
}

#[test]
fn the_adjustment_is_that_of_lengths_at_20_degrees() {
    let widths = "widths: { treble: { width: 7.0, edge: inside, uncertainty: 0.04 } }\n";
    let warm = board(&stating(&format!(
        "{widths}temperature: {{ at: 30 °C, expansion: 12e-6 /K }}"
    )));
    let mut by_hand = stating(widths);
    for length in ["107.0", "97.0", "7.0"] {
        let at_20 = length.parse::<f64>().expect("a number") / 1.00012;
        by_hand = by_hand.replace(&format!(": {length},"), &format!(": {at_20:.12},"));
    }
    // Uncertainties are of the same lengths.
    let u_at_20 = format!("uncertainty: {:.12}", 0.04 / 1.00012);
    let by_hand = board(&by_hand.replace("uncertainty: 0.04", &u_at_20));
    for ring in [RingWire::TrebleInner, RingWire::TrebleOuter] {
        let radius = |board: &Board| {
            let form = board.construction.edge_radius(ring, Edge::Outside);
            board.construction.value(&form.expect("placed")).as_mm()
        };
        close(radius(&warm), radius(&by_hand));
        let recorded = if ring == RingWire::TrebleOuter {
            107.0
        } else {
            97.0
        };
        let moved = radius(&warm) - recorded / 1.00012;
        assert!(moved.abs() > 0.01, "it was adjusted: {moved}");
    }
}

#[test]
fn inches_and_fahrenheit_give_the_same() {
    let metric = board(
        "format: ringrule/board/1\nboard: { id: A }\nmounting: staples\nunits: mm\n\
         rings: { treble_outer: { radius: 101.6, edge: outside, uncertainty: 0.0508 } }\n\
         temperature: { at: 30 °C, uncertainty: 1 K, expansion: 18e-6 /K, \
         expansion_uncertainty: 1.8 ppm/K }\n",
    );
    let imperial = board(
        "format: ringrule/board/1\nboard: { id: A }\nmounting: staples\nunits: in\n\
         rings: { treble_outer: { radius: 4, edge: outside, uncertainty: 0.002 } }\n\
         temperature: { at: 86 °F, uncertainty: 1.8 °F, expansion: 10e-6 /°F, \
         expansion_uncertainty: 1 ppm/°F }\n",
    );
    let (metric, imperial) = (input(&metric, TREBLE_OUTER), input(&imperial, TREBLE_OUTER));
    close(imperial.value.as_mm(), metric.value.as_mm());
    for (a, b) in imperial.errors.iter().zip(&metric.errors) {
        assert_eq!(a.cause, b.cause);
        close(a.uncertainty.standard(), b.uncertainty.standard());
    }
    assert_eq!(imperial.errors.len(), 3);
}

proptest! {
    #[test]
    fn no_coefficient_and_one_of_zero_change_nothing(
        celsius in -30.0..60.0_f64,
        kelvins in 0.0..20.0_f64,
    ) {
        let plain = with("").construction;
        for statement in [
            format!("temperature: {celsius} °C"),
            format!("temperature: {{ at: {celsius} °C, uncertainty: {kelvins} K }}"),
            format!(
                "temperature: {{ at: {celsius} °C, uncertainty: {kelvins} K, expansion: 0 /K, \
                 expansion_uncertainty: 0 /K }}"
            ),
        ] {
            // Equal numbers are equal bits here: none is zero.
            prop_assert_eq!(&with(&statement).construction, &plain);
        }
    }

    #[test]
    fn every_length_has_one_factor(celsius in -30.0..60.0_f64, ppm in 0.0..300.0_f64) {
        let plain = with("").construction;
        let brought = with(&format!("temperature: {{ at: {celsius} °C, expansion: {ppm} ppm/K }}"));
        let factor = brought.temperature.expect("stated").factor();
        prop_assert!((factor * (1.0 + ppm * 1e-6 * (celsius - 20.0)) - 1.0).abs() < 1e-12);
        for (was, is) in plain.inputs.iter().zip(&brought.construction.inputs) {
            let named = was.wire.is_some_and(|wire| wire.gauge.is_some());
            let expected = was.value.as_mm() * if named { 1.0 } else { factor };
            prop_assert!((is.value.as_mm() - expected).abs() < 1e-12);
        }
    }
}

fn refused(temperature: &str) -> InvalidFile {
    let text = stating(temperature);
    Board::read(Source::new("warm.yaml", text)).expect_err(temperature)
}

#[test]
fn what_cannot_be_is_said_at_its_place() {
    let line = stating("").lines().count();
    for (temperature, column, code, remedy) in [
        ("temperature: 27", 14, "notation", "`27 °C`"),
        ("temperature: \"27\"", 14, "notation", "`27 °C`"),
        ("temperature: 300 K", 14, "notation", "`80.5 °F`"),
        ("temperature: nan °C", 14, "notation", "`27 °C`"),
        ("temperature: 1e999 °C", 14, "notation", "`27 °C`"),
        ("temperature: -273 °C", 14, "out-of-range", "-30 to 60 °C"),
        (
            "temperature: { at: 27 °C, uncertainty: -1 K }",
            40,
            "out-of-range",
            "0 to 20 K",
        ),
        (
            "temperature: { at: 27 °C, uncertainty: 1 mm }",
            40,
            "notation",
            "`1 K`",
        ),
        (
            "temperature: { at: 27 °C, expansion: 12 /K }",
            38,
            "out-of-range",
            "exponent",
        ),
        (
            "temperature: { at: 27 °C, expansion: -12e-6 /K }",
            38,
            "out-of-range",
            "300e-6",
        ),
        (
            "temperature: { at: 27 °C, expansion: 12e-6 }",
            38,
            "notation",
            "`11.5 ppm/K`",
        ),
        (
            "temperature: { at: 27 °C, expansion: nan /K }",
            38,
            "notation",
            "`11.5 ppm/K`",
        ),
        (
            "temperature: { at: 27 °C, expansion_uncertainty: 1 ppm/K }",
            50,
            "contradiction",
            "add `expansion",
        ),
        (
            "temperature: { at: 27 °C, instrument_expansion: 1 ppm/K }",
            49,
            "contradiction",
            "add `expansion",
        ),
        (
            "temperature: { expansion: 12e-6 /K }",
            1,
            "missing-key",
            "at",
        ),
    ] {
        let refusal = refused(temperature);
        let [problem] = refusal.diagnostics.as_slice() else {
            panic!("one problem: {temperature}: {:?}", refusal.diagnostics);
        };
        let place = (problem.place.from.line, problem.place.from.column);
        assert_eq!(place, (line, column), "{temperature}");
        assert_eq!(problem.code, code, "{temperature}");
        let found = problem.remedy.as_deref().unwrap_or_default();
        assert!(found.contains(remedy), "{temperature}: {found}");
    }
    // All in one run.
    let all = refused(
        "temperature: { at: 27 K, uncertainty: -1 K, expansion: 5, instrument_expansion_uncertainty: 1 ppm/K }",
    );
    assert_eq!(all.diagnostics.len(), 4, "{:?}", all.diagnostics);
}

#[test]
fn budget_report_and_json_name_it() {
    let path = "tests/fixtures/board-warm.yaml";
    let arguments = ["validate", path, "--table", "tolerances/wdf.yaml"];
    let budget = printed(&[&arguments[..], &["--budget", "all"]].concat());
    // Cells are broken to fit.
    for words in [
        "coefficient of expansion,",
        "temperature of measurement,",
        "brought from 30 °C to 20 °C by the factor 0.999880",
    ] {
        assert!(budget.contains(words), "{budget}");
    }
    let json = json(&printed(&[&arguments[..], &["--format", "json"]].concat()));
    let temperature = &json["boards"][0]["temperature"];
    let number = |key: &str| temperature[key].as_f64().expect(key);
    close(number("celsius"), 30.0);
    close(number("standard_uncertainty"), 1.0);
    close(number("expansion"), 12e-6);
    close(number("expansion_standard_uncertainty"), 2e-6);
    close(number("factor"), 1.0 / 1.00012);
    let report = printed(&[
        "report",
        path,
        "--table",
        "tolerances/wdf.yaml",
        "--format",
        "markdown",
        "--detail",
        "full",
    ]);
    for words in [
        "30 °C ± 2 K; measured lengths brought to 20 °C (ISO 1:2022) by the factor 0.999880: \
         board 12 ppm/K ± 4 ppm/K",
        "measured ones brought to 20 °C",
    ] {
        assert!(report.contains(words), "{report}");
    }
}
