//! Legs against values computed elsewhere, and what must hold of them.

use super::*;
use crate::board::Band;
use crate::fixtures::{bent, round, strip};
use crate::geometry::{Bed, Spider};
use crate::play::{Face, Metal, PlayError, Setup, Spread, Throw};
use crate::units::Angle;

fn face(spider: &Spider) -> Face {
    Face::of(spider).expect("all wires known")
}

fn spread(sigma: f64) -> Spread {
    Spread::new(sigma).expect("a spread")
}

fn solve(face: &Face, spread: Spread, options: LegOptions) -> Leg {
    let setup = Setup {
        face,
        metal: Metal::Lost,
    };
    Leg::solve(setup, spread, options).expect("a leg")
}

fn bed(band: Band, number: u8) -> Bed {
    let bed = Bed::of_band(band).find(|bed| bed.number() == number);
    bed.expect("on the board")
}

fn from(start: u32) -> LegOptions {
    LegOptions::from(start)
}

fn continuous(start: u32) -> LegOptions {
    LegOptions {
        aims: Aims::Continuous,
        ..from(start)
    }
}

#[test]
fn legs_take_as_many_darts_as_computed_elsewhere() {
    // Recomputed independently: aims at 81 middles, metal lost, spread 10 mm.
    let leg = solve(&face(&round()), spread(10.0), from(501));
    for (total, expected) in [
        (501, 21.398_149),
        (301, 13.918_828),
        (170, 8.979_364),
        (40, 3.427_175),
        (32, 3.309_921),
        (2, 4.628_785),
    ] {
        let darts = leg.expected_darts_from(total).expect("solved");
        assert!((darts - expected).abs() < 6e-7, "{total}: {darts}");
    }
    for (total, bed) in [
        (501, bed(Band::Treble, 20)),
        (121, bed(Band::Treble, 19)),
        (50, bed(Band::OuterSingle, 18)),
        (41, bed(Band::OuterSingle, 9)),
    ] {
        let choice = leg.choice(total, total, 3).expect("solved");
        assert_eq!(choice.bed, bed, "{total}");
        let expected = leg.expected_darts_from(total).expect("solved");
        assert!((choice.expected - expected).abs() < 1e-9, "{choice:?}");
    }
    assert!((leg.match_average() - 1503.0 / 21.398_149).abs() < 1e-5);
}

#[test]
fn nine_darts_are_as_likely_as_computed_elsewhere() {
    // Recomputed independently: the greatest chance of nine darts from 501.
    let face = face(&round());
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    let perfect = PerfectLeg::solve(setup, spread(10.0), from(501)).expect("a leg");
    assert_eq!(perfect.darts, 9);
    assert!((perfect.chance - 8.734_476e-6).abs() < 5e-13, "{perfect:?}");
    assert_eq!(perfect.bed, bed(Band::Treble, 20));
    // Who plays for the fewest darts has it less often, and no chance of eight.
    let leg = solve(&face, spread(10.0), from(501)).distribution();
    assert!(leg.chance_of(9) > 0.0 && leg.chance_of(9) < perfect.chance);
    assert_eq!(leg.within(8), 0.0);
    let anywhere = PerfectLeg::solve(setup, spread(10.0), continuous(501)).expect("a leg");
    assert!(anywhere.chance > perfect.chance, "{anywhere:?}");
    // Of a thousand legs at least one, by hand.
    let one = chance_in_legs(perfect.chance, 1000.0);
    assert!((one - (1.0 - (1.0 - perfect.chance).powi(1000))).abs() < 1e-12);
    assert!(
        (chance_in_legs(perfect.chance, legs_for_chance(perfect.chance, 0.5)) - 0.5).abs() < 1e-12
    );
}

#[test]
fn from_two_the_value_has_a_closed_form() {
    // Only double 1 wins, and any other score is more than 2 or leaves nothing
    // that can be finished: the visit is void. With p the chance of double 1 and
    // q that of scoring nothing, a visit wins with its first, second or third
    // dart with p, qp and q²p, and else counts three: the expected number E is
    // p + 2qp + 3q²p + (1 − p(1 + q + q²))·(3 + E).
    let face = face(&round());
    for sigma in [3.0, 10.0, 40.0] {
        let leg = solve(&face, spread(sigma), from(2));
        let aim = leg.choice(2, 2, 3).expect("solved");
        assert_eq!(aim.bed, bed(Band::Double, 1));
        let hits = face.hits(&Throw::at(aim.aim, spread(sigma)), Metal::Lost);
        let (p, q) = (hits.of(aim.bed), hits.metal() + hits.outside());
        let wins = p * (1.0 + q + q * q);
        let expected = (p * (1.0 + 2.0 * q + 3.0 * q * q) + 3.0 * (1.0 - wins)) / wins;
        assert!(
            (leg.expected_darts() / expected - 1.0).abs() < 1e-12,
            "{sigma}: {expected}"
        );
        let visits = leg.expected_visits();
        assert!((visits * wins - 1.0).abs() < 1e-12);
    }
}

#[test]
fn a_player_who_always_hits_needs_nine_darts() {
    for (options, darts) in [
        (from(501), 9),
        (from(1001), 17),
        (from(170), 3),
        (from(2), 1),
        // Recomputed independently: 160, 180, 161.
        (
            LegOptions {
                entry: Entry::Double,
                ..from(501)
            },
            9,
        ),
        (continuous(501), 9),
    ] {
        let leg = solve(&face(&round()), spread(0.01), options);
        assert!(
            (leg.expected_darts() - f64::from(darts)).abs() < 1e-9,
            "{options:?}: {}",
            leg.expected_darts()
        );
        assert!((leg.distribution().chance_of(darts as usize) - 1.0).abs() < 1e-9);
    }
}

#[test]
fn the_distribution_has_the_expected_mean() {
    let face = face(&round());
    for options in [
        from(501),
        LegOptions {
            entry: Entry::Double,
            ..from(301)
        },
        LegOptions {
            objective: Objective::Visits,
            ..from(170)
        },
    ] {
        for sigma in [6.0, 25.0] {
            let leg = solve(&face, spread(sigma), options);
            let distribution = leg.distribution();
            assert!(distribution.tail() < 1e-12);
            let sum: f64 = distribution.iter().map(|(_, chance)| chance).sum();
            assert!((sum - 1.0).abs() < 1e-10, "{sum}");
            let mean: f64 = distribution
                .iter()
                .map(|(darts, chance)| darts as f64 * chance)
                .sum();
            assert!(
                (mean / leg.expected_darts() - 1.0).abs() < 1e-8,
                "{options:?} {sigma}: {mean}"
            );
            let visits = distribution
                .by_visit()
                .zip(1..)
                .map(|(chance, visit)| chance * f64::from(visit));
            assert!((visits.sum::<f64>() / leg.expected_visits() - 1.0).abs() < 1e-8);
            let median = distribution.quantile(0.5).expect("a median");
            assert!(distribution.within(median) >= 0.5 && distribution.within(median - 1) < 0.5);
        }
    }
}

#[test]
fn each_objective_is_best_at_what_it_is_for() {
    let face = face(&round());
    let darts = solve(&face, spread(12.0), from(301));
    let visits = solve(
        &face,
        spread(12.0),
        LegOptions {
            objective: Objective::Visits,
            ..from(301)
        },
    );
    assert!(darts.expected_darts() < visits.expected_darts());
    assert!(visits.expected_visits() < darts.expected_visits());
    let choice = visits.choice(301, 301, 3).expect("solved");
    assert!((choice.expected - visits.expected_visits()).abs() < 1e-9);
}

#[test]
fn aims_anywhere_are_never_worse_than_middles() {
    for (spider, sigma, metal) in [(round(), 7.0, Metal::Lost), (bent(), 25.0, Metal::Glances)] {
        let face = face(&spider);
        let setup = Setup { face: &face, metal };
        let solve = |options| Leg::solve(setup, spread(sigma), options).expect("a leg");
        let (middles, anywhere) = (solve(from(121)), solve(continuous(121)));
        for total in 2..=121 {
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

#[test]
fn turning_the_board_with_its_numbers_changes_nothing() {
    // The wires are the same after a turn by a sector; the numbers turn with
    // them. A round spread sees no difference, one that is not must turn too.
    let turned = |sectors: f64| {
        let mut spider = round();
        if let Some(sectors_of) = &mut spider.sectors {
            for bearing in sectors_of.bearings.iter_mut() {
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
        .flat_map(|found| found.losses)
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
    let long = solve(&face, spread(10.0), from(2001));
    assert!(long.expected_darts() > 70.0 && long.expected_darts() < 90.0);
}
