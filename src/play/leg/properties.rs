//! What must hold of legs.

use super::fixtures::{bed, continuous, face, from, solve, spread};
use super::*;
use crate::board::Band;
use crate::fixtures::{bent, round, strip};
use crate::geometry::Point;
use crate::play::{Metal, PlayError, Setup, Spread, Throw};
use crate::units::Angle;

#[test]
fn aims_anywhere_are_never_worse_than_middles() {
    for (spider, sigma, metal) in [(round(), 7.0, Metal::Lost), (bent(), 20.0, Metal::Glances)] {
        let face = face(&spider);
        let setup = Setup { face: &face, metal };
        let solve = |options| Leg::solve(setup, spread(sigma), options).expect("a leg");
        let (middles, anywhere) = (solve(from(41)), solve(continuous(41)));
        for total in 2..=41 {
            let darts = |leg: &Leg| leg.expected_darts_from(total).expect("solved");
            assert!(
                darts(&anywhere) <= darts(&middles) + 1e-6,
                "{sigma}, {total}"
            );
        }
        assert!(anywhere.expected_darts() < middles.expected_darts());
    }
}

#[test]
fn boards_alike_give_equal_results() {
    let legs = [round(), round()].map(|spider| solve(&face(&spider), spread(14.0), from(301)));
    let [one, other] = &legs;
    assert_eq!(one.expected_darts(), other.expected_darts());
    assert_eq!(one.distribution(), other.distribution());
    assert_eq!(one.finish_table(301), other.finish_table(301));
    assert!(differences(one, other, 301, 0.0).is_empty());
}

/// Searches run side by side, and whichever ends first must not matter.
#[test]
fn as_many_threads_as_there_are_the_leg_is_the_same() {
    let board = face(&bent());
    let spread = Spread::with(9.0, 30.0, 0.4).expect("a spread");
    let [one, three] = [1, 3].map(|threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
        let pool = pool.build().expect("threads");
        pool.install(|| solve(&board, spread, continuous(31)))
    });
    assert_eq!(one.expected_darts(), three.expected_darts());
    assert_eq!(one.finish_table(31), three.finish_table(31));
    assert_eq!(one.distribution(), three.distribution());
}

#[test]
fn turning_the_board_with_its_numbers_changes_nothing() {
    // The wires are the same after a turn by a sector; the numbers turn with
    // them. A round spread sees no difference, one that is not must turn too.
    let turned = |sectors: f64| {
        let mut spider = round();
        if let Some(sectors_of) = &mut spider.sectors {
            for bearing in &mut sectors_of.bearings {
                *bearing = Angle::degrees(bearing.as_degrees() + 18.0 * sectors);
            }
        }
        spider
    };
    let darts =
        |sectors, spread| solve(&face(&turned(sectors)), spread, from(301)).expected_darts();
    for sectors in [1.0, 7.0] {
        assert!((darts(sectors, spread(11.0)) - darts(0.0, spread(11.0))).abs() < 1e-9);
    }
    let flat = |x, y| Spread::with(x, y, 0.0).expect("a spread");
    assert!((darts(5.0, flat(8.0, 15.0)) - darts(0.0, flat(15.0, 8.0))).abs() < 1e-9);
    assert!((darts(5.0, flat(8.0, 15.0)) - darts(0.0, flat(8.0, 15.0))).abs() > 1e-3);
}

#[test]
fn two_boards_want_different_aims_and_each_loses_by_the_other_s() {
    let legs = [round(), strip(0.5)].map(|spider| solve(&face(&spider), spread(16.0), from(301)));
    let [old, new] = &legs;
    assert!(new.expected_darts() < old.expected_darts());
    let found = differences(old, new, 301, 0.0);
    assert!(!found.is_empty());
    for difference in &found {
        let [first, second] = difference.choices;
        assert_ne!(first.bed, second.bed);
        let losses = difference.losses.expect("middles");
        assert!(
            losses.iter().all(|loss| (-1e-9..1.0).contains(loss)),
            "{difference:?}"
        );
    }
    let most = found
        .iter()
        .filter_map(|found| found.losses)
        .flatten()
        .fold(0.0, f64::max);
    assert!(differences(old, new, 301, most).is_empty());
}

#[test]
fn the_finish_table_has_every_position() {
    let leg = solve(&face(&round()), spread(10.0), from(181));
    let table = leg.finish_table(1000);
    let row = |left, darts| {
        table
            .iter()
            .find(|row| (row.left, row.darts) == (left, darts))
    };
    for left in 2..=181 {
        let row = row(left, 3).expect("a row");
        assert_eq!((row.choices.len(), row.choices[0].begun), (1, left));
    }
    // Treble 20 and 1 lead from 61 to 1 and 60: one start each, or more.
    let last = row(32, 1).expect("a row");
    assert!(last.choices.len() > 50);
    let by_bed = last.by_bed();
    assert_eq!(
        by_bed
            .iter()
            .map(|(_, choices)| choices.len())
            .sum::<usize>(),
        last.choices.len()
    );
    assert_eq!(by_bed[0].0, bed(Band::Double, 16));
    // One dart at the double: it wins, or the visit counts and goes on.
    for chosen in &last.choices {
        assert!(
            chosen.choice.expected > 1.0 && chosen.choice.expected < 8.0,
            "{chosen:?}"
        );
    }
    assert_eq!(
        leg.choice(181, 180, 2).map(|c| c.bed),
        Some(bed(Band::Treble, 20))
    );
    assert_eq!(leg.choice(60, 61, 3), None);
    assert_eq!(leg.choice(60, 60, 4), None);
    // No dart scores 59.
    assert_eq!(leg.choice(99, 40, 2), None);
}

#[test]
fn who_throws_first_wins_more_often() {
    let face = face(&round());
    let [good, poor] =
        [9.0, 14.0].map(|sigma| solve(&face, spread(sigma), from(501)).distribution());
    let even = Against::of(&good, &good);
    // Whoever throws first, one of both wins.
    assert!((even.throwing_first + even.throwing_second - 1.0).abs() < 1e-10);
    assert!(even.throwing_first > 0.55);
    let (one, other) = (Against::of(&good, &poor), Against::of(&poor, &good));
    assert!((one.throwing_first + other.throwing_second - 1.0).abs() < 1e-10);
    assert!((one.throwing_second + other.throwing_first - 1.0).abs() < 1e-10);
    assert!(one.throwing_second > 0.5 && one.tail < 1e-11);
}

#[test]
fn a_leg_that_nobody_plays_or_finishes_is_refused() {
    let face = face(&round());
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    let fault = |options| {
        Leg::solve(setup, spread(10.0), options)
            .map(|_| ())
            .expect_err("no leg")
    };
    assert_eq!(fault(from(1)), PlayError::StartTooSmall(1));
    assert_eq!(fault(from(10_002)), PlayError::StartTooLarge(10_002));
    // Double 1 leaves 1, and no other double is so small.
    let double = |start| LegOptions {
        entry: Entry::Double,
        ..from(start)
    };
    assert_eq!(fault(double(3)), PlayError::NeverFinishes(3));
    let none = PerfectLeg::solve(setup, spread(10.0), double(3)).expect_err("no leg");
    assert_eq!(none, PlayError::NeverFinishes(3));
}

#[test]
fn a_double_to_begin_with_costs_darts() {
    let face = face(&round());
    let straight = solve(&face, spread(10.0), from(301));
    let double = solve(
        &face,
        spread(10.0),
        LegOptions {
            entry: Entry::Double,
            ..from(301)
        },
    );
    assert!(double.expected_darts() > straight.expected_darts() + 1.0);
    assert_eq!(double.choice(301, 301, 3), None);
    let first = double.entry_choice(3).expect("a first dart");
    assert!((first.expected - double.expected_darts()).abs() < 1e-9);
    assert_eq!(first.bed.band(), Band::Double);
    // Once in, the same leg as from there straight in.
    assert_eq!(
        double.expected_darts_from(200),
        straight.expected_darts_from(200)
    );
    assert!(double.choice_after_entry(261, 2).is_some());
    assert_eq!(double.choice_after_entry(301, 2), None);
}

#[test]
fn poor_players_and_long_legs_are_worked_out_too() {
    let face = face(&round());
    let far = solve(&face, spread(400.0), from(40));
    assert!(far.expected_darts() > 500.0 && far.expected_darts().is_finite());
    // With so little sideways, hardly any dart counts: a guess that was too low was followed by
    // one of 10^18, and the leg was said never to be won.
    for up in [0.2, 2.0] {
        let flat = solve(
            &face,
            Spread::with(400.0, up, 0.0).expect("a spread"),
            from(101),
        );
        let (darts, distribution) = (flat.expected_darts(), flat.distribution());
        assert!(darts > 30.0 && darts < 300.0, "{up}: {darts}");
        let mean: f64 = distribution
            .iter()
            .map(|(darts, share)| darts as f64 * share)
            .sum();
        assert!((mean / darts - 1.0).abs() < 1e-6, "{up}: {darts}, {mean}");
    }
    let long = solve(&face, spread(10.0), from(2001));
    assert!(long.expected_darts() > 70.0 && long.expected_darts() < 90.0);
}

#[test]
fn no_place_on_a_grid_is_better_than_the_aim_that_was_found() {
    let face = face(&round());
    let round = [(7.0, 41), (13.0, 90), (28.0, 41)].map(|(sigma, total)| (spread(sigma), total));
    // On the axes of a board that is even to both sides, middles lie on saddles; and along a
    // spread that is much longer than wide there are hills that no middle leads to, some of
    // them beyond the board.
    let long = [
        ([3.0, 9.0, 0.0], 24),
        ([2.0, 40.0, 0.0], 24),
        ([0.5, 6.0, 0.0], 12),
        ([20.0, 20.0, -0.99], 16),
        ([4.0, 60.0, 0.0], 24),
    ];
    let long = long.map(|([x, y, rho], total)| (Spread::with(x, y, rho).expect("a spread"), total));
    for (spread, total) in round.into_iter().chain(long) {
        let leg = solve(&face, spread, continuous(total));
        let steps = || (-22..=22).map(|step| 11.5 * f64::from(step));
        let grid: Vec<_> = steps()
            .flat_map(|x| steps().map(move |y| Point::mm(x, y)))
            .map(|aim| face.hits(&Throw::at(aim, spread), Metal::Lost))
            .map(|hits| outcome::chances(&hits))
            .collect();
        for row in leg.finish_table(total) {
            let begun = row.choices[0].begun as usize;
            let position = [begun, row.left as usize, row.darts];
            let least = grid
                .iter()
                .filter_map(|chances| leg.loss_of(position, chances));
            let least = least.fold(f64::INFINITY, f64::min);
            assert!(least > -1e-7, "{spread:?}, {position:?}: {least}");
        }
    }
}

#[test]
fn darts_at_a_double_are_those_aimed_at_it_wherever_exactly() {
    // The best place is a little beside a double's middle, and a wide spread hits the single
    // beside it more often: it is aimed at the double all the same. What the share of wins
    // is then cannot be far from that of aims at middles.
    for sigma in [8.0, 20.0, 45.0] {
        let rates = [Aims::Middles, Aims::Continuous].map(|aims| {
            let options = LegOptions { aims, ..from(121) };
            let leg = solve(&face(&round()), spread(sigma), options);
            leg.checkout_rate().expect("aimed at doubles")
        });
        let [middles, anywhere] = rates;
        assert!((anywhere / middles - 1.0).abs() < 0.1, "{sigma}: {rates:?}");
    }
    // Who never misses needs one.
    let sure = solve(&face(&round()), spread(0.1), from(40));
    assert_eq!(sure.checkout_rate(), Some(1.0));
}
