//! A player's spread from throws that somebody wrote down.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::player::{Known, SpreadOrigin};
use super::throws::Throws;
use super::{CompareError, Interval, Subject};
use crate::play::{
    Averages, Estimated, PositionFit, Seen, Spread, Target, fit_positions, look_like_inches,
    spread_of_hits,
};

/// What was noted of each dart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ThrowsKind {
    /// Where it landed.
    Positions,
    /// What it hit.
    Beds,
}

/// What a player does about a sighting error: darts that land beside the aim in the mean.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Sighting {
    /// Aims beside the target, so that darts scatter about it.
    #[default]
    Corrected,
    /// Nothing: the error counts as spread about the aim.
    Kept,
}

/// A spread that was estimated from throws.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ThrownSpread {
    /// The file.
    pub file: String,
    /// How many darts, misses among them.
    pub darts: usize,
    /// How many of them scored nothing; counted by the probability of that.
    pub missed: usize,
    /// What was noted of them.
    pub from: ThrowsKind,
    /// What they were aimed at, where that was named.
    pub target: Option<Target>,
    /// Standard uncertainty of the spread sideways, in mm; of a spread that is the same in
    /// every direction, of that.
    pub uncertainty_x_mm: f64,
    /// The same up and down.
    pub uncertainty_y_mm: f64,
    /// How far darts land beside the aim in the mean; known of positions whose target was
    /// named.
    pub sighting: Option<SightingError>,
    /// Of positions: how probable so unequal a spread is by chance, for a player whose
    /// spread is the same in every direction. It is taken to be so unless this is small.
    pub unequal_by_chance: Option<f64>,
    /// Whether positions that count as mm look like inches.
    pub look_like_inches: bool,
}

/// How far darts land beside the aim in the mean, and what that means.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct SightingError {
    /// To the right, in mm, and its standard uncertainty.
    pub right_mm: f64,
    /// The uncertainty of that.
    pub right_uncertainty_mm: f64,
    /// Upwards, in mm.
    pub up_mm: f64,
    /// The uncertainty of that.
    pub up_uncertainty_mm: f64,
    /// How probable so large an error is by chance, for a player who has none.
    pub by_chance: f64,
    /// What the player is taken to do about it.
    pub handled: Sighting,
    /// The average on the first board if it is corrected.
    pub average_corrected: f64,
    /// The average there if it is kept.
    pub average_kept: f64,
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

/// The same spread with both ends of its interval, where it is the same in every direction.
fn round(of: Estimated) -> Result<(Spread, Vec<[Spread; 2]>), CompareError> {
    let at = |factor: f64| Spread::new(of.value * factor);
    let mut known = Vec::new();
    if let Some([low, high]) = ends(of) {
        known.push([at(low)?, at(high)?]);
    }
    Ok((at(1.0)?, known))
}

/// Below this probability of so unequal a spread by chance, a round player is no longer
/// thought of. House rule: one sample in a thousand.
const NOT_BY_CHANCE: f64 = 1e-3;

/// The same where it is not. How far the darts go together sideways and up is as uncertain
/// as the spreads; and as long as a round player might have thrown so by chance, the
/// interval reaches to that one.
fn elliptical(fit: &PositionFit) -> Result<(Spread, Vec<[Spread; 2]>), CompareError> {
    let spread = fit.spread()?;
    let moved = |x: f64, y: f64| spread.scaled(x, y);
    let mut known = Vec::new();
    if let Some([low, high]) = ends(fit.sigma_x) {
        known.push([moved(low, 1.0)?, moved(high, 1.0)?]);
    }
    if let Some([low, high]) = ends(fit.sigma_y) {
        known.push([moved(1.0, low)?, moved(1.0, high)?]);
    }
    if let Some(together) = together_within(fit) {
        let at = |rho: f64| Spread::with(spread.sigma_x(), spread.sigma_y(), rho);
        let [low, high] = together;
        known.push([at(low)?, at(high)?]);
    }
    if fit.unequal_by_chance > NOT_BY_CHANCE {
        known.push([spread, Spread::new(fit.sigma.value)?]);
    }
    Ok((spread, known))
}

/// The ends of the correlation's interval: its inverse hyperbolic tangent is nearly
/// normal with a variance of 1/(n − 3) (Fisher, Metron 1, 1921, from memory).
fn together_within(fit: &PositionFit) -> Option<[f64; 2]> {
    let free = (fit.throws - fit.missed)
        .checked_sub(3)
        .filter(|free| *free > 0)?;
    let half = NORMAL / libm::sqrt(free as f64);
    let middle = libm::atanh(fit.rho);
    let ends = [middle - half, middle + half].map(libm::tanh);
    ends.iter().all(|end| end.abs() < 1.0).then_some(ends)
}

/// The 0.975 quantile of a normal distribution.
const NORMAL: f64 = 1.959_963_985;

pub(super) fn from_throws(
    throws: &Throws,
    target: Option<Target>,
    handled: Sighting,
    first: &Subject,
) -> Result<Known, CompareError> {
    let aim = target.map(|target| first.face().middle(target.main_bed()));
    match throws {
        Throws::Positions { landed, .. } => {
            let fit = fit_positions(first.setup(None), landed, aim)?;
            let corrected = if fit.is_elliptical() {
                elliptical(&fit)?
            } else {
                round(fit.sigma)?
            };
            let sighting = Sighted::of(&fit, corrected.0, handled, first)?;
            let (spread, ends) = match &sighting {
                Some(sighted) if handled == Sighting::Kept => round(sighted.about_aim)?,
                _ => corrected,
            };
            let [x, y] = if spread.is_round() {
                let own = match &sighting {
                    Some(sighted) if handled == Sighting::Kept => sighted.about_aim,
                    _ => fit.sigma,
                };
                [own.uncertainty; 2]
            } else {
                [fit.sigma_x.uncertainty, fit.sigma_y.uncertainty]
            };
            let origin = ThrownSpread {
                file: throws.file().to_owned(),
                darts: fit.throws,
                missed: fit.missed,
                from: ThrowsKind::Positions,
                target,
                uncertainty_x_mm: x,
                uncertainty_y_mm: y,
                sighting: sighting.map(|sighted| sighted.error),
                unequal_by_chance: Some(fit.unequal_by_chance),
                look_like_inches: aim.is_some_and(|aim| look_like_inches(landed, aim)),
            };
            Ok(known(spread, ends, origin))
        }
        Throws::Beds { seen, .. } => {
            let aim = aim.ok_or(CompareError::NoTarget)?;
            let found = spread_of_hits(first.face(), first.metal, aim, seen)?;
            let (spread, ends) = round(found)?;
            let nothing = |seen: &&Seen| **seen == Seen::Nothing;
            let origin = ThrownSpread {
                file: throws.file().to_owned(),
                darts: seen.len(),
                missed: seen.iter().filter(nothing).count(),
                from: ThrowsKind::Beds,
                target,
                uncertainty_x_mm: found.uncertainty,
                uncertainty_y_mm: found.uncertainty,
                sighting: None,
                unequal_by_chance: None,
                look_like_inches: false,
            };
            Ok(known(spread, ends, origin))
        }
    }
}

fn known(spread: Spread, ends: Vec<[Spread; 2]>, origin: ThrownSpread) -> Known {
    Known {
        spread,
        origin: SpreadOrigin::Throws(Box::new(origin)),
        ends,
    }
}

/// A sighting error with the spread that it makes about the aim.
struct Sighted {
    error: SightingError,
    about_aim: Estimated,
}

impl Sighted {
    fn of(
        fit: &PositionFit,
        corrected: Spread,
        handled: Sighting,
        first: &Subject,
    ) -> Result<Option<Self>, CompareError> {
        let found = fit.offset.zip(fit.offset_by_chance);
        let Some((([right, up], by_chance), about)) = found.zip(fit.sigma_about_aim()) else {
            return Ok(None);
        };
        // About a known point no mean is fitted: two degrees of freedom a dart.
        let seen = (fit.throws - fit.missed) as f64;
        let about_aim = Estimated {
            value: about,
            uncertainty: about / libm::sqrt(4.0 * seen),
        };
        let averages = Averages::on(first.face(), first.metal);
        Ok(Some(Self {
            error: SightingError {
                right_mm: right.value,
                right_uncertainty_mm: right.uncertainty,
                up_mm: up.value,
                up_uncertainty_mm: up.uncertainty,
                by_chance,
                handled,
                average_corrected: averages.of(corrected).0,
                average_kept: averages.of(Spread::new(about)?).0,
            },
            about_aim,
        }))
    }
}
