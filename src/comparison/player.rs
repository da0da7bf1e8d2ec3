//! Whose throws the odds are for.

use super::options::ASSUMED_SPREAD;
use super::throws::Throws;
use super::{CompareError, Interval, SpreadSource, Subject};
use crate::play::{
    AimRule, Averages, Estimated, Player, Setup, Spread, Target, spread_of_hits,
    spread_of_positions,
};
use statrs::distribution::{ChiSquared, ContinuousCDF};

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

/// What was noted of each dart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ThrowsKind {
    /// Where it landed.
    Positions,
    /// What it hit.
    Beds,
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
    Throws {
        /// The file.
        file: String,
        /// How many darts.
        darts: usize,
        /// What was noted of them.
        from: ThrowsKind,
        /// What they were aimed at, where that was named.
        target: Option<Target>,
        /// Standard uncertainty of the spread, in mm: of a single spread for
        /// beds, sideways for positions.
        uncertainty_x_mm: f64,
        /// The same up and down.
        uncertainty_y_mm: f64,
    },
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
            SpreadSource::Throws(throws, target) => from_throws(throws, *target, first)?,
        })
    }
}

/// The factors by which a spread of few throws may be too large or too small: from the
/// distribution of its square over the true one, chi-squared over its ν degrees of freedom,
/// which a standard uncertainty of σ/√(2ν) stands for.
fn ends(spread: Estimated) -> Option<[f64; 2]> {
    let ratio = spread.value / spread.uncertainty;
    let degrees = 0.5 * ratio * ratio;
    let square = ChiSquared::new(degrees).ok()?;
    let tail = 0.5 * (1.0 - Interval::LEVEL);
    let end = |below: f64| libm::sqrt(degrees / square.inverse_cdf(below));
    let ends = [end(1.0 - tail), end(tail)];
    ends.iter().all(|end| end.is_finite()).then_some(ends)
}

fn from_throws(
    throws: &Throws,
    target: Option<Target>,
    first: &Subject,
) -> Result<Known, CompareError> {
    let aim = target.map(|target| first.face().middle(target.main_bed()));
    let origin = |from, darts, u: [f64; 2]| SpreadOrigin::Throws {
        file: throws.file().to_owned(),
        darts,
        from,
        target,
        uncertainty_x_mm: u[0],
        uncertainty_y_mm: u[1],
    };
    match throws {
        Throws::Positions { places, .. } => {
            let found = spread_of_positions(places, aim)?;
            let (x, y) = (found.sigma_x, found.sigma_y);
            // Darts on one line show no spread across it: take what is known of
            // all directions together.
            let rho = found.rho.value;
            let spread =
                Spread::with(x.value, y.value, rho).or_else(|_| Spread::new(found.sigma.value))?;
            let u = [x.uncertainty, y.uncertainty];
            let moved = |[along_x, along_y]: [f64; 2]| {
                let (x, y) = (spread.sigma_x() * along_x, spread.sigma_y() * along_y);
                Spread::with(x, y, spread.rho())
            };
            let mut known = Known::exactly(spread, origin(ThrowsKind::Positions, places.len(), u));
            for (direction, estimate) in [x, y].into_iter().enumerate() {
                let Some(ends) = ends(estimate) else { continue };
                let [low, high] = ends.map(|end| match direction {
                    0 => moved([end, 1.0]),
                    _ => moved([1.0, end]),
                });
                known.ends.push([low?, high?]);
            }
            Ok(known)
        }
        Throws::Beds { seen, .. } => {
            let aim = aim.ok_or(CompareError::NoTarget)?;
            let found = spread_of_hits(first.face(), first.metal, aim, seen)?;
            let u = [found.uncertainty; 2];
            let origin = origin(ThrowsKind::Beds, seen.len(), u);
            let mut known = Known::exactly(Spread::new(found.value)?, origin);
            if let Some([low, high]) = ends(found) {
                let at = |factor: f64| Spread::new(found.value * factor);
                known.ends.push([at(low)?, at(high)?]);
            }
            Ok(known)
        }
    }
}

/// A board, a spread and an aim together.
pub(super) const fn player(setup: Setup<'_>, spread: Spread, aim: AimRule) -> Player<'_> {
    Player { setup, spread, aim }
}
