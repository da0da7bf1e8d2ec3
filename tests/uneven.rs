//! Boards whose rings are off-centre or out of round and whose sectors are
//! uneven, from the file to the finding.
#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic)]

mod common;

use common::{BOARD_R, board};
use ringrule::board::{Band, Bearing, Board, Edge, RingWire};
use ringrule::conformity::{
    Amount, Assessment, BandOutcome, Judge, LengthFinding, Missing, Outcome, Verdict,
};
use ringrule::document::Source;
use ringrule::geometry::{Bed, Point, Spider, band_area};
use ringrule::table::Table;
use ringrule::units::Length;

/// Invented limits.
fn table(limits: &str) -> Table {
    let text = format!(
        "format: ringrule/table/1\ntitle: Invented\n\
         source: {{ document: Invented, provenance: invented }}\nunits: mm\n\
         nominal:\n  staples:\n    wires: {{ rings: 16 SWG, sectors: 16 SWG }}\n    rings:\n      \
         inner_bull: {{ diameter: 12.7, edge: inside }}\n      \
         outer_bull: {{ diameter: 31.8, edge: inside }}\n      \
         treble_outer: {{ radius: 107.0, edge: outside }}\n      \
         double_outer: {{ radius: 170.0, edge: outside }}\n    widths:\n      \
         treble: {{ width: 8.0, edge: inside }}\n      double: {{ width: 8.0, edge: inside }}\n\
         limits:\n{limits}"
    );
    match Table::read(Source::new("table.yaml", text.clone()), &()) {
        Ok(table) => table,
        Err(invalid) => panic!("{invalid}\n{text}"),
    }
}

const WIDTH: &str =
    "  width: { measurand: treble.width, edge: inside, OF nominal: 8.0, tolerance: 0.2 }\n";

/// Readings that alternate between 7.75 and 8.25 mm, at places or without.
fn alternating(places: bool, repeats: usize) -> Board {
    let readings: Vec<String> = (0..8 * repeats)
        .map(|i| {
            let value = if i % 2 == 0 { 7.75 } else { 8.25 };
            if places {
                format!("{{ at: {}°, value: {value} }}", 45 * (i % 8))
            } else {
                value.to_string()
            }
        })
        .collect();
    let text = BOARD_R.replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
        + &format!(
            "instrument: {{ resolution: 0.01, max_error: 0.03 }}\n\
             widths:\n  treble: {{ width: {{ readings: [{}] }}, edge: inside }}\n",
            readings.join(", ")
        );
    board(&text)
}

fn width<'a>(assessment: &'a Assessment<'_>) -> &'a LengthFinding {
    let found = assessment
        .limits
        .iter()
        .find_map(|finding| match &finding.outcome {
            Outcome::Length(length) => Some(&**length),
            _ => None,
        });
    found.expect("a width")
}

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
fn an_offset_ring_widens_beds_on_one_side_and_narrows_them_on_the_other() {
    let text = BOARD_R.replace(
        "treble_outer: { radius: 107.0, edge: outside }",
        "treble_outer: { radius: 107.0, edge: outside, offset: [0.6, -0.3] }",
    );
    let off = Spider::of(&board(&text).construction);
    assert_eq!(
        off.rings[RingWire::TrebleOuter].centre,
        Point::mm(0.6, -0.3)
    );
    let (even, uneven) = (
        band_area(&Spider::of(&board(BOARD_R).construction), Band::Treble).expect("known"),
        band_area(&off, Band::Treble).expect("known"),
    );
    // By hand: bed 6 at 90° gains about 0.6 mm of the length of its outer edge,
    // r·18° less the strip, to second order.
    let six = 5;
    let gain = (uneven.beds[six].free - even.beds[six].free).as_mm2();
    let arc = (107.0 - 1.6256) * 18.0_f64.to_radians() - 1.6256;
    assert!((gain / (0.6 * arc) - 1.0).abs() < 0.01, "{gain}");
    // What one side loses the other gains.
    assert!((uneven.free / even.free - 1.0).abs() < 1e-5);
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
fn a_sector_too_wide_and_a_bed_too_small_are_named() {
    let mut bearings: Vec<f64> = (0..20).map(|k| 9.0 + 18.0 * f64::from(k)).collect();
    // The wire between 20 and 1 leans over to the 1: the 20 is 19 degrees wide.
    bearings[0] += 1.0;
    let list: Vec<String> = bearings.iter().map(f64::to_string).collect();
    let text = format!(
        "{BOARD_R}uncertainty: 0.02\nsectors: {{ bearings: [{}], uncertainty: 0.2 }}\n",
        list.join(", ")
    );
    let board = board(&text);
    let limits = "  angle: { measurand: sector.angle, nominal: 18°, tolerance: 0.5° }\n  \
                  beds: { measurand: bed.area, band: treble, tolerance: 3 % }\n";
    let table = table(limits);
    let judge = Judge::new(&table);
    let assessment = judge.judge(&board);
    let found: Vec<_> = assessment
        .limits
        .iter()
        .filter_map(|finding| match &finding.outcome {
            Outcome::Bed(found) => Some(&**found),
            _ => None,
        })
        .collect();
    assert_eq!(found.len(), 2);
    assert_eq!(found[0].failing(), 2, "the 20 and the 1");
    assert!([20, 1].contains(&found[0].bed.number()));
    assert!(
        (found[0].uncertainty.expect("stated").standard() - 0.1 * libm::sqrt(2.0)).abs() < 1e-12
    );
    let Amount::Deviation(percent) = found[1].value else {
        panic!("an area");
    };
    assert!(percent.value().abs() > 5.0, "{}", percent.value());
    // The band as a whole is as it was.
    let band = assessment
        .bands
        .iter()
        .find(|b| b.band == Band::Treble)
        .expect("there");
    let BandOutcome::Compared(band) = &band.outcome else {
        panic!("compared");
    };
    assert!(band.deviation.value().abs() < 1e-3);
    let [least, most] = band.extreme_beds(Band::Treble).expect("uneven");
    assert_eq!((least.0.number(), most.0.number()), (1, 20));
    assert_eq!(most.0, Bed::new(Band::Treble, 0));
}

#[test]
fn impossible_spiders_are_refused_with_both_places() {
    let crossing = BOARD_R.replace(
        "treble_outer: { radius: 107.0, edge: outside }",
        "treble_outer: { radius: 107.0, edge: outside, offset: [9.5, 0] }",
    );
    let ring = Board::read(Source::new("b.yaml", crossing)).expect_err("rings cross");
    assert_eq!(ring.diagnostics.len(), 1, "{ring}");
    assert_eq!(ring.diagnostics[0].related.len(), 1, "{ring}");
    let mut offsets = vec!["0"; 20];
    offsets[0] = "-9";
    let wires = format!(
        "{BOARD_R}sectors: {{ offsets: [{}] }}\n",
        offsets.join(", ")
    );
    let wires = Board::read(Source::new("b.yaml", wires)).expect_err("wires cross");
    assert!(wires.to_string().contains("cross"), "{wires}");
    let dent: Vec<String> = (0..8)
        .map(|i| {
            format!(
                "{{ at: {}°, value: {} }}",
                45 * i,
                if i == 2 { 75.0 } else { 107.0 }
            )
        })
        .collect();
    let dent = BOARD_R.replace(
        "radius: 107.0,",
        &format!("radius: {{ readings: [{}] }},", dent.join(", ")),
    );
    assert!(Board::read(Source::new("b.yaml", dent)).is_err());
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
fn slopes_of_an_uneven_board_are_those_of_the_areas() {
    // The reading at one place, changed in the file: what the area does is what
    // its slope says.
    let with = |six: f64| {
        let text = BOARD_R.replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
            + &format!(
                "uncertainty: 0.02\nwidths: {{ treble: {{ edge: inside, width: {{ readings: [\
                 {{ at: 20, value: 8.1 }}, {{ at: 6, value: {six} }}, {{ at: 3, value: 7.9 }}, \
                 {{ at: 11, value: 8.0 }}] }} }} }}\n"
            );
        board(&text)
    };
    let area = |board: &Board| {
        let spider = Spider::of(&board.construction);
        band_area(&spider, Band::Treble)
            .expect("known")
            .free
            .as_mm2()
    };
    let table = table(&WIDTH.replace("OF", ""));
    let judge = Judge::new(&table);
    let board = with(8.05);
    let assessment = judge.judge(&board);
    let BandOutcome::Compared(band) = &assessment.bands[3].outcome else {
        panic!("compared");
    };
    let by_files = (area(&with(8.06)) - area(&with(8.04))) / 0.02;
    let six = Bearing::of_number(6).expect("a sector");
    let slope: f64 = band
        .free
        .slopes()
        .terms()
        .iter()
        .filter(|(id, _)| {
            let input = board.construction.input(*id).expect("there");
            input.at.is_some_and(|at| at.is(six))
        })
        .map(|(_, slope)| slope)
        .sum();
    assert!((slope / by_files - 1.0).abs() < 1e-4, "{slope} {by_files}");
    let reach = Spider::of(&board.construction)
        .reach(RingWire::TrebleInner, Edge::Outside, six.angle())
        .expect("known");
    assert!(
        (reach - (Length::mm(107.0 - 1.6256) - Length::mm(8.05)))
            .abs()
            .as_mm()
            < 1e-9
    );
}
