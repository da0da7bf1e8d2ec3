//! Readings at places around the board, from the file to the finding.
#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic)]

mod common;

use common::uneven::{WIDTH, alternating, at_places, table, width};
use common::{BOARD_R, board};
use ringrule::board::{Bearing, Board};
use ringrule::conformity::{Judge, LengthFinding, Missing, Outcome, Verdict};
use ringrule::document::Source;

#[test]
fn a_width_that_is_right_in_the_mean_and_wrong_everywhere_does_not_conform() {
    let every = table(&WIDTH.replace("OF", "of: every place,"));
    let mean = table(&WIDTH.replace("OF", ""));
    let board = alternating(true, 10);
    let judged = Judge::new(&every);
    let assessment = judged.judge(&board);
    assert_eq!(assessment.verdict, Verdict::DoesNotConform);
    let found = width(&assessment);
    assert_eq!(found.places.len(), 8);
    assert!(
        found
            .places
            .iter()
            .all(|p| p.decided.verdict == Verdict::DoesNotConform)
    );
    let judged = Judge::new(&mean);
    let assessment = judged.judge(&board);
    let found = width(&assessment);
    assert_eq!(found.decided.verdict, Verdict::Conforms);
    assert!((found.value.as_mm() - 8.0).abs() < 1e-12);
    // The same place read ten times gave the same: what differs is form, and adds
    // nothing to the uncertainty of the mean. The calliper's own error is common
    // to all places: 0.03/√3 and, of eight places, 0.01/√12/√8 (JCGM 100, 4.3.7).
    let u = found.uncertainty.expect("an instrument").standard();
    let expected = libm::hypot(0.03 / libm::sqrt(3.0), 0.01 / libm::sqrt(12.0 * 8.0));
    assert!((u - expected).abs() < 1e-12, "{u} {expected}");
}

#[test]
fn readings_without_places_that_differ_too_much_are_named() {
    let spread = alternating(false, 10);
    assert_eq!(spread.spreads.len(), 1);
    assert!(spread.spreads[0].probability < 1e-6);
    assert!((spread.spreads[0].deviation.as_mm() - 0.2516).abs() < 1e-3);
    assert!(alternating(true, 10).spreads.is_empty());
    // A spread that the calliper explains is none.
    let text = BOARD_R.replace(
        "diameter: 451",
        "diameter: { readings: [450.99, 451.0, 451.02] }",
    );
    assert!(board(&text).spreads.is_empty());
}

#[test]
fn too_few_places_show_that_a_board_fails_but_not_that_it_conforms() {
    let every = table(&WIDTH.replace("OF", "of: every place,"));
    let with = |readings: &str| {
        let text = BOARD_R.replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
            + &format!(
                "uncertainty: 0.02\nwidths: {{ treble: {{ width: {readings}, edge: inside }} }}\n"
            );
        board(&text)
    };
    let lacks = |board: &Board| {
        let judge = Judge::new(&every);
        let assessment = judge.judge(board);
        match &assessment.limits[0].outcome {
            Outcome::NotChecked(missing) => matches!(missing[..], [Missing::Places(_)]),
            _ => false,
        }
    };
    assert!(lacks(&with("8.0")));
    let three =
        "{ readings: [{ at: 20, value: 8.0 }, { at: 6, value: 8.0 }, { at: 3, value: 8.0 }] }";
    assert!(lacks(&with(three)));
    let failing = with(&three.replace("6, value: 8.0", "6, value: 8.6"));
    let judge = Judge::new(&every);
    let assessment = judge.judge(&failing);
    assert_eq!(assessment.verdict, Verdict::DoesNotConform);
    let six = Bearing::of_number(6).expect("a sector");
    assert!(width(&assessment).at.expect("a place").is(six));
}

#[test]
fn roundness_and_offset_follow_from_radii_at_places() {
    // An invented ring, 0.3 mm to the right of the bull and 0.2 mm up, with two
    // lobes of 0.1 mm: out of round by 0.2 mm about its own centre.
    let readings: Vec<String> = (0..12)
        .map(|i| {
            let bearing = f64::from(i) * 30.0;
            let (sin, cos) = libm::sincos(bearing.to_radians());
            let r = 107.0 + 0.3 * sin + 0.2 * cos + 0.1 * libm::cos(2.0 * bearing.to_radians());
            format!("{{ at: {bearing}°, value: {r:.6} }}")
        })
        .collect();
    let text = BOARD_R.replace(
        "radius: 107.0,",
        &format!("radius: {{ readings: [{}] }},", readings.join(", ")),
    ) + "uncertainty: 0.02\n";
    let board = board(&text);
    let limits = "  round: { measurand: ring.roundness, ring: treble_outer, tolerance: { max: 0.15 } }\n  \
                  centred: { measurand: ring.offset, ring: treble_outer, tolerance: { max: 0.5 } }\n";
    let table = table(limits);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let lengths: Vec<&LengthFinding> = assessment
        .limits
        .iter()
        .filter_map(|finding| match &finding.outcome {
            Outcome::Length(length) => Some(&**length),
            _ => None,
        })
        .collect();
    assert!(
        (lengths[0].value.as_mm() - 0.2).abs() < 1e-5,
        "{}",
        lengths[0].value
    );
    assert_eq!(lengths[0].decided.verdict, Verdict::DoesNotConform);
    assert!((lengths[1].value.as_mm() - libm::hypot(0.3, 0.2)).abs() < 1e-5);
    // Of twelve radii each with u = 0.01 the centre has u·√(2/12) (least squares
    // on a full circle; text books).
    let u = lengths[1].uncertainty.expect("stated").standard();
    assert!((u - 0.01 * libm::sqrt(2.0 / 12.0)).abs() < 1e-6, "{u}");
}

#[test]
fn a_reading_that_does_not_say_where_among_others_that_do_is_refused() {
    for (readings, what) in [
        ("[{ at: 20, value: 8 }, 8.1]", "does not say where"),
        ("[{ at: 21, value: 8 }]", "is no place around the board"),
        ("[{ at: 20 }]", "value"),
    ] {
        let text = format!(
            "{BOARD_R}widths: {{ double: {{ width: {{ readings: {readings} }}, edge: inside }} }}\n"
        );
        let invalid = Board::read(Source::new("b.yaml", text)).expect_err(readings);
        assert!(invalid.to_string().contains(what), "{invalid}");
    }
}

#[test]
fn only_what_was_read_twice_at_one_place_is_scatter() {
    let board = at_places(
        "{ at: 20, value: 8.00 }, { at: 20, value: 8.02 }, { at: 6, value: 8.01 }, \
         { at: 6, value: 8.05 }, { at: 3, value: 7.9 }, { at: 11, value: 8.1 }",
        "",
    );
    // By hand: squares 2·0.01² and 2·0.02² on two degrees of freedom.
    let s = libm::hypot(0.01, 0.02);
    let inputs = board.construction.inputs.iter();
    let placed: Vec<_> = inputs.filter(|input| input.at.is_some()).collect();
    assert_eq!(placed.len(), 4);
    for (input, readings) in placed.iter().zip([2.0, 2.0, 1.0, 1.0]) {
        let u = input.uncertainty.expect("scatter");
        assert!(
            (u.standard() - s / libm::sqrt(readings)).abs() < 1e-12,
            "{u:?}"
        );
        assert!((u.degrees_of_freedom() - 2.0).abs() < 1e-9);
    }
}

#[test]
fn the_place_furthest_beyond_decides_and_all_places_count_for_the_board() {
    let every = table(&WIDTH.replace("OF", "of: every place,"));
    let judge = Judge::new(&every);
    let failing = at_places(
        "{ at: 20, value: 8.3 }, { at: 6, value: 8.6 }, { at: 3, value: 8.0 }, { at: 11, value: 8.25 }",
        "",
    );
    let six = Bearing::of_number(6).expect("a sector");
    assert!(width(&judge.judge(&failing)).at.expect("a place").is(six));
    // Four places that err by themselves, each one standard uncertainty within the
    // limit: Φ(1) = 0.841345 each (published tables), the fourth power for all.
    let near = at_places(
        "{ at: 20, value: 8.15 }, { at: 6, value: 8.15 }, { at: 3, value: 8.15 }, { at: 11, value: 8.15 }",
        ", uncertainty: { standard: 0.05 }",
    );
    let assessment = judge.judge(&near);
    let p = assessment.probability().expect("stated");
    assert!((p - 0.841_345_f64.powi(4)).abs() < 1e-3, "{p}");
}

#[test]
fn an_offset_follows_from_radii_at_any_places() {
    // Places that are not evenly spaced, on a ring that is r = 107 + 0.3·sin θ +
    // 0.2·cos θ: the model itself, so that nothing is left.
    let readings: Vec<String> = [0.0, 40.0, 100.0, 170.0, 230.0, 300.0]
        .iter()
        .map(|bearing: &f64| {
            let (sin, cos) = libm::sincos(bearing.to_radians());
            format!(
                "{{ at: {bearing}°, value: {:.9} }}",
                107.0 + 0.3 * sin + 0.2 * cos
            )
        })
        .collect();
    let text = BOARD_R.replace(
        "radius: 107.0,",
        &format!("radius: {{ readings: [{}] }},", readings.join(", ")),
    ) + "uncertainty: 0.02\n";
    let limits = "  centred: { measurand: ring.offset, ring: treble_outer, tolerance: { max: 0.5 } }\n  \
                  round: { measurand: ring.roundness, ring: treble_outer, tolerance: { max: 0.1 } }\n";
    let (board, table) = (board(&text), table(limits));
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let lengths = assessment
        .limits
        .iter()
        .filter_map(|finding| match &finding.outcome {
            Outcome::Length(length) => Some(length.value.as_mm()),
            _ => None,
        });
    let [offset, roundness] = lengths.collect::<Vec<_>>()[..] else {
        panic!("two lengths");
    };
    assert!((offset - libm::hypot(0.3, 0.2)).abs() < 1e-7, "{offset}");
    assert!(roundness.abs() < 1e-7, "{roundness}");
}

#[test]
fn a_spread_is_named_below_one_in_a_thousand() {
    // Three readings x − s, x, x + s of an instrument that explains 0.03 mm: on two
    // degrees of freedom the probability of more is exp(−s²/0.03²) (chi-square; text
    // books), 0.0019 at s = 0.075 and 0.0003 at 0.085.
    let with = |s: f64| {
        let text = BOARD_R.replace(
            "diameter: 451",
            &format!(
                "diameter: {{ readings: [{}, 451, {}] }}",
                451.0 - s,
                451.0 + s
            ),
        ) + "instrument: { resolution: 0.01, max_error: 0.03 }\n";
        board(&text)
            .spreads
            .first()
            .map(|spread| spread.probability)
    };
    assert_eq!(with(0.075), None);
    let p = with(0.085).expect("named");
    assert!(
        (p / libm::exp(-(0.085 / 0.03_f64).powi(2)) - 1.0).abs() < 1e-6,
        "{p}"
    );
}
