//! Spreads that were estimated from throws.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use super::words::{SightingRecord, ThrowsKindRecord};
use crate::comparison::{SightingError, ThrownSpread};

records! {
    /// A spread that was estimated from throws.
    ThrownRecord of ThrownSpread {
        /// The file.
        file: String,
        /// How many darts, misses among them.
        darts: usize,
        /// How many of them scored nothing; counted by the probability of that.
        missed: usize,
        /// What was noted of each dart.
        from: ThrowsKindRecord,
        /// What they were aimed at, where that was named.
        target: Option<String>,
        /// Standard uncertainty of the spread sideways, in mm; of a spread that is the same
        /// in every direction, of that.
        uncertainty_x_mm: f64,
        /// The same up and down.
        uncertainty_y_mm: f64,
        /// How far darts land beside the aim in the mean; known of positions whose target
        /// was named.
        sighting: Option<SightingErrorRecord>,
        /// Of positions: how probable so unequal a spread is by chance, for a player whose
        /// spread is the same in every direction, which it is taken to be unless this is
        /// below 0.05.
        unequal_by_chance: Option<f64>,
        /// Whether positions that count as mm look like inches.
        look_like_inches: bool,
    }

    /// How far darts land beside the aim in the mean, and what that means.
    SightingErrorRecord of SightingError {
        /// To the right, in mm.
        right_mm: f64,
        /// Standard uncertainty of that.
        right_uncertainty_mm: f64,
        /// Upwards, in mm.
        up_mm: f64,
        /// Standard uncertainty of that.
        up_uncertainty_mm: f64,
        /// How probable so large an error is by chance, for a player who has none.
        by_chance: f64,
        /// What the player is taken to do about it.
        handled: SightingRecord,
        /// The three-dart average on the first board if it is corrected.
        average_corrected: f64,
        /// The average there if it is kept.
        average_kept: f64,
    }
}
