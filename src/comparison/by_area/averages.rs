//! Averages by the simple rule, with what is not known of the treble's ratio.

use super::super::DEFAULT_AVERAGES;
use super::data::{AreaAverageRow, AreaAverages};
use super::figure::Figure;
use crate::play::{PlayError, translate_simply};

/// The averages of darts that all land in the 20 bed or its treble.
const LEAST: f64 = 60.0;
const MOST: f64 = 180.0;

/// The averages to translate: as asked for, or those of the usual ones that the simple
/// rule covers. One that was asked for and cannot be is refused.
pub(super) fn asked(averages: &[f64]) -> Result<Vec<f64>, PlayError> {
    let covered = |average: &f64| (LEAST..=MOST).contains(average);
    if let Some(average) = averages.iter().find(|average| !covered(average)) {
        return Err(PlayError::NotTwenties(*average));
    }
    Ok(if averages.is_empty() {
        DEFAULT_AVERAGES.into_iter().filter(covered).collect()
    } else {
        averages.to_vec()
    })
}

pub(in crate::comparison) fn table(treble: Figure, averages: &[f64]) -> AreaAverages {
    let row = |&average: &f64| {
        // No such average is above 180, so neither is an end of its interval.
        let worth = |times: f64| (LEAST + (average - LEAST) / times).min(MOST);
        let figure = |rule: &dyn Fn(f64) -> f64| {
            translate_simply(average, rule(treble.value)).ok()?;
            Some(treble.map(|times| worth(rule(times))))
        };
        AreaAverageRow {
            average,
            from_first: figure(&|times| times),
            to_first: figure(&|times| 1.0 / times),
        }
    };
    AreaAverages {
        treble,
        rows: averages.iter().map(row).collect(),
    }
}
