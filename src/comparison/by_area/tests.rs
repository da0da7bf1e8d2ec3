//! What must hold of a comparison by areas.

use super::super::tests::{round, strip};
use super::*;
use crate::board::{Band, Board};
use crate::comparison::{Certainty, CompareError, CompareOptions, compare};
use crate::document::Source;
use crate::play::{PlayError, Route};
use crate::random::Random;
use crate::units::Length;

fn ratios(texts: &[&str]) -> GivenRatios {
    let ratios = texts.iter().map(|text| text.parse().expect("a ratio"));
    GivenRatios::new(ratios).expect("each band once")
}

fn asking(routes: &[&str]) -> CompareOptions {
    CompareOptions {
        routes: routes
            .iter()
            .map(|text| text.parse().expect("a route"))
            .collect(),
        ..CompareOptions::default()
    }
}

fn area_board(text: &str) -> AreaSubject {
    let text = format!("format: ringrule/board/1\nmounting: staples\nunits: mm\n{text}\n");
    let board = Board::read(Source::new("board.yaml", text)).expect("a board");
    AreaSubject::of_board(&board).expect("a board")
}

fn times(comparison: &AreaComparison, band: Band) -> Option<Figure> {
    let targets = &comparison.differences[0].targets;
    targets
        .iter()
        .find(|odds| odds.band == band)
        .expect("every band")
        .harder
}

/// The figure of a route that was asked for.
fn of_route(comparison: &AreaComparison, text: &str) -> Figure {
    let route: Route = text.parse().expect("a route");
    let found = comparison.differences[0]
        .routes
        .iter()
        .find(|own| own.route == route);
    found.expect("asked for").harder.expect("known")
}

fn near(found: f64, expected: f64, relative: f64) {
    assert!(
        (found / expected - 1.0).abs() < relative,
        "{found} {expected}"
    );
}

#[test]
fn ratios_multiply_to_the_legs_that_the_trade_quotes() {
    // Common practice, no source: 9.4 times for a leg of 1001 in nineteen darts with
    // fifteen trebles, finished on the bull, and 12.3 times for one with two doubles,
    // singles and bull counted as unchanged. The counts are found by trying: both legs
    // have nineteen darts, and fifteen of them are trebles.
    let (bull, doubles) = ("15xT20 3xS17 Bull", "15xT20 S20 S1 D20 D20");
    for route in [bull, doubles] {
        let route: Route = route.parse().expect("a route");
        assert_eq!((route.total(), route.targets().len()), (1001, 19));
    }
    let given = ratios(&["treble=1.161", "double=1.14"]);
    let found = compare_by_area(&[], Some(&given), &asking(&[bull, doubles])).expect("ratios");
    near(of_route(&found, bull).value, 9.4, 0.01);
    near(of_route(&found, doubles).value, 12.3, 0.01);
    // Closed form.
    near(of_route(&found, bull).value, libm::pow(1.161, 15.0), 1e-12);
    let both = libm::pow(1.161, 15.0) * 1.14 * 1.14;
    near(of_route(&found, doubles).value, both, 1e-12);
}

#[test]
fn averages_follow_the_simple_rule_both_ways_with_their_intervals() {
    let given = ratios(&["treble=1.16±0.01"]);
    let mut options = CompareOptions {
        averages: vec![100.0, 175.0],
        ..CompareOptions::default()
    };
    let found = compare_by_area(&[], Some(&given), &options).expect("ratios");
    let averages = found.differences[0].averages.as_ref().expect("a treble");
    // Closed form: 60 + 40/1.16 and 60 + 40·1.16, the ends with 1.16·e^(±0.0098/1.16): 95 %
    // is 1.96 standard uncertainties, of which 0.01 is two.
    let (hundred, factor) = (&averages.rows[0], libm::exp(0.0098 / 1.16));
    let from = hundred.from_first.expect("covered");
    near(from.value, 60.0 + 40.0 / 1.16, 1e-12);
    let interval = from.certainty.interval().expect("stated");
    near(interval.low, 60.0 + 40.0 / (1.16 * factor), 1e-6);
    near(interval.high, 60.0 + 40.0 / (1.16 / factor), 1e-6);
    near(
        hundred.to_first.expect("covered").value,
        60.0 + 40.0 * 1.16,
        1e-12,
    );
    // 60 + 115·1.16 would be above 180.
    assert!(averages.rows[1].to_first.is_none() && averages.rows[1].from_first.is_some());
    for average in [59.9, 180.1, f64::NAN] {
        options.averages = vec![average];
        let refused = compare_by_area(&[], Some(&given), &options).expect_err("not covered");
        assert!(matches!(
            refused,
            CompareError::Play(PlayError::NotTwenties(_))
        ));
    }
}

#[test]
fn a_band_that_is_not_named_is_exactly_as_hard() {
    let found = compare_by_area(
        &[],
        Some(&ratios(&["treble=1.16"])),
        &asking(&["25 Bull S20 D20", "T20"]),
    );
    let found = found.expect("ratios");
    let unchanged = times(&found, Band::Double).expect("1");
    assert_eq!(
        (unchanged.value, unchanged.certainty),
        (1.0, Certainty::Exact)
    );
    let route = of_route(&found, "25 Bull S20 D20");
    assert_eq!((route.value, route.certainty), (1.0, Certainty::Exact));
    assert_eq!(of_route(&found, "T20").certainty, Certainty::NotStated);
}

#[test]
fn whole_boards_come_out_as_under_the_area_rule_of_the_full_comparison() {
    let routes = ["T20 T20 T20", "8xT20 D12", "S20 25 Bull D7"];
    let options = asking(&routes);
    let pair = [strip(), round()];
    let full = compare(&pair, &options).expect("boards");
    let found = compare_by_area(&pair.map(AreaSubject::of), None, &options).expect("boards");
    for odds in &full.differences[0].targets {
        let own = times(&found, odds.band).expect("known");
        near(own.value, odds.harder_by_area.expect("known"), 1e-9);
    }
    // The perfect leg is the same one too, and every figure has an interval.
    let pairs = full.differences[0]
        .routes
        .iter()
        .zip(&found.differences[0].routes);
    for (full, own) in pairs {
        assert_eq!((full.name, &full.route), (own.name, &own.route));
        let figure = own.harder.expect("known");
        near(figure.value, full.harder_by_area.expect("known"), 1e-9);
        assert!(figure.certainty.interval().is_some());
    }
}

#[test]
fn an_interval_is_that_of_boards_drawn_at_random() {
    // Recomputed independently: both boards drawn a thousand times within what they state,
    // the first by its lengths, which its treble and its double share through its wires, the
    // other by its recorded areas. 1.96 standard deviations of the logarithm, against the
    // interval; a thousand draws know them to within about 2 %.
    let first = round();
    let other = area_board(
        "board: { id: A-1 }\nareas:\n  treble: { bed: 210, uncertainty: 6 }\n  \
         double: { bed: 350, uncertainty: 4 }",
    );
    let route = "T20 T20 T20 D16";
    let subjects = [AreaSubject::of(first.clone()), other];
    let found = compare_by_area(&subjects, None, &asking(&[route])).expect("boards");
    let figure = of_route(&found, route);
    let interval = figure.certainty.interval().expect("stated");
    let expanded = libm::log(interval.high / figure.value);
    near(libm::log(figure.value / interval.low), expanded, 1e-9);

    let mut random = Random::seeded(7);
    let mut logs = Vec::new();
    for _ in 0..1000 {
        let mut construction = first.construction.clone();
        for input in &mut construction.inputs {
            let u = input.uncertainty.expect("stated").standard();
            input.value = Length::mm(input.value.as_mm() + u * random.normal());
        }
        let spider = crate::geometry::Spider::of(&construction);
        let bed = |band| {
            let area = crate::geometry::band_area(&spider, band).expect("known");
            area.mean_bed().as_mm2()
        };
        let (treble, double) = (210.0 + 3.0 * random.normal(), 350.0 + 2.0 * random.normal());
        let ratio = libm::pow(bed(Band::Treble) / treble, 3.0) * bed(Band::Double) / double;
        logs.push(libm::log(ratio));
    }
    let mean = logs.iter().sum::<f64>() / logs.len() as f64;
    let squares = logs
        .iter()
        .map(|log| (log - mean) * (log - mean))
        .sum::<f64>();
    let drawn = 1.96 * libm::sqrt(squares / (logs.len() - 1) as f64);
    near(expanded, drawn, 0.07);
    near(figure.value, libm::exp(mean), 0.01);
}

#[test]
fn a_bands_own_wires_are_enough_for_it() {
    // Invented: only the treble and the double, to their free edges, and the sector wires.
    let half = area_board(
        "board: { id: A-1 }\nuncertainty: 0.05\nwires: { sectors: 16 SWG }\nrings:\n  \
         treble_inner: { radius: 97.374, edge: outside }\n  \
         treble_outer: { radius: 105.374, edge: inside }\n  \
         double_inner: { radius: 160.374, edge: outside }\n  \
         double_outer: { radius: 168.374, edge: inside }",
    );
    assert!(half.whole().is_none());
    let full = compare(&[strip(), round()], &CompareOptions::default()).expect("boards");
    let boards = [AreaSubject::of(strip()), half];
    let found = compare_by_area(&boards, None, &asking(&["T20 25"])).expect("boards");
    for odds in &full.differences[0].targets {
        match odds.band {
            // The same board as the whole one, whose wires are 16 SWG too.
            Band::Treble | Band::Double => {
                let own = times(&found, odds.band).expect("known");
                near(own.value, odds.harder_by_area.expect("known"), 1e-4);
            }
            band => assert!(times(&found, band).is_none(), "{band}"),
        }
    }
    let route = found.differences[0].routes.last().expect("asked for");
    assert!(route.harder.is_none());
    assert_eq!(route.lacks, [Band::OuterBull]);
    assert_eq!(found.boards[1].lacks.len(), 3);
}

#[test]
fn a_single_needs_the_first_boards_areas_where_its_beds_differ() {
    let given = ratios(&["outer-single=1.10±0.02", "inner-single=1.2±0.02"]);
    let options = asking(&["S20"]);
    let alone = compare_by_area(&[], Some(&given), &options).expect("ratios");
    let route = alone.differences[0].routes.last().expect("asked for");
    assert!(route.harder.is_none());
    assert_eq!(route.lacks, [Band::InnerSingle, Band::OuterSingle]);
    let first = AreaSubject::of(round());
    let [inner, outer] =
        [Band::InnerSingle, Band::OuterSingle].map(|band| first.mean_bed(band).expect("known").0);
    let known = compare_by_area(&[first], Some(&given), &options).expect("ratios");
    // Closed form, the areas as the engine has them.
    let figure = of_route(&known, "S20");
    near(
        figure.value,
        (inner + outer) / (inner / 1.2 + outer / 1.1),
        1e-9,
    );
    // Both are known to 2 %, and a mean of two independent ones better than either.
    let interval = figure.certainty.interval().expect("stated");
    let relative = interval.high / figure.value - 1.0;
    assert!((0.008..0.02).contains(&relative), "{relative}");
}

#[test]
fn without_a_first_board_the_perfect_leg_has_the_fewest_bulls() {
    // Recomputed by hand: all nine-dart legs but those over the bull are trebles and a
    // double; 1001 in seventeen darts needs the bull at the end; two darts leave no
    // treble for 60, and the largest score comes first.
    let options = CompareOptions {
        starts: vec![501, 1001, 60],
        ..CompareOptions::default()
    };
    let given = ratios(&["treble=1.16"]);
    let found = compare_by_area(&[], Some(&given), &options).expect("ratios");
    assert_eq!(found.leg_rule, LegRule::FewestBulls);
    let legs: Vec<String> = found.differences[0]
        .routes
        .iter()
        .skip(1)
        .map(|own| own.route.to_string())
        .collect();
    assert_eq!(legs, ["7xT20 T19 D12", "15xT20 T17 Bull", "S20 D20"]);
}

#[test]
fn nominal_boards_are_exact() {
    let mut pair = [strip(), round()];
    for subject in &mut pair {
        subject.is_nominal = true;
    }
    let found = compare_by_area(&pair.map(AreaSubject::of), None, &CompareOptions::default());
    let treble = times(&found.expect("boards"), Band::Treble).expect("known");
    assert_eq!(treble.certainty, Certainty::Exact);
}

#[test]
fn what_is_no_ratio_is_refused_with_a_remedy() {
    for (text, said) in [
        ("treble", "write `treble=1.16`"),
        ("treble=", "write `treble=1.16`"),
        ("=1.16", "write `treble=1.16`"),
        ("treble=1.16+-", "write `treble=1.16`"),
        ("treble=±0.01", "write `treble=1.16`"),
        ("treble=1,16", "`1,16` is not a number"),
        ("treble=nan", "`nan` is not a number"),
        ("treble=inf", "`inf` is not a number"),
        ("treble=0", "no bed is 0 times"),
        ("treble=-1", "no bed is -1 times"),
        ("treble=1.16±0", "not known to ±0"),
        ("treble=1.16±-0.1", "not known to ±-0.1"),
        ("treble=1.16+-2", "not known to ±2"),
        ("quadro=1.16", "no band `quadro`"),
        ("T20=1.16", "no band `T20`"),
    ] {
        let error = text
            .parse::<GivenRatio>()
            .expect_err("no ratio")
            .to_string();
        assert!(error.contains(said), "{text}: {error}");
    }
    for text in ["outer-single=1.1", "outer_single=1.1", "Outer single = 1.1"] {
        let given: GivenRatio = text.parse().expect("a ratio");
        assert_eq!(
            (given.band, given.times),
            (Band::OuterSingle, 1.1),
            "{text}"
        );
    }
    for text in [
        "treble=1.16±0.01",
        "treble=1.16+-0.01",
        "treble = 1.16 ± 0.01",
    ] {
        let given: GivenRatio = text.parse().expect("a ratio");
        near(given.uncertainty.expect("stated").standard(), 0.005, 1e-12);
    }
    let twice = ["treble=1.1", "treble=1.2"].map(|text| text.parse().expect("a ratio"));
    assert_eq!(
        GivenRatios::new(twice),
        Err(RatioError::Twice(Band::Treble))
    );
}

#[test]
fn boards_that_share_no_area_are_refused() {
    let boards = [
        area_board("board: { id: A-1 }\nareas: { treble: { bed: 240 } }"),
        area_board("board: { id: A-2 }\nareas: { double: { bed: 400 } }"),
    ];
    let refused = compare_by_area(&boards, None, &CompareOptions::default());
    assert!(matches!(refused, Err(CompareError::NothingInCommon { .. })));
    let given = ratios(&["treble=1.1"]);
    let refused = compare_by_area(&boards, Some(&given), &CompareOptions::default());
    assert!(matches!(refused, Err(CompareError::RatiosAndBoards(2))));
    let refused = compare_by_area(&boards[..1], None, &CompareOptions::default());
    assert!(matches!(refused, Err(CompareError::TooFew)));
}
