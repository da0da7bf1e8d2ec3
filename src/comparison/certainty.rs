//! How sure a figure is: the interval that measurement and the player's spread leave it.

use crate::units::Uncertainty;

/// The ends of a coverage interval of [95 %](Interval::LEVEL), in the unit of its figure.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Interval {
    /// The level of confidence of every interval of a comparison. House rule: what readers
    /// take an interval for.
    pub const LEVEL: f64 = 0.95;

    /// From one end to the other.
    pub(super) const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    /// So much below and above a figure.
    pub(super) const fn about(value: f64, below: f64, above: f64) -> Self {
        Self::new(value - below, value + above)
    }

    /// What follows from it by a rule that grows or falls throughout.
    fn map(self, rule: &impl Fn(f64) -> f64) -> Self {
        let (a, b) = (rule(self.low), rule(self.high));
        Self::new(a.min(b), a.max(b))
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
    /// How sure it is what follows from the figure by a rule that grows or falls
    /// throughout; exact where the rule makes the same of both ends.
    pub(super) fn map(&self, rule: impl Fn(f64) -> f64) -> Self {
        match self {
            Self::Within {
                all,
                boards,
                player,
            } => {
                let all = all.map(&rule);
                if all.half_width() == 0.0 {
                    return Self::Exact;
                }
                Self::Within {
                    all,
                    boards: boards.map(&rule),
                    player: player.map(|player| player.map(&rule)),
                }
            }
            other => *other,
        }
    }

    /// How sure a share is, as a percentage.
    #[must_use]
    pub fn in_percent(&self) -> Self {
        self.map(|share| 100.0 * share)
    }

    /// All causes together, where they are known.
    pub const fn interval(&self) -> Option<Interval> {
        match self {
            Self::Within { all, .. } => Some(*all),
            Self::Exact | Self::NotStated => None,
        }
    }
}

/// What is not known of a figure, cause by cause.
#[derive(Clone, Debug)]
pub(super) struct Causes {
    /// The figure; of one that is a product, its logarithm.
    pub(super) value: f64,
    /// What the boards' lengths give it; `None` if a length that matters states nothing.
    pub(super) boards: Option<Uncertainty>,
    /// What the figure is where the player's spread lies at either end of its interval,
    /// for each direction in which it is not known.
    pub(super) player: Vec<[f64; 2]>,
}

impl Causes {
    /// All together. The board's part is expanded by k, the player's reaches from one end
    /// of the spread's own interval to the other, since a spread of few throws is too
    /// uncertain for a straight line; independent causes add up by their squares, below
    /// and above the figure each.
    pub(super) fn certainty(&self) -> Certainty {
        let Some(boards) = self.boards else {
            return Certainty::NotStated;
        };
        let half = boards.expanded_at(Interval::LEVEL).expanded;
        if half == 0.0 && self.player.is_empty() {
            return Certainty::Exact;
        }
        let (mut below, mut above) = (0.0, 0.0);
        for [one, other] in &self.player {
            let down = (self.value - one.min(*other)).max(0.0);
            let up = (one.max(*other) - self.value).max(0.0);
            below += down * down;
            above += up * up;
        }
        let about = |below: f64, above: f64| {
            Interval::about(self.value, libm::sqrt(below), libm::sqrt(above))
        };
        let all = about(below + half * half, above + half * half);
        if !(all.low.is_finite() && all.high.is_finite()) {
            return Certainty::NotStated;
        }
        Certainty::Within {
            all,
            boards: about(half * half, half * half),
            player: (!self.player.is_empty()).then(|| about(below, above)),
        }
    }

    /// The same of a product whose logarithm this is about.
    pub(super) fn certainty_of_product(&self) -> Certainty {
        self.certainty().map(libm::exp)
    }
}
