//! A player's throw: where it is aimed, and how it scatters.

use super::PlayError;
use super::limits::{LARGEST_SPREAD, SMALLEST_SPREAD};
use crate::geometry::Point;

/// Standard deviations of throws at the board, in mm, and their correlation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    sigma_x: f64,
    sigma_y: f64,
    rho: f64,
}

impl Spread {
    /// The same standard deviation, in mm, in every direction.
    pub fn new(sigma: f64) -> Result<Self, PlayError> {
        Self::with(sigma, sigma, 0.0)
    }

    /// Standard deviations sideways and up and down, in mm, and the
    /// correlation of right with up.
    pub fn with(sigma_x: f64, sigma_y: f64, rho: f64) -> Result<Self, PlayError> {
        for sigma in [sigma_x, sigma_y] {
            // Written so that NaN is refused too.
            if !(SMALLEST_SPREAD..=LARGEST_SPREAD).contains(&sigma) {
                return Err(PlayError::Deviation(sigma));
            }
        }
        if !(rho > -1.0 && rho < 1.0) {
            return Err(PlayError::Correlation(rho));
        }
        let spread = Self {
            sigma_x,
            sigma_y,
            rho,
        };
        if spread.smallest() < SMALLEST_SPREAD * (1.0 - 1e-12) {
            return Err(PlayError::Flat(rho));
        }
        Ok(spread)
    }

    /// The same with its standard deviations sideways, and up and down, times these
    /// factors; the correlation stays.
    pub(crate) fn scaled(&self, x: f64, y: f64) -> Result<Self, PlayError> {
        Self::with(x * self.sigma_x, y * self.sigma_y, self.rho)
    }

    /// Standard deviation sideways, in mm.
    pub const fn sigma_x(&self) -> f64 {
        self.sigma_x
    }

    /// Standard deviation up and down, in mm.
    pub const fn sigma_y(&self) -> f64 {
        self.sigma_y
    }

    /// Correlation of right with up.
    pub const fn rho(&self) -> f64 {
        self.rho
    }

    /// Standard deviation in the direction in which it is smallest, in mm: the
    /// root of the covariance's smaller eigenvalue.
    pub fn smallest(&self) -> f64 {
        // The determinant over the larger eigenvalue: a difference of nearly
        // equal numbers would lose what matters.
        let determinant =
            self.sigma_x * self.sigma_y * libm::sqrt((1.0 - self.rho) * (1.0 + self.rho));
        determinant / self.largest()
    }

    /// Standard deviation in the direction in which it is largest, in mm.
    pub fn largest(&self) -> f64 {
        let (xx, yy) = (self.sigma_x * self.sigma_x, self.sigma_y * self.sigma_y);
        let xy = self.rho * self.sigma_x * self.sigma_y;
        libm::sqrt(0.5 * (xx + yy) + libm::hypot(0.5 * (xx - yy), xy))
    }

    /// Whether it is the same in every direction.
    // Exactly equal: what was constructed from one number.
    #[allow(clippy::float_cmp)]
    pub fn is_round(&self) -> bool {
        self.sigma_x == self.sigma_y && self.rho == 0.0
    }
}

/// A normal throw: darts scatter about the aim with the spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Throw {
    /// Where it is aimed: the mean of where it lands.
    pub aim: Point,
    /// How it scatters.
    pub spread: Spread,
}

impl Throw {
    /// A throw at a point of the board.
    pub const fn at(aim: Point, spread: Spread) -> Self {
        Self { aim, spread }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_that_cannot_be_one_is_refused_with_its_value() {
        for sigma in [0.0, -3.0, f64::NAN, f64::INFINITY, 1e-4, 1e7] {
            let message = Spread::new(sigma).expect_err("not a spread").to_string();
            assert!(message.contains(&sigma.to_string()), "{message}");
        }
        assert_eq!(
            Spread::with(3.0, 4.0, 1.0),
            Err(PlayError::Correlation(1.0))
        );
        assert!(matches!(
            Spread::with(3.0, 4.0, f64::NAN),
            Err(PlayError::Correlation(_))
        ));
        let flat = 1.0 - 1e-12;
        assert_eq!(Spread::with(3.0, 4.0, flat), Err(PlayError::Flat(flat)));
        assert!(Spread::new(1e-3).is_ok() && Spread::new(1e6).is_ok());
    }

    #[test]
    fn the_principal_spreads_are_those_of_the_covariance() {
        // Recomputed independently: sides 3 and 4 with covariance 12·ρ have
        // eigenvalues of sum 25 and product 144·(1 − ρ²).
        let spread = Spread::with(3.0, 4.0, 0.5).expect("a spread");
        let (s, l) = (spread.smallest(), spread.largest());
        assert!((s * s + l * l - 25.0).abs() < 1e-12);
        assert!((s * s * l * l - 108.0).abs() < 1e-10);
        assert!(s < 3.0 && l > 4.0);
    }
}
