//! How long the best hill remains the best.

use super::line::Outlook;
use super::outcome::{ByOutcome, USED};

/// Where an aim was best, and by how much its hill then led all others.
///
/// If all outcomes become dearer by the same, so do all aims; otherwise the
/// difference of two aims changes by at most as much as that of two outcomes.
/// As long as that is less than the lead, the best hill remains the best.
#[derive(Clone, Debug)]
pub(super) struct Lead {
    pub(super) excess: ByOutcome,
    pub(super) by: f64,
}

impl Lead {
    /// What is left of it under another outlook; nothing if it may be lost.
    pub(super) fn left(&self, outlook: &Outlook) -> Option<f64> {
        let changes = outlook.excess.iter().zip(&self.excess).map(|(a, b)| a - b);
        let (low, high) = changes.take(USED).fold(
            (f64::INFINITY, f64::NEG_INFINITY),
            |(low, high): (f64, f64), change| (low.min(change), high.max(change)),
        );
        Some(self.by - (high - low)).filter(|left| *left > 0.0)
    }
}
