//! Uncertainties in board files, propagated and decided on.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{BOARD_R, board, ringrule, table};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed};
use ringrule::board::{Basis, Board, Quantity, RingWire};
use ringrule::conformity::{BandOutcome, Judge, Outcome, Verdict, decide, simulate};
use ringrule::document::{Fault, Source};
use ringrule::table::{Decision, DecisionScope};
use ringrule::units::{Length, Percent, Uncertainty};

/// The verdict on a length between 7.8 and 8.2 mm.
fn decide_mm(value: f64, u: f64, rule: Decision) -> Verdict {
    let limits = (Some(Length::mm(7.8)), Some(Length::mm(8.2)));
    let u = Some(Uncertainty::known(u).expect("an uncertainty"));
    let decided = decide(Length::mm(value), u, limits, rule);
    decided.expect("finite numbers").verdict
}

/// Board R with u 0.05 mm on each radius and 0.02 mm on the wires.
fn uncertain_r() -> String {
    BOARD_R
        .replace("units: mm", "units: mm\nuncertainty: { standard: 0.05 }")
        .replace(
            "rings: 16 SWG",
            "rings: { size: 16 SWG, uncertainty: { standard: 0.02 } }",
        )
        .replace(
            "sectors: 16 SWG",
            "sectors: { size: 16 SWG, uncertainty: { standard: 0.02 } }",
        )
        .replace(
            "{ diameter: 12.7, edge: inside }",
            "{ radius: 6.35, edge: inside }",
        )
        .replace(
            "{ diameter: 31.8, edge: inside }",
            "{ radius: 15.9, edge: inside }",
        )
}

/// First order against so many draws, each standard uncertainty to four
/// standard errors of a standard deviation estimated from them, 1/√(2n).
fn agree(draws: usize) {
    let table = table("wdf.yaml");
    let board = board(&uncertain_r());
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let simulation = simulate(&assessment, draws, 7);
    let allowed = 4.0 / (2.0 * draws as f64).sqrt();
    let close = |name: String, first_order: f64, drawn: f64| {
        assert!(
            (drawn / first_order - 1.0).abs() < allowed,
            "{name}: {drawn} {first_order}"
        );
    };
    for finding in &assessment.bands {
        let BandOutcome::Compared(compared) = &finding.outcome else {
            panic!("compared");
        };
        let u = compared.uncertainty.expect("stated").standard();
        let drawn = simulation.deviations[finding.band].expect("drawn");
        close(
            format!("{} deviation", finding.band),
            u,
            drawn.standard_uncertainty.expect("a variance"),
        );
        let u = compared
            .free
            .metal_uncertainty(&board.construction)
            .expect("stated");
        let drawn = simulation.metal_shares[finding.band].expect("drawn");
        close(
            format!("{} metal", finding.band),
            u.value(),
            drawn.standard_uncertainty.expect("a variance"),
        );
    }
    for (finding, drawn) in assessment.limits.iter().zip(&simulation.lengths) {
        if let Outcome::Length(length) = &finding.outcome {
            // A wire given as a gauge was not measured, and is not drawn.
            assert_eq!(length.uncertainty.is_none(), drawn.is_none());
            let (Some(u), Some(drawn)) = (length.uncertainty, drawn) else {
                assert!(finding.limit.measurand.is_gauge());
                continue;
            };
            let u = u.standard();
            close(
                finding.limit.name.clone(),
                u,
                drawn.standard_uncertainty.expect("a variance"),
            );
            // k = 2 holds 95.45 % of a normal quantity.
            let half = (drawn.interval.1 - drawn.interval.0) / 2.0;
            close(
                finding.limit.name.clone(),
                2.0 * u,
                half * (1.0 + allowed / 4.0),
            );
        }
    }
}

#[test]
fn first_order_and_monte_carlo_agree() {
    agree(20_000);
}

#[test]
#[ignore = "a million draws: run with --ignored"]
fn first_order_and_a_million_draws_agree() {
    agree(1_000_000);
}

#[test]
fn the_same_seed_gives_the_same_draws() {
    let table = table("wdf.yaml");
    let board = board(&uncertain_r());
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    assert_eq!(
        simulate(&assessment, 1000, 3),
        simulate(&assessment, 1000, 3)
    );
    assert_ne!(
        simulate(&assessment, 1000, 3),
        simulate(&assessment, 1000, 4)
    );
}

#[test]
fn a_shared_wire_entry_is_one_length_in_two_places() {
    // The treble width from two outside edges and one shared wire: u² = u² +
    // u² + w², by hand.
    let table = table("wdf.yaml");
    let board = board(&uncertain_r());
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let width = assessment
        .limits
        .iter()
        .find(|f| f.limit.name == "treble_width_round");
    let Outcome::Length(width) = &width.expect("in the table").outcome else {
        panic!("a length");
    };
    let expected = (2.0 * 0.05_f64.powi(2) + 0.02_f64.powi(2)).sqrt();
    assert!((width.uncertainty.expect("stated").standard() - expected).abs() < 1e-12);
    let shares: f64 = width.contributions.iter().map(|c| c.share.value()).sum();
    assert!((shares - 100.0).abs() < 1e-9);
}

fn input(board: &Board, quantity: Quantity) -> &ringrule::board::Input {
    let mut inputs = board.construction.inputs.iter();
    inputs
        .find(|input| input.quantity == quantity)
        .expect("recorded")
}

#[test]
fn readings_and_an_instrument_in_a_board_file() {
    let text = BOARD_R
        .replace(
            "units: mm",
            "units: mm\ninstrument: { name: c, resolution: 0.01, max_error: 0.03, calibrated: \
             2026-05-02 }",
        )
        .replace(
            "radius: 107.0",
            "radius: { readings: [106.98, 107.02, 107.05] }",
        );
    let board = board(&text);
    let radius = input(&board, Quantity::Ring(RingWire::TrebleOuter, false));
    // By hand: mean 107.0167, s 0.035119, u_A 0.020276 on 2 degrees; u_B from
    // 0.01/√12 and 0.03/√3 (JCGM 100, F.2.2.1 and 4.3.7, from memory).
    let (a, b) = (
        0.020_276,
        (0.01_f64.powi(2) / 12.0 + 0.03_f64.powi(2) / 3.0).sqrt(),
    );
    let u = radius.uncertainty.expect("evaluated");
    assert!((radius.value.as_mm() - 107.016_667).abs() < 1e-6);
    assert!((u.standard() - f64::hypot(a, b)).abs() < 1e-6);
    let degrees = (a * a + b * b).powi(2) / (a.powi(4) / 2.0);
    assert!((u.degrees_of_freedom() / degrees - 1.0).abs() < 1e-4);
    assert!(matches!(radius.basis, Basis::Readings { .. }));
    let other = input(&board, Quantity::Ring(RingWire::DoubleOuter, false));
    assert_eq!(other.basis, Basis::Instrument);
    assert!((other.uncertainty.expect("from the instrument").standard() - b).abs() < 1e-12);
}

#[test]
fn one_reading_has_the_instruments_uncertainty_alone() {
    let text = BOARD_R
        .replace("units: mm", "units: mm\ninstrument: { resolution: 0.01 }")
        .replace("radius: 107.0", "radius: { readings: [107.0] }");
    let board = board(&text);
    let radius = input(&board, Quantity::Ring(RingWire::TrebleOuter, false));
    let u = radius.uncertainty.expect("type B");
    assert!((u.standard() - 0.01 / 12.0_f64.sqrt()).abs() < 1e-12);
    assert!(u.degrees_of_freedom().is_infinite());
}

#[test]
fn what_cannot_be_measured_with_is_refused() {
    let faults = |from: &str, to: &str| {
        let text = BOARD_R.replace(from, to);
        let invalid_file = Board::read(Source::new("b.yaml", text)).expect_err(to);
        invalid_file.faults()
    };
    let instrument = "units: mm\ninstrument: { resolution: 0.01, calibrated: 2026-13-40 }";
    assert_eq!(faults("units: mm", instrument), [Fault::Notation]);
    assert_eq!(
        faults("units: mm", "units: mm\ninstrument: { resolution: 10 }"),
        [Fault::OutOfRange]
    );
    assert_eq!(
        faults("radius: 107.0", "radius: { readings: [] }"),
        [Fault::WrongKind]
    );
    let mixed = faults(
        "radius: 107.0",
        "radius: { readings: [107.0, 10.7 cm, 1070] }",
    );
    assert_eq!(mixed, [Fault::Notation, Fault::OutOfRange]);
}

#[test]
fn an_inconclusive_board_says_what_would_decide() {
    let output = ringrule(&[
        "validate",
        "specs/demo/10-close-to-the-limit.yaml",
        "--table",
        "tolerances/fenwick-lane.yaml",
        "--draws",
        "2000",
    ]);
    assert_eq!(output.status.code(), Some(1));
    let text = String::from_utf8_lossy(&output.stdout);
    assert!(
        text.contains("an uncertainty of ± 0.019 mm (k = 2) would decide"),
        "{text}"
    );
    assert!(
        text.contains("by Monte Carlo, 2000 draws, seed 1"),
        "{text}"
    );
}

proptest! {
    #![proptest_config(Config {
        cases: 512,
        rng_seed: RngSeed::Fixed(20),
        failure_persistence: None,
        ..Config::default()
    })]

    #[test]
    fn a_smaller_uncertainty_never_makes_a_verdict_inconclusive(
        value in 7.0..9.0_f64,
        u in 1e-4..1.0_f64,
        smaller in 0.0..1.0_f64,
        confidence in 51.0..99.9_f64,
    ) {
        let rule = Decision::Guarded { confidence: Percent::new(confidence).expect("finite"), of: DecisionScope::Check };
        let verdict = |u| decide_mm(value, u, rule);
        if verdict(u) != Verdict::Inconclusive {
            prop_assert_eq!(verdict(u * smaller), verdict(u));
        }
    }

    #[test]
    fn with_vanishing_uncertainty_both_rules_agree(value in 7.0..9.0_f64) {
        prop_assume!((value - 7.8).abs() > 1e-6 && (value - 8.2).abs() > 1e-6);
        let verdict = |rule| decide_mm(value, 1e-9, rule);
        let guarded = Decision::Guarded { confidence: Percent::new(95.0).expect("finite"), of: DecisionScope::Check };
        prop_assert_eq!(verdict(guarded), verdict(Decision::BARE));
    }

    #[test]
    fn no_bytes_make_a_sheet_panic(noise in prop::collection::vec(any::<u8>(), 0..300)) {
        use ringrule::document::CsvFormat;
        use ringrule::readings::Sheet;
        let text = String::from_utf8_lossy(&noise).into_owned();
        let invalid_file = Sheet::read(Source::new("s.csv", text), CsvFormat::default());
        let invalid_file = invalid_file.expect_err("noise is no sheet");
        prop_assert!(!invalid_file.diagnostics.is_empty());
        for found in &invalid_file.diagnostics {
            prop_assert!(found.place.span.end <= invalid_file.file.text().len());
        }
    }
}

#[test]
fn equal_readings_without_an_instrument_are_no_certainty() {
    let text = BOARD_R.replace(
        "radius: 107.0",
        "radius: { readings: [107.0, 107.0, 107.0] }",
    );
    let board = board(&text);
    let radius = input(&board, Quantity::Ring(RingWire::TrebleOuter, false));
    assert_eq!(radius.uncertainty, None);
}
