//! The expected score over a board.

use super::Subject;
use crate::play::{MAP_SIDE, Spread, Worth, WorthMap, best_aims};

/// Every how many millimetres a value is kept: finer than any spread worth
/// mapping, coarse enough for a page.
const STEP: usize = 4;

/// The expected score of a dart by where it is aimed, in the chosen setting.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct ScoreMap {
    /// The board's place in the list of boards, from 0.
    pub board: usize,
    /// Distance between neighbouring values, in mm.
    pub step_mm: f64,
    /// Rows from the top, values from the left; the middle of the first square
    /// lies at `-168, 168` mm, the centre of the board at `0, 0`.
    pub rows: Vec<Vec<f64>>,
    /// The best aims: right of and above the centre, in mm, and their mean.
    pub best: Vec<[f64; 3]>,
}

pub(super) fn map(board: usize, subject: &Subject, spread: Spread) -> ScoreMap {
    let (metal, worth) = (subject.metal, Worth::score());
    let map = WorthMap::new(subject.face(), spread, metal, &worth);
    // The mean of the four values about a square's middle.
    let value = |column: usize, row: usize| {
        let half = STEP / 2;
        let nodes = [
            (half - 1, half - 1),
            (half, half - 1),
            (half - 1, half),
            (half, half),
        ];
        let values = nodes.map(|(x, y)| map.at(column + x, row + y).unwrap_or_default());
        0.25 * values.iter().sum::<f64>()
    };
    let places = || (0..MAP_SIDE).step_by(STEP);
    let best = best_aims(subject.face(), spread, metal, &worth);
    ScoreMap {
        board,
        step_mm: STEP as f64,
        rows: places()
            .map(|row| places().map(|column| value(column, row)).collect())
            .collect(),
        best: best.iter().map(|o| [o.aim.x, o.aim.y, o.mean]).collect(),
    }
}
