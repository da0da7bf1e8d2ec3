//! A player's spread from the beds that darts hit.

use super::{Face, Hits, Metal, PlayError, Spread, Target, Throw};
use crate::geometry::{Bed, Point};

/// The spreads that are tried, in mm: `SMALLEST`·`RATIO`ⁿ.
const SMALLEST: f64 = 0.5;
const RATIO: f64 = 1.12;
const TRIED: i32 = 64;

/// A value and its standard uncertainty (k = 1).
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Estimated {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub uncertainty: f64,
}

/// What was seen of one dart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Seen {
    /// It stuck in this bed.
    Bed(Bed),
    /// It scored this: of a single, in either of its beds.
    Scored(Target),
    /// It scored nothing: beyond the double ring, or lost on metal.
    Nothing,
}

impl Seen {
    fn probability(self, hits: &Hits) -> f64 {
        match self {
            Self::Bed(bed) => hits.of(bed),
            Self::Scored(target) => target.beds().into_iter().map(|bed| hits.of(bed)).sum(),
            Self::Nothing => hits.metal() + hits.outside(),
        }
    }
}

/// The spread, the same in every direction, in mm, that makes these hits by
/// darts all aimed at one place likeliest. The standard uncertainty is
/// 1/√(Fisher information) of as many throws at that spread, seen as finely as
/// these were: by bed if every hit is a bed, by target otherwise.
pub fn spread_of_hits(
    face: &Face,
    metal: Metal,
    aim: Point,
    seen: &[Seen],
) -> Result<Estimated, PlayError> {
    if seen.is_empty() {
        return Err(PlayError::TooFewThrows {
            throws: 0,
            needed: 1,
        });
    }
    if !(aim.x.is_finite() && aim.y.is_finite()) {
        return Err(PlayError::NotAPlace(aim.x, aim.y));
    }
    let mut counts = std::collections::HashMap::<Seen, f64>::new();
    for one in seen {
        *counts.entry(*one).or_insert(0.0) += 1.0;
    }
    // In a fixed order: sums of floats must repeat from run to run.
    let mut counts: Vec<(Seen, f64)> = counts.into_iter().collect();
    counts.sort_by_key(|(seen, _)| seen.rank());
    let hits = |log: f64| {
        let spread = Spread::new(libm::exp(log)).ok()?;
        Some(face.hits(&Throw::at(aim, spread), metal))
    };
    let likelihood = |log: f64| {
        hits(log).map_or(f64::NEG_INFINITY, |hits| {
            counts
                .iter()
                .map(|(seen, count)| count * libm::log(seen.probability(&hits)))
                .sum()
        })
    };
    let at = |step: i32| libm::log(SMALLEST) + f64::from(step) * libm::log(RATIO);
    let tried = (0..TRIED).map(|step| (step, likelihood(at(step))));
    // From the widest down: ties at −∞ must not count as a best.
    let best = tried
        .rev()
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map_or(0, |(step, _)| step);
    if best == 0 || best == TRIED - 1 {
        return Err(PlayError::Unbounded(libm::exp(at(best))));
    }
    let log = peak(at(best - 1), at(best + 1), likelihood);
    let value = libm::exp(log);
    let step = 1e-4;
    let (Some(below), Some(here), Some(above)) = (hits(log - step), hits(log), hits(log + step))
    else {
        return Err(PlayError::Unbounded(value));
    };
    let by_bed = seen.iter().all(|seen| !matches!(seen, Seen::Scored(_)));
    let information: f64 = outcomes(by_bed)
        .map(|outcome| {
            let p = outcome.probability(&here);
            // By the spread itself, not its logarithm.
            let rate =
                (outcome.probability(&above) - outcome.probability(&below)) / (2.0 * step * value);
            // What almost never happens tells nothing, and its rate is noise.
            if p > 1e-12 { rate * rate / p } else { 0.0 }
        })
        .sum();
    let throws = seen.len() as f64;
    Ok(Estimated {
        value,
        uncertainty: 1.0 / libm::sqrt(throws * information),
    })
}

/// Everything that can be seen of a dart, each apart from the others.
fn outcomes(by_bed: bool) -> impl Iterator<Item = Seen> {
    let beds = Bed::all().filter(move |_| by_bed).map(Seen::Bed);
    let targets = Target::all().filter(move |_| !by_bed).map(Seen::Scored);
    beds.chain(targets).chain([Seen::Nothing])
}

impl Seen {
    fn rank(self) -> (u8, Option<Bed>, Option<Target>) {
        match self {
            Self::Bed(bed) => (0, Some(bed), None),
            Self::Scored(target) => (1, None, Some(target)),
            Self::Nothing => (2, None, None),
        }
    }
}

/// Where a function with one maximum between two places has it, by golden
/// section, to the square root of rounding.
fn peak(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let golden = 0.5 * (libm::sqrt(5.0) - 1.0);
    let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
    let (mut fa, mut fb) = (f(a), f(b));
    while high - low > 1e-7 {
        if fa > fb {
            (high, b, fb) = (b, a, fa);
            a = high - golden * (high - low);
            fa = f(a);
        } else {
            (low, a, fa) = (a, b, fb);
            b = low + golden * (high - low);
            fb = f(b);
        }
    }
    0.5 * (low + high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::{Band, RingWire};
    use crate::fixtures::{round, strip};
    use crate::random::Random;

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    /// What a dart at a place of a board with sectors to rule hits, from its
    /// bearing and its distance alone: none of the engine's boundaries.
    fn seen_at(spider: &crate::geometry::Spider, place: Point) -> Seen {
        let radius = place.norm();
        let turn = libm::atan2(place.x, place.y).to_degrees() + 9.0;
        let sector = libm::floor(turn / 18.0).rem_euclid(20.0);
        let within = (turn - 18.0 * libm::floor(turn / 18.0)).to_radians();
        let half = spider.sectors.expect("sectors").widths[0].as_mm() / 2.0;
        let to_wire = radius * libm::sin(within).min(libm::sin(18.0_f64.to_radians() - within));
        for band in Band::ALL {
            let outer = spider.rings[band.outer_wire()]
                .inside
                .expect("an edge")
                .as_mm();
            let inner = band.inner_wire().map_or(0.0, |wire: RingWire| {
                spider.rings[wire].outside.expect("an edge").as_mm()
            });
            let clear = !band.has_sectors() || to_wire > half;
            if (inner..outer).contains(&radius) && clear {
                return Seen::Bed(Bed::new(band, sector as usize));
            }
        }
        Seen::Nothing
    }

    /// The target that a bed belongs to.
    fn coarser(seen: Seen) -> Seen {
        let Seen::Bed(bed) = seen else { return seen };
        let target = Target::all().find(|target| target.beds().contains(&bed));
        target.map_or(Seen::Nothing, Seen::Scored)
    }

    #[test]
    fn simulated_hits_are_estimated_within_three_standard_errors() {
        let mut random = Random::seeded(77);
        for (spider, sigma, aim) in [
            (round(), 8.0, Point::mm(0.0, 101.4)),
            (strip(0.5), 15.0, Point::mm(0.0, 0.0)),
            (round(), 35.0, Point::mm(-50.0, 20.0)),
        ] {
            let face = Face::of(&spider).expect("all wires known");
            let seen: Vec<Seen> = (0..400)
                .map(|_| {
                    let (x, y) = random.normal_pair();
                    seen_at(&spider, aim + Point::mm(sigma * x, sigma * y))
                })
                .collect();
            let by_bed = spread_of_hits(&face, Metal::Lost, aim, &seen).expect("a spread");
            let scored: Vec<Seen> = seen.into_iter().map(coarser).collect();
            let by_score = spread_of_hits(&face, Metal::Lost, aim, &scored).expect("a spread");
            for found in [by_bed, by_score] {
                let off = (found.value - sigma).abs() / found.uncertainty;
                assert!(off < 3.0, "{found:?} is not {sigma}");
                // Positions of as many throws would give σ/√(4n): hits by bed
                // tell less.
                assert!(found.uncertainty > sigma / 40.0 && found.uncertainty < sigma / 5.0);
            }
        }
    }

    #[test]
    fn bulls_and_twenty_fives_are_likeliest_where_the_closed_form_says() {
        // Recomputed independently: within R of the aim lie 1 − e^(−R²/2σ²) of
        // the throws, and the likelihood follows.
        let face = Face::of(&crate::fixtures::wireless()).expect("all wires known");
        let bull = Seen::Bed(Bed::new(Band::InnerBull, 0));
        let ring = Seen::Bed(Bed::new(Band::OuterBull, 0));
        let seen: Vec<Seen> = [vec![bull; 30], vec![ring; 50]].concat();
        let found = spread_of_hits(&face, Metal::Lost, Point::ORIGIN, &seen).expect("a spread");
        let log = |sigma: f64| {
            let out = |radius: f64| libm::exp(-0.5 * radius * radius / (sigma * sigma));
            30.0 * libm::log(1.0 - out(6.35)) + 50.0 * libm::log(out(6.35) - out(15.9))
        };
        let s = found.value;
        assert!(
            log(s) > log(s * 1.001) && log(s) > log(s * 0.999),
            "{found:?}"
        );
    }

    #[test]
    fn hits_that_show_no_spread_are_refused() {
        let face = Face::of(&round()).expect("all wires known");
        let fault = |seen: &[Seen]| {
            spread_of_hits(&face, Metal::Lost, Point::ORIGIN, seen).expect_err("no spread")
        };
        assert_eq!(
            fault(&[]),
            PlayError::TooFewThrows {
                throws: 0,
                needed: 1
            }
        );
        let bull = Seen::Bed(Bed::new(Band::InnerBull, 0));
        assert!(matches!(fault(&[bull; 5]), PlayError::Unbounded(sigma) if sigma < 2.0));
        assert!(matches!(fault(&[Seen::Nothing; 5]), PlayError::Unbounded(sigma) if sigma > 100.0));
    }
}
