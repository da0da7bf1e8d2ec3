//! How plausible a length is on a board that was made to a table's limits.
//!
//! Boards are of three kinds: made close to the nominal lengths, made anywhere
//! within the tolerances, or, less often, made with twice the tolerances. The
//! kind is one for the whole board: five lengths that lie close to nominal make
//! a sixth that does not stand out. On a board of any kind one length in a
//! hundred is off by more. What was measured is that, and the measurement's
//! error, which is normal. All of this is a house rule: no statistics of boards
//! were seen.

use crate::table::{Interval, Limit};
use crate::units::{Length, Uncertainty};

/// How many kinds of boards there are.
pub(super) const KINDS: usize = 3;

/// The standard deviation of lengths close to nominal, in half tolerances.
const CLOSE: f64 = 0.25;

/// How likely the kinds are beside each other.
const COMMON: [f64; KINDS] = [1.0, 1.0, 0.06];

/// The share of lengths that are off by more than their kind of board allows.
const OFF: f64 = 0.01;

/// The standard deviation of lengths that are off, in mm, and at least so many
/// half tolerances.
const FAR: (f64, f64) = (0.5, 2.0);

/// How far a limit with one end is taken to reach on its open side, in mm.
const OPEN: Length = Length::mm(1.0);

/// The least standard uncertainty, in mm: none is measured better.
const LEAST: f64 = 0.001;

/// The least density, per mm: keeps ratios finite.
const FLOOR: f64 = 1e-30;

/// The probability density of several lengths together, from the products of
/// their densities by kind of board.
pub(super) fn together(products: [f64; KINDS]) -> f64 {
    let kinds = products.into_iter().zip(COMMON);
    kinds.map(|(product, common)| product * common).sum()
}

/// Where a length is expected.
#[derive(Clone, Copy)]
pub(super) struct Expected {
    centre: f64,
    lower: f64,
    upper: f64,
    u: f64,
}

impl Expected {
    /// A length under a limit, measured with a standard uncertainty in mm;
    /// `None` if the limit has no end.
    pub(super) fn by(limit: &Limit, interval: Interval, u: f64) -> Option<Self> {
        let (lower, upper) = match (interval.lower, interval.upper) {
            (Some(lower), Some(upper)) => (lower, upper),
            (Some(lower), None) => (lower, lower + OPEN),
            (None, Some(upper)) => (upper - OPEN, upper),
            (None, None) => return None,
        };
        let (lower, upper) = (lower.as_mm(), upper.as_mm());
        let middle = f64::midpoint(lower, upper);
        Some(Self {
            centre: limit.nominal.map_or(middle, Length::as_mm),
            lower,
            upper,
            u: u.max(LEAST),
        })
    }

    /// The difference of two ways to one length.
    pub(super) fn zero(u: f64) -> Self {
        Self {
            centre: 0.0,
            lower: 0.0,
            upper: 0.0,
            u: u.max(LEAST),
        }
    }

    /// Half the width of the interval, in mm.
    pub(super) const fn half(&self) -> f64 {
        (self.upper - self.lower) / 2.0
    }

    /// The probability density of measuring this value, in mm, by kind of
    /// board.
    pub(super) fn densities(&self, value: f64) -> [f64; KINDS] {
        let half = self.half();
        let off = OFF * self.normal(value, FAR.0.max(FAR.1 * half));
        let kinds = if half > 0.0 {
            [
                self.normal(value, CLOSE * half),
                self.flat(value, self.lower, self.upper),
                self.flat(value, self.lower - half, self.upper + half),
            ]
        } else {
            [self.normal(value, 0.0); KINDS]
        };
        kinds.map(|density| ((1.0 - OFF) * density + off).max(FLOOR))
    }

    /// Normal around the centre, and the measurement's error.
    fn normal(&self, value: f64, spread: f64) -> f64 {
        let s = libm::hypot(spread, self.u);
        let z = (value - self.centre) / s;
        libm::exp(-0.5 * z * z) / (s * libm::sqrt(std::f64::consts::TAU))
    }

    /// Anywhere between two ends, and the measurement's error.
    fn flat(&self, value: f64, lower: f64, upper: f64) -> f64 {
        let u = Uncertainty::finite(self.u);
        let beyond = |end: f64| u.probability_below((value - end) / self.u);
        (beyond(lower) - beyond(upper)).max(0.0) / (upper - lower)
    }
}
