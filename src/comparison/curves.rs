//! Figures over a range, for plots.

use rayon::prelude::*;

use super::averages::{Prepared, translate};
use super::data::TARGETS;
use super::player::player;
use super::{ByMetal, Subject};
use crate::board::Band;
use crate::play::{AimRule, Spread, band_harder_by_area, band_harder_by_spread, translate_simply};

/// Spreads of the curves, in mm: from better than anybody to a beginner's.
const SPREADS: [f64; 24] = [
    3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 18.0, 20.0, 23.0,
    26.0, 30.0, 35.0, 40.0, 46.0, 53.0, 60.0,
];

/// What the odds and averages do over the whole range of players.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Curves {
    /// Spreads, in mm, the same in every direction.
    pub spreads_mm: Vec<f64>,
    /// How many times harder each kind of target is at these spreads, aimed at
    /// the middle of its bed on each board.
    pub targets: Vec<TargetCurve>,
    /// What averages on the first board are worth on this one.
    pub averages: AverageCurve,
}

/// One kind of target over the spreads.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct TargetCurve {
    /// Which band.
    pub band: Band,
    /// What the area rule says at every spread, and the spread rule tends to
    /// with every dart on metal lost.
    pub harder_by_area: Option<f64>,
    /// What the spread rule says, one value for each spread.
    pub harder_by_spread: ByMetal<Vec<Option<f64>>>,
}

/// Averages on the first board, and what they are worth on this one.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AverageCurve {
    /// On the first board.
    pub on_first: Vec<f64>,
    /// On this board, under the spread rule.
    pub worth: ByMetal<Vec<Option<f64>>>,
    /// On this board, under the simple rule; left empty where it does not hold.
    pub worth_simply: Vec<Option<f64>>,
}

pub(super) fn targets(subject: &Subject, first: &Subject) -> (Vec<f64>, Vec<TargetCurve>) {
    let curve = |band: Band| {
        let at = |metal, sigma: f64| {
            let spread = Spread::new(sigma).ok()?;
            let board = player(subject.setup(metal), spread, AimRule::Middle);
            let than = player(first.setup(metal), spread, AimRule::Middle);
            band_harder_by_spread(&board, &than, band)
        };
        TargetCurve {
            band,
            harder_by_area: band_harder_by_area(subject.face(), first.face(), band),
            harder_by_spread: ByMetal::of(|metal| {
                SPREADS.iter().map(|sigma| at(metal, *sigma)).collect()
            }),
        }
    };
    (
        SPREADS.to_vec(),
        TARGETS.into_par_iter().map(curve).collect(),
    )
}

pub(super) fn averages(board: &Prepared<'_>, first: &Prepared<'_>, ratio: f64) -> AverageCurve {
    let on_first: Vec<f64> = (6..=28).map(|step| 5.0 * f64::from(step)).collect();
    let along = |metal| {
        let at = |average: &f64| translate(*average, first, board, metal);
        on_first.par_iter().map(at).collect()
    };
    AverageCurve {
        worth: ByMetal::of(along),
        worth_simply: on_first
            .iter()
            .map(|average| translate_simply(*average, ratio).ok())
            .collect(),
        on_first,
    }
}
