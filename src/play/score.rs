//! The score of a dart: its mean and its variance.

use super::{Face, Metal, Throw, Worth};

/// What a dart scores.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Score {
    /// Expected score of one dart.
    pub mean: f64,
    /// Variance of the score of one dart.
    pub variance: f64,
}

/// Mean and variance of the score of one dart.
pub fn score(face: &Face, throw: &Throw, metal: Metal) -> Score {
    let hits = face.hits(throw, metal);
    let mean = hits.mean(&Worth::score());
    // About the mean, not as a difference of squares: a throw that almost
    // always hits the same bed has next to no variance.
    let spread = |score: f64| (score - mean) * (score - mean);
    let scored: f64 = hits
        .iter()
        .map(|(bed, p)| p * spread(f64::from(bed.score())))
        .sum();
    let variance = scored + (hits.metal() + hits.outside()) * spread(0.0);
    Score { mean, variance }
}
