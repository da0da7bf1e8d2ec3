//! Legs against values computed elsewhere, and against closed forms.

use super::fixtures::{bed, continuous, face, from, solve, spread};
use super::*;
use crate::board::Band;
use crate::fixtures::round;
use crate::play::{Metal, Setup, Throw};

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
        (from(501), 9_u8),
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
        assert!((leg.distribution().chance_of(usize::from(darts)) - 1.0).abs() < 1e-9);
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
