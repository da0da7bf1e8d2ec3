//! Boards against published values and values recomputed independently. Each
//! check names its source.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{BOARD_R, STRIP_TWIN, board, table};
use ringrule::board::{Band, Board, Mounting};
use ringrule::conformity::{
    Assessment, BandFinding, BandOutcome, ComparedBand, Judge, Outcome, Verdict,
};
use ringrule::geometry::{Spider, band_area};

fn compared<'a>(assessment: &'a Assessment<'_>, band: Band) -> &'a ComparedBand<'a> {
    compared_in(&assessment.bands, band)
}

fn compared_in<'a>(bands: &'a [BandFinding<'_>], band: Band) -> &'a ComparedBand<'a> {
    let finding = bands.iter().find(|finding| finding.band == band);
    match &finding.expect("every band has a finding").outcome {
        BandOutcome::Compared(compared) => compared,
        other => panic!("{band} was not compared: {other:?}"),
    }
}

fn free_bed(board: &Board, band: Band) -> f64 {
    let area = band_area(&Spider::of(&board.construction), band).expect("all wires are known");
    area.mean_bed().as_mm2()
}

#[test]
fn free_areas_of_board_r_as_read_from_a_file() {
    // Recomputed independently: closed form to 30 digits, by quadrature and by
    // polygons, for treble and double rings of exactly 8.0 mm.
    let board = board(BOARD_R);
    for (band, expected) in [
        (Band::InnerBull, 126.676_869_774_374),
        (Band::OuterBull, 594.388_716_317_648),
        (Band::InnerSingle, 1_264.665_328_499_62),
        (Band::Treble, 241.776_716_684_372),
        (Band::OuterSingle, 2_076.064_224_197_336),
        (Band::Double, 400.113_072_953_577),
    ] {
        let bed = free_bed(&board, band);
        assert!(
            (bed - expected).abs() < 1e-9,
            "{band}: {bed} is not {expected}"
        );
    }
}

#[test]
fn board_r_and_its_strip_twin_both_conform() {
    // World Darts Federation rules, dartboard section, from memory: 8.0 mm
    // inside to inside and 9.6 mm apex to apex describe the same pitch.
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    for text in [BOARD_R, STRIP_TWIN] {
        let board = board(text);
        let assessment = judge.judge(&board);
        assert_eq!(assessment.verdict, Verdict::Conforms, "{}", board.id);
        assert_eq!(assessment.tally().not_checked, 0, "{}", board.id);
        for band in Band::ALL {
            let deviation = compared(&assessment, band).deviation.value();
            assert!(deviation.abs() < 1e-9, "{} {band}: {deviation}", board.id);
        }
    }
}

#[test]
fn thick_round_wire_takes_15_7_percent_of_the_strip_boards_treble() {
    let table = table("wdf.yaml");
    let judge = Judge::new(&table).beside(Mounting::Embedded);
    let board = board(BOARD_R);
    let assessment = judge.judge(&board);
    let beside = &assessment.against.as_ref().expect("asked for").bands;
    let treble = compared_in(beside, Band::Treble);
    // Recomputed independently from the two constructions.
    assert!(
        (treble.deviation.value() + 15.7).abs() < 0.1,
        "{}",
        treble.deviation
    );
    // Common practice, no source: "about 15 % less", ± 1 %.
    assert!(
        (treble.deviation.value() + 15.0).abs() < 1.0,
        "{}",
        treble.deviation
    );
    // A comparison with another mounting's board is no verdict, and does not
    // touch the board's own.
    assert!(treble.bounds.is_none() && treble.verdict.is_none());
    assert_eq!(assessment.verdict, Verdict::Conforms);
    assert_eq!(assessment.tally().total(), 16);
}

#[test]
fn a_treble_inner_wire_moved_by_0_3_mm_fails_the_width() {
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    let board = board(&BOARD_R.replace("97.3744", "97.6744"));
    let assessment = judge.judge(&board);
    assert_eq!(assessment.verdict, Verdict::DoesNotConform);
    let broken: Vec<_> = assessment
        .limits
        .iter()
        .filter(|finding| finding.outcome.verdict() == Some(Verdict::DoesNotConform))
        .collect();
    let [finding] = broken.as_slice() else {
        panic!("one limit is broken, not {}", broken.len());
    };
    assert_eq!(finding.limit.name, "treble_width_round");
    let Outcome::Length(length) = &finding.outcome else {
        panic!("a width is a length");
    };
    assert!((length.value.as_mm() - 7.7).abs() < 1e-9);
    assert!((length.excess.as_mm() + 0.1).abs() < 1e-9);
    // The place of the measured radius and that of the limit.
    let radius = board
        .construction
        .input(length.inputs[1])
        .expect("an input");
    assert_eq!(board.document.source.slice(radius.span), "97.6744");
    let limit = &finding.limit.place;
    assert_eq!(
        limit.document.source.slice(limit.span),
        "treble_width_round"
    );
    // 2π·97.67/20 − 1.63 mm of boundary, moved by 0.3 mm: 8.7 of 241.8 mm².
    let treble = compared(&assessment, Band::Treble);
    assert!(
        (treble.deviation.value() + 3.595).abs() < 0.005,
        "{}",
        treble.deviation
    );
    let driver = treble.drivers.first().expect("something drives it");
    assert_eq!(
        board.document.source.slice(
            board
                .construction
                .input(driver.input)
                .expect("an input")
                .span
        ),
        "97.6744"
    );
    assert!((driver.share.value() - treble.deviation.value()).abs() < 1e-6);
}

#[test]
fn derived_bounds_are_reached_by_boards_at_the_limits() {
    // The widest and the narrowest treble that the limits allow, built by
    // hand: thinnest and thickest wire, width and radius at their ends.
    let table = table("wdf.yaml");
    let judge = Judge::new(&table);
    let build = |gauge: &str, width: f64, outer: f64| {
        let wire = gauge
            .parse::<ringrule::units::Gauge>()
            .expect("a gauge")
            .diameter()
            .as_mm();
        let inner = outer - wire - width;
        let text = BOARD_R
            .replace("16 SWG", gauge)
            .replace("97.3744", &inner.to_string())
            .replace("160.3744", &(170.0 - wire - 8.0).to_string())
            .replace("radius: 107.0", &format!("radius: {outer}"));
        board(&text)
    };
    for (board, at_upper) in [
        (build("18 SWG", 8.2, 107.2), true),
        (build("16 SWG", 7.8, 106.8), false),
    ] {
        let assessment = judge.judge(&board);
        assert_eq!(assessment.verdict, Verdict::Conforms);
        let treble = compared(&assessment, Band::Treble);
        let bounds = treble.bounds.expect("derived");
        let bound = if at_upper { bounds.upper } else { bounds.lower };
        let bound = bound.expect("limited on both sides");
        let deviation = treble.deviation.value();
        assert!(
            (deviation - bound.value()).abs() < 1e-6,
            "{deviation} {bound}"
        );
    }
}
