//! One instrument behind several lengths, and lengths that follow from others.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use ringrule::board::{Band, Board};
use ringrule::conformity::{FreeArea, Judge, LengthFinding, Outcome, Verdict, simulate};
use ringrule::document::Source;
use ringrule::geometry::Spider;
use ringrule::table::Table;

fn board(rest: &str) -> Board {
    let text = format!(
        "format: ringrule/board/1\nboard: {{ id: A-1 }}\nmounting: staples\nunits: mm\n{rest}"
    );
    Board::read(Source::new("a-1.yaml", text)).expect("a sound board")
}

fn table(rest: &str) -> Table {
    let text = format!(
        "format: ringrule/table/1\ntitle: Test\n\
         source: {{ document: Test, provenance: invented }}\nunits: mm\n{rest}"
    );
    Table::read(Source::new("table.yaml", text), &()).expect("a sound table")
}

/// The only limit's finding.
fn judged(board: &Board, table: &Table) -> LengthFinding {
    let judge = Judge::new(table);
    let assessment = judge.judge(board);
    let finding = assessment.limits.first().map(|finding| &finding.outcome);
    match finding {
        Some(Outcome::Length(length)) => (**length).clone(),
        other => panic!("no length was judged: {other:?}"),
    }
}

fn standard(board: &Board, table: &Table) -> f64 {
    judged(board, table).uncertainty.expect("known").standard()
}

const OUTSIDE: &str = "decision: { rule: guarded, confidence: 95 % }\nlimits:\n  outer: { \
                       measurand: treble.outer_radius, edge: outside, nominal: 107, tolerance: 0.2 }\n";

/// A radius to the inside edge and the wire, by one calliper.
fn by_one_calliper(errors: &str) -> Board {
    board(&format!(
        "instrument: {{ name: calliper 7, resolution: 0.01, max_error: 0.05{errors} }}\n\
         wires: {{ rings: 1.6 }}\nrings: {{ treble_outer: {{ radius: 105.52, edge: inside }} }}\n"
    ))
}

#[test]
fn the_error_of_one_calliper_is_common_to_its_lengths() {
    // Recomputed independently: resolution 0.01, permissible error 0.05, both
    // rectangular; u 0.0579 mm if the error is common, 0.0410 if independent.
    let table = table(OUTSIDE);
    let common = by_one_calliper("");
    assert!((standard(&common, &table) - 0.0579).abs() < 5e-5);
    let independent = by_one_calliper(", errors: independent");
    assert!((standard(&independent, &table) - 0.0410).abs() < 5e-5);
    let unknown = by_one_calliper(", errors: unknown");
    assert!((standard(&unknown, &table) - 0.0579).abs() < 5e-5);
    // The verdict turns with it: 107.12 within 106.8 to 107.2.
    let verdicts = [&common, &independent, &unknown];
    let verdicts = verdicts.map(|board| judged(board, &table).decided.verdict);
    assert_eq!(
        verdicts,
        [
            Verdict::Inconclusive,
            Verdict::Conforms,
            Verdict::Inconclusive
        ]
    );
}

#[test]
fn a_common_error_cancels_in_a_difference() {
    // Resolution alone is left of two radii by one calliper: 0.01·√(2/12).
    let radii = |errors: &str| {
        board(&format!(
            "instrument: {{ resolution: 0.01, max_error: 0.05{errors} }}\n\
             rings:\n  treble_outer: {{ radius: 105.4, edge: inside }}\n  \
             treble_inner: {{ radius: 97.4, edge: outside }}\n"
        ))
    };
    let table = table(
        "limits:\n  treble: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n",
    );
    let expected = 0.01 * (2.0_f64 / 12.0).sqrt();
    assert!((standard(&radii(""), &table) - expected).abs() < 1e-12);
    let expected = expected.hypot(0.05 * (2.0_f64 / 3.0).sqrt());
    for errors in [", errors: independent", ", errors: unknown"] {
        assert!((standard(&radii(errors), &table) - expected).abs() < 1e-12);
    }
}

/// Radii of a treble with U 0.1, its width with U 0.02, wires with U 0.01.
fn measured_twice(inner: bool, width: bool) -> Board {
    let inner = if inner {
        "  treble_inner: { radius: 97.4, edge: outside, uncertainty: 0.1 }\n"
    } else {
        ""
    };
    let width = if width {
        "widths: { treble: { width: 8.0, edge: inside, uncertainty: 0.02 } }\n"
    } else {
        ""
    };
    board(&format!(
        "wires:\n  rings: {{ size: 1.6, uncertainty: 0.01 }}\n  \
         sectors: {{ size: 1.6, uncertainty: 0.01 }}\n\
         rings:\n  treble_outer: {{ radius: 105.4, edge: inside, uncertainty: 0.1 }}\n{inner}{width}"
    ))
}

/// The relative standard uncertainty of the treble's free area, in percent.
fn of_area(board: &Board) -> f64 {
    let construction = &board.construction;
    let spider = Spider::of(construction);
    let free = FreeArea::of(construction, &spider, Band::Treble).expect("recorded");
    let u = free.uncertainty(construction).expect("stated").standard();
    100.0 * u / free.area.free.as_mm2()
}

#[test]
fn everything_that_was_measured_counts() {
    // Recomputed independently: 0.132 % by the outer radius and the width,
    // 0.130 % by all of them. By the radii alone, by hand: 0.05·√(105.4² + 97.4²)
    // over 8·101.4, less what the sector wires take of each edge.
    let found = [(true, false), (false, true), (true, true)]
        .map(|(inner, width)| of_area(&measured_twice(inner, width)));
    for (found, expected) in found.iter().zip([0.885, 0.132, 0.130]) {
        assert!((found - expected).abs() < 5e-4, "{found} {expected}");
    }
}

#[test]
fn lengths_without_any_uncertainty_share_the_misfit_equally() {
    // By hand: 105.4 − 97.4 = 8.00 against 8.03 leaves 0.03, a third for each.
    let board = board(
        "rings:\n  treble_outer: { radius: 105.4, edge: inside }\n  \
         treble_inner: { radius: 97.4, edge: outside }\n\
         widths: { treble: { width: 8.03, edge: inside } }\n",
    );
    let table = table(
        "limits:\n  treble: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n",
    );
    let finding = judged(&board, &table);
    assert!((finding.value.as_mm() - 8.02).abs() < 1e-12);
    assert_eq!(finding.uncertainty, None);
    let adjustment = board.construction.adjustment.expect("measured twice");
    assert!(adjustment.by_house_rule && !adjustment.contradicts);
}

#[test]
fn gauges_have_one_uncertainty_everywhere() {
    let wires = |entry: &str| board(&format!("wires: {{ sectors: {entry} }}\n"));
    let limits = "limits: { wire: { measurand: sector_wires.gauge, tolerance: { min: 18 SWG, max: 16 SWG } } }\n";
    let probability = |board: &Board, table: &Table| {
        judged(board, table)
            .decided
            .probability
            .expect("an uncertainty")
    };
    let plain = table(limits);
    // On its limit, whoever says how good it is: half and half.
    for entry in [
        "16 SWG",
        "{ size: 16 SWG, uncertainty: 0.05 }",
        "{ size: 1.6256, uncertainty: 0.05 }",
    ] {
        let found = probability(&wires(entry), &plain);
        assert!((found - 0.5).abs() < 1e-9, "{entry}: {found}");
    }
    // A table can say otherwise.
    let exact = table(&format!("gauge_uncertainty: none\n{limits}"));
    assert!((probability(&wires("16 SWG"), &exact) - 1.0).abs() < 1e-12);
    let wide = table(&format!("gauge_uncertainty: 0.2\n{limits}"));
    let u = judged(&wires("17 SWG"), &wide).uncertainty.expect("stated");
    assert!((u.standard() - 0.1).abs() < 1e-12);
}

#[test]
fn a_board_may_fail_where_every_check_passes() {
    // Recomputed independently: sixteen checks at 97.26 % each, independent,
    // make 0.64. Here four limits on one length each, at 1.92 u.
    let board = board(
        "uncertainty: 0.1\nwires: { rings: 1.6, sectors: 1.6 }\n\
         widths:\n  treble: { width: 8, edge: inside }\n  double: { width: 8, edge: inside }\n\
         rings:\n  inner_bull: { diameter: 12.796, edge: inside }\n  \
         outer_bull: { diameter: 31.896, edge: inside }\n  \
         treble_outer: { radius: 107.096, edge: outside }\n  \
         double_outer: { radius: 170.096, edge: outside }\n",
    );
    let limits = "limits:\n  a: { measurand: inner_bull.diameter, edge: inside, tolerance: { max: 12.892 } }\n  \
         b: { measurand: outer_bull.diameter, edge: inside, tolerance: { max: 31.992 } }\n  \
         c: { measurand: treble.outer_radius, edge: outside, tolerance: { max: 107.192 } }\n  \
         d: { measurand: double.outer_radius, edge: outside, tolerance: { max: 170.192 } }\n";
    let each = table(&format!(
        "decision: {{ rule: guarded, confidence: 95 % }}\n{limits}"
    ));
    let assessment_each = Judge::new(&each);
    let assessment = assessment_each.judge(&board);
    assert_eq!(assessment.tally().conform, 4, "{:?}", assessment.tally());
    assert_eq!(assessment.verdict, Verdict::Conforms);
    let probability = assessment.probability().expect("stated");
    assert!(
        (probability - 0.972_571_f64.powi(4)).abs() < 1e-4,
        "{probability}"
    );
    let whole = table(&format!(
        "decision: {{ rule: guarded, confidence: 95 %, of: board }}\n{limits}"
    ));
    assert_eq!(
        Judge::new(&whole).judge(&board).verdict,
        Verdict::Inconclusive
    );
}

#[test]
fn the_simple_rule_wants_a_measurement() {
    let table = table(
        "limits:\n  treble: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n",
    );
    let verdict = |value: f64, u: f64| {
        let board = board(&format!(
            "widths: {{ treble: {{ width: {value}, edge: inside, uncertainty: {u} }} }}\n"
        ));
        judged(&board, &table).decided
    };
    // House rule, common practice: U at most a fifth of 0.4 mm.
    assert_eq!(verdict(8.0, 0.08).verdict, Verdict::Conforms);
    let coarse = verdict(8.0, 2.0);
    assert_eq!(
        (coarse.verdict, coarse.too_coarse),
        (Verdict::Inconclusive, true)
    );
    assert_eq!(verdict(8.3, 0.3).verdict, Verdict::Inconclusive);
    assert_eq!(verdict(8.6, 0.3).verdict, Verdict::DoesNotConform);
}

#[test]
fn few_degrees_of_freedom_divide_by_their_own_factor() {
    let board = board(
        "widths: { treble: { width: 8, edge: inside, uncertainty: { expanded: 0.0331, \
         degrees_of_freedom: 3 } } }\n",
    );
    let table = table(
        "limits:\n  treble: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n",
    );
    // Student's t for 95.45 % on 3 degrees: 3.307 (published tables).
    assert!((standard(&board, &table) - 0.01001).abs() < 2e-5);
}

/// The half-width of the interval that holds 95.45 % of the only length's draws.
fn half_interval(board: &Board, table: &Table) -> f64 {
    let judge = Judge::new(table);
    let assessment = judge.judge(board);
    let simulation = simulate(&assessment, 40_000, 3);
    let drawn = simulation.lengths.first().copied().flatten();
    let (low, high) = drawn.expect("drawn").interval;
    (high - low) / 2.0
}

#[test]
fn what_is_wrong_with_an_instrument_or_a_rule_is_said() {
    let board = |instrument: &str| {
        let text = format!(
            "format: ringrule/board/1\nboard: {{ id: A-1 }}\nmounting: staples\nunits: mm\n\
             instrument: {instrument}\n"
        );
        let invalid = Board::read(Source::new("a-1.yaml", text)).expect_err("invalid");
        invalid.diagnostics.first().expect("a fault").clone()
    };
    for (instrument, message) in [
        (
            "{ range: [150, 0] }",
            "a range from 150.00 mm to 0.00 mm holds no length",
        ),
        ("{ range: [150] }", "this list is too short"),
        (
            "{ correction: { value: -40 } }",
            "-40.00 mm is not a possible correction",
        ),
        (
            "calliper 7",
            "`calliper 7` is not one of the file's instruments",
        ),
    ] {
        assert_eq!(board(instrument).message, message);
    }
    let text = "format: ringrule/table/1\ntitle: T\n\
                source: { document: T, provenance: invented }\ngauge_uncertainty: exact\nlimits: {}\n";
    let invalid = Table::read(Source::new("t.yaml", text), &()).expect_err("invalid");
    let diagnostics = invalid.0.iter().flat_map(|invalid| &invalid.diagnostics);
    let remedies: Vec<_> = diagnostics
        .filter_map(|found| found.remedy.as_deref())
        .collect();
    assert!(
        remedies.iter().any(|remedy| remedy.contains("`none`")),
        "{remedies:?}"
    );
}

#[test]
fn draws_follow_the_distributions_of_the_causes() {
    let limits = "limits:\n  treble: { measurand: treble.width, edge: inside, nominal: 8, tolerance: 0.2 }\n";
    let table = table(limits);
    // Student's t on 3 degrees, u 0.05: 3.307·0.05 (published tables).
    let few = board(
        "widths: { treble: { width: 8, edge: inside, uncertainty: { expanded: 0.1, k: 2, \
         degrees_of_freedom: 3 } } }\n",
    );
    assert!((half_interval(&few, &table) / 0.1653 - 1.0).abs() < 0.03);
    // Two rectangles, ± 0.05 and ± 0.05: a triangle to ± 0.1, of which the
    // middle 95.45 % end at 0.1·(1 − √0.0455), by hand.
    let two = board(
        "instrument: { resolution: 0.1, max_error: 0.05 }\n\
         widths: { treble: { width: 8, edge: inside } }\n",
    );
    let expected = 0.1 * (1.0 - 0.0455_f64.sqrt());
    assert!((half_interval(&two, &table) / expected - 1.0).abs() < 0.01);
    // An error that two radii share is drawn once, and cancels.
    let shared = board(
        "instrument: { max_error: 0.05 }\nrings:\n  \
         treble_outer: { radius: 105.4, edge: inside }\n  \
         treble_inner: { radius: 97.4, edge: outside }\n",
    );
    assert!(half_interval(&shared, &table) < 1e-9);
}
