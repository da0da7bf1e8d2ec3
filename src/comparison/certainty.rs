//! How sure a figure is: the interval that measurement and the player's spread leave it.

/// The ends of a coverage interval of about 95 % (k = 2 for many degrees of freedom), in
/// the unit of its figure.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Interval {
    /// From one end to the other.
    pub(super) const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// So much below and above a figure.
    pub(super) fn about(value: f64, expanded: f64) -> Self {
        Self::new(value - expanded, value + expanded)
    }

    /// About a figure that is a product, and always above zero: `expanded` is that of its
    /// logarithm, so that neither end is ever below zero.
    pub(super) fn about_product(value: f64, expanded: f64) -> Self {
        let factor = libm::exp(expanded);
        Self::new(value / factor, value * factor)
    }

    /// Half its width.
    pub fn half_width(self) -> f64 {
        0.5 * (self.high - self.low)
    }
}

/// How sure a figure is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Certainty {
    /// Nothing that it rests on was measured or estimated: nominal boards, a spread
    /// that was given.
    Exact,
    /// A length that it rests on states no uncertainty.
    NotStated,
    /// It lies within these ends.
    Within {
        /// All causes together.
        all: Interval,
        /// What is not known of the boards alone.
        boards: Interval,
        /// What is not known of the player's spread alone; left out where it was given.
        player: Option<Interval>,
    },
}

impl Certainty {
    /// All causes together, where they are known.
    pub const fn interval(&self) -> Option<Interval> {
        match self {
            Self::Within { all, .. } => Some(*all),
            Self::Exact | Self::NotStated => None,
        }
    }
}
