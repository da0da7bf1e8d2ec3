//! Fits of known throws, of a few darts by hand, and of many by chance.

use super::*;
use crate::board::Band;
use crate::fixtures::{round, wireless};
use crate::geometry::Bed;
use crate::play::{Face, Metal};
use crate::random::Random;

fn face() -> Face {
    Face::of(&wireless()).expect("all wires known")
}

fn fit(landed: &[Landed], aim: Option<Point>) -> Result<PositionFit, PlayError> {
    let face = face();
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    fit_positions(setup, landed, aim)
}

fn at(x: f64, y: f64) -> Landed {
    Landed::At(Point::mm(x, y))
}

/// Darts about a place, those beyond the double ring as misses.
fn throws(random: &mut Random, n: usize, mean: Point, [x, y]: [f64; 2]) -> Vec<Landed> {
    let mut throws = Vec::with_capacity(n);
    for _ in 0..n {
        let (a, b) = random.normal_pair();
        let place = mean + Point::mm(x * a, y * b);
        let outside = place.norm() > 170.0;
        throws.push(if outside {
            Landed::Missed
        } else {
            Landed::At(place)
        });
    }
    throws
}

#[test]
fn a_sighting_error_is_no_spread() {
    // Invented: σ 6 mm, 10 mm to the right and 11 mm low, as thirty darts.
    let mut random = Random::seeded(3);
    let aim = Point::mm(0.0, 101.4);
    let landed = throws(&mut random, 30, aim + Point::mm(10.0, -11.0), [6.0, 6.0]);
    let fit = fit(&landed, Some(aim)).expect("enough");
    let near = |estimate: Estimated, truth: f64| {
        (estimate.value - truth).abs() < 3.0 * estimate.uncertainty
    };
    assert!(near(fit.sigma, 6.0), "{fit:?}");
    let [x, y] = fit.offset.expect("an aim");
    assert!(near(x, 10.0) && near(y, -11.0), "{fit:?}");
    assert!(fit.offset_by_chance.expect("an aim") < 1e-6);
    // Not corrected it is worth a spread of √(6² + (10² + 11²)/2), about 12 mm.
    let about = fit.sigma_about_aim().expect("an aim");
    assert!((about - 12.1).abs() < 1.5, "{about}");
    assert!(!fit.is_elliptical());
    assert!(fit.spread().expect("a spread").is_round());
}

#[test]
fn a_few_positions_by_hand() {
    // Invented positions; sums of squares 2, 0 and 6 recomputed independently.
    let landed = [at(1.0, 2.0), at(3.0, 2.0), at(2.0, 5.0)];
    let fit = fit(&landed, Some(Point::mm(2.0, 2.0))).expect("enough");
    assert!((fit.sigma_x.value - 1.0).abs() < 1e-15 && fit.rho == 0.0);
    assert!((fit.sigma_y.value - 3.0_f64.sqrt()).abs() < 1e-15);
    assert!((fit.sigma.value - 2.0_f64.sqrt()).abs() < 1e-15);
    // Determinant 2/3 · 2 over ((2/3 + 2)/2)² is 3/4.
    assert!((fit.likelihood_ratio + 3.0 * 0.75_f64.ln()).abs() < 1e-14);
    assert!((fit.unequal_by_chance - 0.75_f64.sqrt()).abs() < 1e-14);
    // The mean is 1 mm high, at a fitted variance of 2.
    let chance = fit.offset_by_chance.expect("an aim");
    assert!((chance - 1.5_f64.powf(-0.5)).abs() < 1e-14);
}

#[test]
fn both_tests_err_as_often_as_they_say() {
    // Chances under the hypothesis are even from 0 to 1: simulated.
    let mut random = Random::seeded(8);
    for darts in [4, 10] {
        let (mut unequal, mut off) = ([0; 4], [0; 4]);
        for _ in 0..4000 {
            let landed = throws(&mut random, darts, Point::ORIGIN, [7.0, 7.0]);
            let fit = fit(&landed, Some(Point::ORIGIN)).expect("enough");
            let quarter = |chance: f64| {
                usize::from(chance > 0.25) + usize::from(chance > 0.5) + usize::from(chance > 0.75)
            };
            unequal[quarter(fit.unequal_by_chance)] += 1;
            off[quarter(fit.offset_by_chance.expect("an aim"))] += 1;
        }
        // Four standard errors of a binomial count.
        let even = |count: &i32| (f64::from(*count) - 1000.0).abs() < 4.0 * 750.0_f64.sqrt();
        assert!(unequal.iter().chain(&off).all(even), "{unequal:?} {off:?}");
    }
}

#[test]
fn misses_are_counted_and_not_left_out() {
    // Aimed at double 20, four in ten go over the top. Invented.
    let mut random = Random::seeded(5);
    let aim = Point::mm(0.0, 166.0);
    let landed = throws(&mut random, 1000, aim, [14.0, 14.0]);
    let found = fit(&landed, Some(aim)).expect("enough");
    assert!(found.missed > 300, "{found:?}");
    let off = (found.sigma.value - 14.0).abs() / found.sigma.uncertainty;
    assert!(off < 4.0, "{found:?}");
    let [_, y] = found.offset.expect("an aim");
    assert!(y.value.abs() < 6.0 * y.uncertainty, "{found:?}");
    // Left out, they would make the player low and narrow.
    let seen: Vec<Landed> = landed
        .into_iter()
        .filter(|l| *l != Landed::Missed)
        .collect();
    let without = fit(&seen, Some(aim)).expect("enough");
    assert!(without.sigma_y.value < 11.0 && without.offset.expect("an aim")[1].value < -5.0);
}

#[test]
fn the_likeliest_throw_with_misses_is_likelier_than_its_neighbours() {
    let mut random = Random::seeded(6);
    let landed = throws(&mut random, 60, Point::mm(20.0, 150.0), [25.0, 12.0]);
    let face = Face::of(&round()).expect("all wires known");
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    let places = places(&landed, None).expect("enough");
    let missed = landed.len() - places.len();
    assert!(missed > 3);
    let best = likeliest(setup, &places, missed, Moments::of(&places), false).expect("a fit");
    let log = |moments| log_likelihood(setup, &places, missed, moments).expect("a spread");
    for nth in 0..5 {
        for step in [-0.02, 0.02] {
            let mut other = best;
            match nth {
                0 => other.mean.x += 10.0 * step,
                1 => other.mean.y += 10.0 * step,
                _ => other.squares[nth - 2] += 100.0 * step,
            }
            assert!(log(other) < log(best), "{nth} {step}");
        }
    }
    let fit = fit_positions(setup, &landed, None).expect("a fit");
    assert!(fit.is_elliptical() && fit.offset.is_none());
    assert!(!fit.spread().expect("a spread").is_round());
}

#[test]
fn what_shows_no_spread_is_refused() {
    for few in [
        vec![],
        vec![at(1.0, 2.0)],
        vec![at(1.0, 2.0), at(4.0, 3.0), Landed::Missed],
    ] {
        let throws = few
            .iter()
            .filter(|landed| **landed != Landed::Missed)
            .count();
        let needed = 3;
        assert_eq!(
            fit(&few, None),
            Err(PlayError::TooFewThrows { throws, needed })
        );
    }
    assert_eq!(fit(&[at(1.0, 2.0); 3], None), Err(PlayError::NoScatter));
    let bad = [at(1.0, 2.0), at(1.0, f64::NAN), at(0.0, 0.0)];
    assert!(matches!(fit(&bad, None), Err(PlayError::NotAPlace(..))));
    // On one line: no spread across it, so a round one stands in.
    let line = [at(1.0, 2.0), at(2.0, 4.0), at(3.0, 6.0), at(4.0, 8.0)];
    let fit = fit(&line, None).expect("a fit");
    assert!(fit.is_elliptical() && fit.spread().is_ok());
}

#[test]
fn positions_in_inches_are_noticed() {
    let treble = face().middle(Bed::new(Band::Treble, 0));
    assert!(look_like_inches(
        &[at(0.1, 4.0), at(-0.3, 4.2), Landed::Missed],
        treble
    ));
    assert!(!look_like_inches(&[at(2.0, 101.0), at(-5.0, 99.0)], treble));
    assert!(!look_like_inches(&[at(0.1, 4.0)], Point::ORIGIN));
    assert!(!look_like_inches(&[Landed::Missed], treble));
}
