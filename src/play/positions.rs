//! A player's spread from where darts landed.

use super::PlayError;
use super::estimate::Estimated;
use crate::geometry::Point;

/// A spread estimated from positions.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct PositionEstimate {
    /// How many throws it is from.
    pub throws: usize,
    /// Where the darts landed in the mean, in mm.
    pub mean: Point,
    /// The spread, taken to be the same in every direction, in mm.
    pub sigma: Estimated,
    /// The spread sideways, in mm.
    pub sigma_x: Estimated,
    /// The spread up and down, in mm.
    pub sigma_y: Estimated,
    /// The correlation of right with up; nothing (0 ± 1) if the darts lie on
    /// one horizontal or vertical line.
    pub rho: Estimated,
}

/// The spread of positions, in mm: about `aim` if the player aimed there and
/// misses it to all sides alike, otherwise about their own mean, which costs
/// one throw.
///
/// Standard uncertainties are those of normal throws: σ/√(2ν) with ν degrees
/// of freedom, two of them a throw where the directions are taken together,
/// and (1 − ρ²)/√n for the correlation (Fisher; common practice, no source).
pub fn spread_of_positions(
    positions: &[Point],
    aim: Option<Point>,
) -> Result<PositionEstimate, PlayError> {
    if let Some(bad) = positions
        .iter()
        .find(|p| !(p.x.is_finite() && p.y.is_finite()))
    {
        return Err(PlayError::NotAPlace(bad.x, bad.y));
    }
    let throws = positions.len();
    // With fewer the correlation is always ±1, whatever the player does.
    let (own_mean, needed) = if aim.is_some() { (0, 2) } else { (1, 3) };
    if throws < needed {
        return Err(PlayError::TooFewThrows { throws, needed });
    }
    let (n, free) = (throws as f64, (throws - own_mean) as f64);
    let sum = positions
        .iter()
        .fold(Point::ORIGIN, |sum, place| sum + *place);
    let mean = sum * (1.0 / n);
    let about = aim.unwrap_or(mean);
    // Two passes: a one-pass variance of a close group far from the origin
    // loses all its digits.
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for place in positions {
        let off = *place - about;
        xx += off.x * off.x;
        xy += off.x * off.y;
        yy += off.y * off.y;
    }
    if xx + yy <= 0.0 {
        return Err(PlayError::NoScatter);
    }
    let sigma = |squares: f64, free: f64| {
        let value = libm::sqrt(squares / free);
        Estimated {
            value,
            uncertainty: value / libm::sqrt(2.0 * free),
        }
    };
    let rho = if xx > 0.0 && yy > 0.0 {
        let value = (xy / libm::sqrt(xx * yy)).clamp(-1.0, 1.0);
        Estimated {
            value,
            uncertainty: (1.0 - value * value) / libm::sqrt(free),
        }
    } else {
        Estimated {
            value: 0.0,
            uncertainty: 1.0,
        }
    };
    Ok(PositionEstimate {
        throws,
        mean,
        sigma: sigma(xx + yy, 2.0 * free),
        sigma_x: sigma(xx, free),
        sigma_y: sigma(yy, free),
        rho,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    #[test]
    fn a_few_positions_by_hand() {
        // Invented positions; sums of squares recomputed independently.
        let positions = [(1.0, 2.0), (3.0, 2.0), (2.0, 5.0)].map(|(x, y)| Point::mm(x, y));
        let own = spread_of_positions(&positions, None).expect("enough");
        assert_eq!(own.mean, Point::mm(2.0, 3.0));
        assert!((own.sigma_x.value - 1.0).abs() < 1e-15);
        assert!((own.sigma_y.value - 3.0_f64.sqrt()).abs() < 1e-15);
        assert!((own.sigma.value - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((own.sigma.uncertainty - 2.0_f64.sqrt() / 8.0_f64.sqrt()).abs() < 1e-15);
        let known = spread_of_positions(&positions, Some(Point::mm(2.0, 2.0))).expect("enough");
        assert!((known.sigma.value - (11.0_f64 / 6.0).sqrt()).abs() < 1e-15);
    }

    #[test]
    fn simulated_throws_are_estimated_within_three_standard_errors() {
        let mut random = Random::seeded(2024);
        for (sx, sy, rho) in [(5.0, 5.0, 0.0), (12.0, 20.0, 0.5), (40.0, 30.0, -0.7)] {
            for throws in [30, 300, 3000] {
                let positions: Vec<Point> = (0..throws)
                    .map(|_| {
                        let (a, b) = random.normal_pair();
                        let up = rho * a + libm::sqrt(1.0 - rho * rho) * b;
                        Point::mm(7.0 + sx * a, 103.0 + sy * up)
                    })
                    .collect();
                let found = spread_of_positions(&positions, None).expect("enough");
                for (estimate, truth) in
                    [(found.sigma_x, sx), (found.sigma_y, sy), (found.rho, rho)]
                {
                    let off = (estimate.value - truth).abs() / estimate.uncertainty;
                    assert!(off < 3.0, "{throws} throws: {estimate:?} is not {truth}");
                }
            }
        }
    }

    #[test]
    fn what_shows_no_spread_is_refused() {
        let place = Point::mm(1.0, 2.0);
        let fault =
            |positions: &[Point], aim| spread_of_positions(positions, aim).expect_err("none");
        assert_eq!(
            fault(&[], Some(place)),
            PlayError::TooFewThrows {
                throws: 0,
                needed: 2
            }
        );
        assert_eq!(
            fault(&[place, Point::ORIGIN], None),
            PlayError::TooFewThrows {
                throws: 2,
                needed: 3
            }
        );
        assert_eq!(fault(&[place; 3], None), PlayError::NoScatter);
        assert_eq!(
            fault(&[Point::mm(f64::INFINITY, 0.0)], None),
            PlayError::NotAPlace(f64::INFINITY, 0.0)
        );
    }
}
