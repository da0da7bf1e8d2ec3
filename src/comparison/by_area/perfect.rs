//! The perfect leg of a start total.

use super::super::player::{Known, player};
use super::super::{CompareError, CompareOptions, DEFAULT_START, SpreadSource};
use super::AreaSubject;
use super::data::LegRule;
use crate::play::{AimRule, Route, Target, easiest_legs};

/// The perfect leg of each start total, and how they were chosen.
pub(super) fn legs(
    first: Option<&AreaSubject>,
    options: &CompareOptions,
) -> Result<(Vec<(u32, Route)>, LegRule), CompareError> {
    let usual = [DEFAULT_START];
    let starts = match options.starts.as_slice() {
        [] => &usual[..],
        starts => starts,
    };
    let whole = first.and_then(AreaSubject::whole);
    let mut legs = Vec::new();
    let Some(whole) = whole else {
        for &start in starts {
            let found = easiest_legs(start, preference)?;
            legs.extend(found.map(|found| (start, found.route)));
        }
        return Ok((legs, LegRule::FewestBulls));
    };
    let spread = Known::of(&SpreadSource::Assumed, whole)?.spread;
    let player = player(whole.setup(None), spread, AimRule::Middle);
    for &start in starts {
        let found = easiest_legs(start, |target: Target| player.probability(target))?;
        legs.extend(found.map(|found| (start, found.route)));
    }
    let spread_mm = spread.sigma_x();
    Ok((legs, LegRule::EasiestOnFirst { spread_mm }))
}

/// Stands for a probability where none is known, so that the product over a leg prefers
/// the fewest inner bulls, and then the most singles: no number of darts at anything else
/// outweighs one bull, even of the longest leg. Only the order matters.
const fn preference(target: Target) -> f64 {
    match target {
        Target::Single(_) => 0.5,
        Target::Double(_) | Target::Treble(_) | Target::OuterBull => 0.25,
        Target::Bull => 1e-300,
    }
}
