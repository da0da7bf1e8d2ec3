//! Boards whose rings are off-centre and whose sectors are uneven, from the file to
//! the finding.
#![allow(clippy::expect_used, clippy::indexing_slicing, clippy::panic)]

mod common;

use common::uneven::{WIDTH, table, width};
use common::{BOARD_R, board};
use ringrule::board::{Band, Bearing, Board, Edge, RingWire};
use ringrule::conformity::{Amount, BandOutcome, Judge, Outcome};
use ringrule::document::Source;
use ringrule::geometry::{Bed, Point, Spider, band_area};
use ringrule::units::Length;

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

#[test]
fn the_offset_of_a_ring_is_seen_in_the_width_at_every_sector() {
    let text = BOARD_R.replace(
        "treble_outer: { radius: 107.0, edge: outside }",
        "treble_outer: { radius: 107.0, edge: outside, offset: [0.6, -0.3] }",
    );
    let board = board(&text);
    let widths = board.construction.widths_around(Band::Treble, Edge::Inside);
    assert_eq!(widths.len(), 20);
    // By hand: to the right, below and at the top.
    for (number, expected) in [(6, 8.6), (3, 8.3), (11, 7.4), (20, 7.7)] {
        let place = Bearing::of_number(number).expect("a sector");
        let own = widths.iter().find(|own| own.at.is(place)).expect("there");
        let width = board.construction.value(&own.length).as_mm();
        assert!((width - expected).abs() < 1e-9, "{number}: {width}");
    }
    let limits =
        "  centred: { measurand: ring.offset, ring: treble_outer, tolerance: { max: 0.5 } }\n";
    let table = table(limits);
    let judge = Judge::new(&table);
    let away = |board: &Board| width(&judge.judge(board)).value.as_mm();
    assert!((away(&board) - libm::hypot(0.6, 0.3)).abs() < 1e-12);
    // From the bull, if that is off the middle too: (0.6 − 0.1, −0.3 − 0.1).
    let text = text.replace(
        "inner_bull:   { diameter: 12.7, edge: inside }",
        "inner_bull:   { diameter: 12.7, edge: inside, offset: [0.1, 0.1] }",
    );
    assert!((away(&common::board(&text)) - libm::hypot(0.5, 0.4)).abs() < 1e-12);
}

#[test]
fn bearings_move_the_areas_of_beds_and_beds_have_their_radii_in_common() {
    let bearings: Vec<String> = (0..20).map(|k| (9 + 18 * k).to_string()).collect();
    let with = |u: f64, turns: f64| {
        board(&format!(
            "{BOARD_R}uncertainty: {u}\nsectors: {{ bearings: [{}], uncertainty: {turns} }}\n",
            bearings.join(", ")
        ))
    };
    let limits = "  beds: { measurand: bed.area, band: treble, tolerance: 1 % }\n";
    let table = table(limits);
    let judge = Judge::new(&table);
    let of = |board: &Board| {
        let assessment = judge.judge(board);
        let found = assessment
            .limits
            .iter()
            .find_map(|finding| match &finding.outcome {
                Outcome::Bed(found) => found.uncertainty,
                _ => None,
            });
        (
            found.expect("stated").standard(),
            assessment.probability().expect("stated"),
        )
    };
    // By hand: each of two wires sweeps ½(r₂² − r₁²) along its edges, at
    // √(R² − 0.8128²), between 97.3744 and 105.3744 mm; with U of half a degree
    // u is 0.25 degrees.
    let (u, _) = of(&with(1e-6, 0.5));
    let sweep = 0.5 * (105.3744_f64.powi(2) - 97.3744_f64.powi(2));
    let expected = 100.0 * libm::sqrt(2.0) * sweep * 0.25_f64.to_radians() / 241.776_716_684_372;
    assert!((u / expected - 1.0).abs() < 1e-3, "{u} {expected}");
    // Twenty beds whose areas come from the same radii pass or fail together.
    let assessment = with(0.05, 1e-4);
    let (u, p) = of(&assessment);
    let one = 1.0 - 2.0 * (1.0 - phi(1.0 / u));
    assert!((p - one).abs() < 5e-3, "{p} {one}");
}

/// Φ by the error function.
fn phi(z: f64) -> f64 {
    0.5 * libm::erfc(-z / libm::sqrt(2.0))
}

#[test]
fn one_check_that_fails_at_two_places_is_one_check_in_the_summary() {
    let output = common::ringrule(&[
        "report",
        "specs/demo/13-off-centre-treble.yaml",
        "specs/demo/14-uneven-treble.yaml",
        "--table",
        "tolerances/fenwick-lane-places.yaml",
        "--format",
        "markdown",
        "--detail",
        "full",
    ]);
    let page = String::from_utf8_lossy(&output.stdout).into_owned();
    let part = page
        .split("## Which checks fail most")
        .nth(1)
        .expect("a part");
    let row = part
        .lines()
        .find(|line| line.contains("treble width"))
        .expect("a row");
    assert!(
        row.contains("| treble width, inside to inside | 2 |"),
        "{row}"
    );
    // Each board's own page names the place.
    assert!(page.contains("treble width, inside to inside, at 15"));
    assert!(page.contains("treble width, inside to inside, at 2"));
}
