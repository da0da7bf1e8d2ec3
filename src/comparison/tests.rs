//! What must hold of a whole comparison.

use super::*;
use crate::board::{Band, Board, BounceShare, Metal};
use crate::document::Source;
use crate::play::PlayError;
use crate::play::Spread;

/// A board to rule: round 16 SWG (from memory: a governing body's rule book).
pub(super) fn round() -> Subject {
    subject(include_str!("../../specs/demo/01-round-to-rule.yaml"))
}

/// Its strip twin: 0.5 mm strip, 9.6 mm from apex to apex, the same outside
/// edges (from memory, the strip's width invented).
pub(super) fn strip() -> Subject {
    let twin = include_str!("../../specs/demo/01-round-to-rule.yaml")
        .replace("staples", "embedded")
        .replace("16 SWG", "0.5 mm")
        .replace("97.374, edge: outside", "97.15, edge: apex")
        .replace("160.374, edge: outside", "160.15, edge: apex");
    subject(&twin)
}

pub(super) fn subject(text: &str) -> Subject {
    let board = Board::read(Source::new("board.yaml", text)).expect("a board");
    Subject::of_board(&board).expect("every wire is known")
}

fn treble(comparison: &Comparison) -> &TargetOdds {
    let targets = &comparison.differences[0].targets;
    let treble = targets.iter().find(|odds| odds.band == Band::Treble);
    treble.expect("a treble")
}

#[test]
fn two_boards_that_are_the_same_differ_in_nothing() {
    let comparison = compare(&[round(), round()], &CompareOptions::default()).expect("boards");
    let difference = &comparison.differences[0];
    for band in &difference.bands {
        assert_eq!(band.difference_percent, 0.0);
    }
    for odds in &difference.targets {
        assert_eq!(odds.harder_by_area, Some(1.0));
        assert_eq!(odds.harder_by_spread.into_array(), [Some(1.0); 3]);
    }
    for row in &difference.averages.rows {
        let worth = row.from_first.into_array().into_iter();
        for worth in worth.chain(row.to_first.into_array()) {
            assert!((worth.expect("in range") - row.average).abs() < 1e-6);
        }
    }
}

#[test]
fn the_reverse_comparison_has_the_inverse_odds() {
    let (a, b) = (strip(), round());
    let forth = compare(&[a.clone(), b.clone()], &CompareOptions::default()).expect("boards");
    let back = compare(&[b, a], &CompareOptions::default()).expect("boards");
    let pairs = forth.differences[0]
        .targets
        .iter()
        .zip(&back.differences[0].targets);
    for (forth, back) in pairs {
        let pairs = forth
            .harder_by_spread
            .into_array()
            .into_iter()
            .zip(back.harder_by_spread.into_array());
        for (forth, back) in pairs {
            let product = forth.expect("a ratio") * back.expect("a ratio");
            assert!((product - 1.0).abs() < 1e-12, "{product}");
        }
    }
    // What an average from the first board is worth here is what comes back.
    let rows = forth.differences[0]
        .averages
        .rows
        .iter()
        .zip(&back.differences[0].averages.rows);
    for (forth, back) in rows {
        let pair = (forth.from_first.lost, back.to_first.lost);
        let (Some(forth), Some(back)) = pair else {
            panic!("both in range")
        };
        assert!((forth - back).abs() < 1e-6, "{forth} {back}");
    }
}

#[test]
fn curves_tend_to_the_area_rule_where_every_dart_on_metal_is_lost() {
    let comparison = compare(&[strip(), round()], &CompareOptions::default()).expect("boards");
    let curves = &comparison.differences[0].curves;
    assert_eq!((curves.spreads_mm[0], curves.spreads_mm[23]), (3.0, 60.0));
    for curve in &curves.targets {
        let area = curve.harder_by_area.expect("an area");
        let at = |index: usize| curve.harder_by_spread.lost[index].expect("a ratio");
        // At 3 mm an outer single is almost never missed for its wires alone.
        assert!(
            (at(23) / area - 1.0).abs() < 5e-3,
            "{}: {}",
            curve.band,
            at(23)
        );
        assert!((at(23) - area).abs() <= (at(0) - area).abs() + 1e-4);
    }
}

#[test]
fn what_is_commonly_said_and_what_the_geometry_says() {
    // Common practice, no source: treble 1.16, double 1.14, three trebles 1.6,
    // eight trebles and a double 3.8, sixteen trebles and a bull 11, the bull
    // counted as unchanged. Recomputed independently: 1.187 and 1.167 from the
    // areas of 16 SWG against 0.5 mm strip, so the routes come out at 1.67, 4.6
    // and 15.5: further than what is said, which need a thicker strip.
    let options = CompareOptions {
        routes: ["8xT20 D12", "16xT20 Bull"]
            .map(|text| text.parse().expect("a route"))
            .into(),
        ..CompareOptions::default()
    };
    let comparison = compare(&[strip(), round()], &options).expect("boards");
    let routes = &comparison.differences[0].routes;
    let named: Vec<_> = routes.iter().map(|route| route.name).collect();
    assert_eq!(
        named,
        [
            Some(RouteName::Maximum),
            Some(RouteName::PerfectLeg(501)),
            None,
            None
        ]
    );
    // The easiest of the shortest legs on the first board, in nine darts.
    let perfect = &routes[1].route;
    assert_eq!((perfect.total(), perfect.targets().len()), (501, 9));
    let easiest = comparison.legs[0].easiest[0].route.as_ref();
    assert_eq!(easiest, Some(perfect));
    let area = |index: usize| routes[index].harder_by_area.expect("an area");
    let treble = treble(&comparison);
    assert!((treble.harder_by_area.expect("an area") - 1.187).abs() < 5e-4);
    assert!((area(0) - 1.187_f64.powi(3)).abs() < 0.01, "{}", area(0));
    assert!(
        (area(2) - 1.187_f64.powi(8) * 1.167).abs() < 0.05,
        "{}",
        area(2)
    );
    assert!((area(3) - 1.187_f64.powi(16)).abs() < 0.2, "{}", area(3));
    // Near 12 mm the spread rule gives the treble that is commonly said.
    let by_spread = treble.harder_by_spread.lost.expect("a ratio");
    assert!((by_spread - 1.16).abs() < 5e-3, "{by_spread}");
}

#[test]
fn the_bounce_share_that_meets_one_quoted_average_misses_the_other() {
    // Common practice, no source: 100 on strip is quoted as 94.4 on thick wire,
    // 100 there as 106.7 on strip. Recomputed independently: 36 % lost on thick
    // wire and none on strip meets the first, 40 % the second. Between them, at
    // 38 %, both are missed by about a third of a point, and no share does
    // better by both.
    let (new, old) = (strip().with_metal(Metal::Glances), round());
    let on_new = averages::Prepared::of(&new);
    let gaps = |percent: f64| {
        let share = BounceShare::new(percent / 100.0).expect("a share");
        let old = old.clone().with_metal(Metal::Share(share));
        let on_old = crate::play::Averages::on(old.face(), old.metal);
        let there = on_new.with(None).translate(100.0, &on_old);
        let back = on_old.translate(100.0, on_new.with(None));
        (
            there.expect("in range") - 94.4,
            back.expect("in range") - 106.7,
        )
    };
    let (low, middle, high) = (gaps(36.0), gaps(38.0), gaps(40.0));
    assert!(low.0.abs() < 0.15 && low.1 < -0.6, "{low:?}");
    assert!(high.1.abs() < 0.15 && high.0 < -0.6, "{high:?}");
    // The first gap falls and the second rises with the share, so the largest
    // of the two is least where they cross: near here.
    assert!((middle.0 + 0.34).abs() < 0.05, "{middle:?}");
    assert!((middle.1 + 0.36).abs() < 0.05, "{middle:?}");
}

#[test]
fn throws_and_averages_give_the_spread() {
    let given = CompareOptions {
        spread: SpreadSource::Given(Spread::new(9.0).expect("a spread")),
        ..CompareOptions::default()
    };
    let boards = [strip(), round()];
    let average = compare(&boards, &given).expect("boards");
    let average = average.assumptions.average_on_first;
    let again = CompareOptions {
        spread: SpreadSource::Average(average),
        ..CompareOptions::default()
    };
    let comparison = compare(&boards, &again).expect("boards");
    assert!((comparison.assumptions.spread_x_mm - 9.0).abs() < 1e-6);
    let text = "hit\nT20\n20\n20\nmiss\n1\n20\nT20\n5\n";
    let throws = read_throws(Source::new("throws.csv", text)).expect("throws");
    let at = |target: Option<&str>| CompareOptions {
        spread: SpreadSource::Throws(
            throws.clone(),
            target.map(|word| word.parse().expect("a target")),
            Sighting::Corrected,
        ),
        ..CompareOptions::default()
    };
    let comparison = compare(&boards, &at(Some("T20"))).expect("boards");
    let SpreadOrigin::Throws(thrown) = comparison.assumptions.spread_from else {
        panic!("from throws")
    };
    assert_eq!((thrown.darts, thrown.missed), (8, 1));
    assert!(thrown.uncertainty_x_mm > 0.0 && thrown.uncertainty_x_mm < 10.0);
    assert_eq!(
        compare(&boards, &at(None)).err(),
        Some(CompareError::NoTarget)
    );
}

#[test]
fn an_error_of_the_library_names_no_option_of_the_program() {
    for error in [CompareError::TooFew, CompareError::NoTarget] {
        let words = error.to_string();
        assert!(!words.contains("--") && !words.contains('`'), "{words}");
    }
}

#[test]
fn a_sighting_error_is_not_a_wide_spread() {
    // Recomputed independently: a spread of 6 mm whose darts land 10 mm right and 11 mm
    // low of the aim is one of 12 mm about the aim, √(6² + (10² + 11²)/2).
    let mut random = crate::random::Random::seeded(20_261_130);
    let landed = (0..400).map(|_| {
        let (x, y) = random.normal_pair();
        crate::play::Landed::At(crate::geometry::Point::mm(
            10.0 + 6.0 * x,
            102.2 - 11.0 + 6.0 * y,
        ))
    });
    let throws = Throws::Positions {
        file: "throws.csv".to_owned(),
        landed: landed.collect(),
    };
    let with = |sighting| {
        let target = "T20".parse().expect("a target");
        let options = CompareOptions {
            spread: SpreadSource::Throws(throws.clone(), Some(target), sighting),
            ..CompareOptions::default()
        };
        let glances = [strip(), round()].map(|board| board.with_metal(Metal::Glances));
        compare(&glances, &options).expect("boards").assumptions
    };
    let (corrected, kept) = (with(Sighting::Corrected), with(Sighting::Kept));
    assert!((corrected.spread_x_mm - 6.0).abs() < 0.5);
    assert!(
        (kept.spread_x_mm - 12.0).abs() < 0.5,
        "{}",
        kept.spread_x_mm
    );
    let SpreadOrigin::Throws(thrown) = corrected.spread_from else {
        panic!("from throws")
    };
    let error = thrown.sighting.expect("a target was named");
    assert!((error.right_mm - 10.0).abs() < 1.0 && (error.up_mm + 11.0).abs() < 1.0);
    assert!(error.by_chance < 1e-6);
    // What both spreads average, less what 400 darts leave unknown of them.
    let board = strip();
    let averages = crate::play::Averages::on(board.face(), Metal::Glances);
    for (found, sigma) in [(error.average_corrected, 6.0), (error.average_kept, 12.17)] {
        let (average, _) = averages.of(Spread::new(sigma).expect("a spread"));
        assert!((found - average).abs() < 4.0, "{found} {average}");
    }
    assert_eq!(error.average_corrected, corrected.average_on_first);
    assert_eq!(error.average_kept, kept.average_on_first);
    // Nothing in 400 round darts shows that they are not.
    assert!(thrown.unequal_by_chance.expect("positions") > 0.01);
}

#[test]
fn boards_that_are_called_the_same_are_told_apart() {
    let named = |file: &str| {
        let mut subject = round();
        file.clone_into(&mut subject.file);
        subject
    };
    let boards = tell_apart(vec![named("a.yaml"), named("b.yaml"), named("b.yaml")]);
    let labels: Vec<&str> = boards.iter().map(|board| board.label.as_str()).collect();
    assert_eq!(
        labels,
        ["FL-01 (a.yaml)", "FL-01 (b.yaml)", "FL-01 (b.yaml, 2)"]
    );
    let one = tell_apart(vec![named("a.yaml")]);
    assert_eq!(one[0].label, "FL-01");
}

#[test]
fn what_cannot_be_compared_is_refused() {
    let fault = |boards: &[Subject], options| compare(boards, options).err();
    let plain = CompareOptions::default();
    assert_eq!(fault(&[round()], &plain), Some(CompareError::TooFew));
    let boards = [strip(), round()];
    let options = CompareOptions {
        averages: vec![185.0],
        ..CompareOptions::default()
    };
    assert!(matches!(
        fault(&boards, &options),
        Some(CompareError::Play(PlayError::NoSpread { .. }))
    ));
    let options = CompareOptions {
        starts: vec![1],
        ..CompareOptions::default()
    };
    assert!(matches!(
        fault(&boards, &options),
        Some(CompareError::Play(PlayError::StartTooSmall(1)))
    ));
}
