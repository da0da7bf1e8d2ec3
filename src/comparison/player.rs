//! Whose throws the odds are for.

use super::options::ASSUMED_SPREAD;
use super::throws::Throws;
use super::{CompareError, SpreadSource, Subject};
use crate::play::{
    AimRule, Averages, Player, Setup, Spread, Target, spread_of_hits, spread_of_positions,
};

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

/// The player's spread, and where it comes from.
pub(super) fn spread(
    source: &SpreadSource,
    first: &Subject,
) -> Result<(Spread, SpreadOrigin), CompareError> {
    Ok(match source {
        SpreadSource::Assumed => (Spread::new(ASSUMED_SPREAD)?, SpreadOrigin::Assumed),
        SpreadSource::Given(spread) => (*spread, SpreadOrigin::Given),
        SpreadSource::Average(average) => {
            let averages = Averages::on(first.face(), first.metal);
            let origin = SpreadOrigin::Average { average: *average };
            (averages.spread_of(*average)?, origin)
        }
        SpreadSource::Throws(throws, target) => from_throws(throws, *target, first)?,
    })
}

fn from_throws(
    throws: &Throws,
    target: Option<Target>,
    first: &Subject,
) -> Result<(Spread, SpreadOrigin), CompareError> {
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
            let spread = Spread::with(x.value, y.value, found.rho.value)
                .or_else(|_| Spread::new(found.sigma.value));
            let u = [x.uncertainty, y.uncertainty];
            Ok((spread?, origin(ThrowsKind::Positions, places.len(), u)))
        }
        Throws::Beds { seen, .. } => {
            let aim = aim.ok_or(CompareError::NoTarget)?;
            let found = spread_of_hits(first.face(), first.metal, aim, seen)?;
            let u = [found.uncertainty; 2];
            Ok((
                Spread::new(found.value)?,
                origin(ThrowsKind::Beds, seen.len(), u),
            ))
        }
    }
}

/// A board, a spread and an aim together.
pub(super) const fn player(setup: Setup<'_>, spread: Spread, aim: AimRule) -> Player<'_> {
    Player { setup, spread, aim }
}
