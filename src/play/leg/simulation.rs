//! Legs thrown dart by dart.

use super::*;
use crate::board::{Band, RingWire};
use crate::fixtures::round;
use crate::geometry::{Bed, Point, Spider};
use crate::play::{Face, Metal, Setup, Spread};
use crate::random::Random;

/// The bed at a place of a board with sectors to rule, from its bearing and its
/// distance alone: none of the engine's boundaries.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn bed_at(spider: &Spider, place: Point) -> Option<Bed> {
    let radius = place.norm();
    let turn = libm::atan2(place.x, place.y).to_degrees() + 9.0;
    let sector = libm::floor(turn / 18.0).rem_euclid(20.0);
    let within = (turn - 18.0 * libm::floor(turn / 18.0)).to_radians();
    let half = spider.sectors.expect("sectors").widths[0].as_mm() / 2.0;
    let to_wire = radius * libm::sin(within).min(libm::sin(18.0_f64.to_radians() - within));
    Band::ALL.into_iter().find_map(|band| {
        let edge = |wire: RingWire| &spider.rings[wire];
        let outer = edge(band.outer_wire()).inside.expect("an edge").as_mm();
        let inner = band
            .inner_wire()
            .map_or(0.0, |wire| edge(wire).outside.expect("an edge").as_mm());
        let clear = !band.has_sectors() || to_wire > half;
        ((inner..outer).contains(&radius) && clear).then(|| Bed::new(band, sector as usize))
    })
}

/// Plays one leg as the solution says; how many darts it takes.
fn play(leg: &Leg, spider: &Spider, spread: Spread, random: &mut Random) -> u32 {
    let (mut begun, mut darts) = (leg.options().start, 0);
    loop {
        let mut left = begun;
        for in_hand in [3, 2, 1] {
            let choice = leg.choice(begun, left, in_hand).expect("a position");
            let (x, y) = random.normal_pair();
            let off = Point::mm(spread.sigma_x() * x, spread.sigma_y() * y);
            let bed = bed_at(spider, choice.aim + off);
            let score = bed.map_or(0, |bed| u32::from(bed.score()));
            let double =
                bed.is_some_and(|bed| matches!(bed.band(), Band::Double | Band::InnerBull));
            if score == left && double {
                return darts + 4 - u32::try_from(in_hand).expect("at most three");
            }
            if score + 2 > left {
                left = begun;
                break;
            }
            left -= score;
        }
        begun = left;
        darts += 3;
    }
}

/// Whether many legs take as many darts in the mean, have the same chance of
/// few, and scatter as the distribution says, within four standard errors.
fn agrees(leg: &Leg, spread: Spread, legs: u32, seed: u64) {
    let (spider, mut random) = (round(), Random::seeded(seed));
    let distribution = leg.distribution();
    let median = distribution.quantile(0.5).expect("a median");
    let (mut sum, mut squares, mut few) = (0.0, 0.0, 0.0);
    for _ in 0..legs {
        let darts = f64::from(play(leg, &spider, spread, &mut random));
        sum += darts;
        squares += darts * darts;
        few += f64::from(u8::from(darts <= median as f64));
    }
    let n = f64::from(legs);
    let mean = sum / n;
    let exact = leg.expected_darts();
    let about = |(darts, chance): (usize, f64)| chance * (darts as f64 - exact).powi(2);
    let variance: f64 = distribution.iter().map(about).sum();
    let error = (variance / n).sqrt();
    assert!(
        (mean - exact).abs() < 4.0 * error,
        "{mean} is not {exact} ± {error}"
    );
    let within = distribution.within(median);
    let error = (within * (1.0 - within) / n).sqrt();
    assert!(
        (few / n - within).abs() < 4.0 * error,
        "{} is not {within} ± {error}",
        few / n
    );
    assert!(((squares / n - mean * mean) / variance - 1.0).abs() < 40.0 / n.sqrt());
}

fn solve(spread: Spread, options: LegOptions) -> Leg {
    let face = Face::of(&round()).expect("all wires known");
    let setup = Setup {
        face: &face,
        metal: Metal::Lost,
    };
    Leg::solve(setup, spread, options).expect("a leg")
}

#[test]
fn simulated_legs_take_as_many_darts() {
    let spread = Spread::new(10.0).expect("a spread");
    agrees(&solve(spread, LegOptions::from(301)), spread, 4000, 11);
    let flat = Spread::with(9.0, 18.0, 0.0).expect("a spread");
    let objective = Objective::Visits;
    let options = LegOptions {
        objective,
        ..LegOptions::from(101)
    };
    agrees(&solve(flat, options), flat, 4000, 12);
    let options = LegOptions {
        aims: Aims::Continuous,
        ..LegOptions::from(32)
    };
    agrees(&solve(spread, options), spread, 4000, 13);
}

#[test]
#[ignore = "a million legs"]
fn a_million_simulated_legs_take_as_many_darts() {
    let spread = Spread::new(10.0).expect("a spread");
    agrees(&solve(spread, LegOptions::from(501)), spread, 1_000_000, 21);
}
