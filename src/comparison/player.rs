//! Whose throws the odds are for.

use super::options::ASSUMED_SPREAD;
use super::thrown::from_throws;
use super::{CompareError, SpreadSource, Subject, ThrownSpread};
use crate::play::{AimRule, Averages, Player, Setup, Spread};

/// What every figure under the spread rule assumes.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Assumptions {
    /// Standard deviation of the throws sideways, in mm.
    pub spread_x_mm: f64,
    /// Standard deviation of the throws up and down, in mm.
    pub spread_y_mm: f64,
    /// Correlation of right with up.
    pub correlation: f64,
    /// Where the spread comes from.
    pub spread_from: SpreadOrigin,
    /// Where the player aims.
    pub aim: AimRule,
    /// The three-dart average of this spread on the first board in the chosen
    /// setting, scoring darts only.
    pub average_on_first: f64,
}

/// Where a spread comes from.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum SpreadOrigin {
    /// Nobody named one: a house rule.
    Assumed,
    /// It was given.
    Given,
    /// It is the spread of this three-dart average on the first board.
    Average {
        /// The average.
        average: f64,
    },
    /// It was estimated from throws.
    Throws(Box<ThrownSpread>),
}

/// What is known of the player.
#[derive(Clone, Debug)]
pub(super) struct Known {
    /// The spread.
    pub(super) spread: Spread,
    /// Where it comes from.
    pub(super) origin: SpreadOrigin,
    /// The spreads at both ends of its interval, for each direction in which it is not
    /// known; none where it was given.
    pub(super) ends: Vec<[Spread; 2]>,
}

impl Known {
    fn exactly(spread: Spread, origin: SpreadOrigin) -> Self {
        Self {
            spread,
            origin,
            ends: Vec::new(),
        }
    }

    /// What figures assume of a player who aims so and has this average on the first board.
    pub(super) fn assumptions(&self, aim: AimRule, average_on_first: f64) -> Assumptions {
        Assumptions {
            spread_x_mm: self.spread.sigma_x(),
            spread_y_mm: self.spread.sigma_y(),
            correlation: self.spread.rho(),
            spread_from: self.origin.clone(),
            aim,
            average_on_first,
        }
    }

    /// The player's spread, and where it comes from.
    pub(super) fn of(source: &SpreadSource, first: &Subject) -> Result<Self, CompareError> {
        Ok(match source {
            SpreadSource::Assumed => {
                Self::exactly(Spread::new(ASSUMED_SPREAD)?, SpreadOrigin::Assumed)
            }
            SpreadSource::Given(spread) => Self::exactly(*spread, SpreadOrigin::Given),
            SpreadSource::Average(average) => {
                let averages = Averages::on(first.face(), first.metal);
                let origin = SpreadOrigin::Average { average: *average };
                Self::exactly(averages.spread_of(*average)?, origin)
            }
            SpreadSource::Throws(throws, target, sighting) => {
                from_throws(throws, *target, *sighting, first)
                    .map_err(|error| error.of_throws(throws.file()))?
            }
        })
    }
}

/// A board, a spread and an aim together.
pub(super) const fn player(setup: Setup<'_>, spread: Spread, aim: AimRule) -> Player<'_> {
    Player { setup, spread, aim }
}
