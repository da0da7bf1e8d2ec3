//! Where a player scores most.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use crate::comparison::BestAim;
use crate::geometry::Bed;

records! {
    /// An aim that no other beats.
    BestAimRecord of BestAim {
        /// To the right of the centre, in mm.
        x_mm: f64,
        /// Above the centre, in mm.
        y_mm: f64,
        /// The bed whose middle is nearest.
        bed: String,
        /// The three-dart average, scoring darts only.
        average: f64,
    }
}

impl Of<Bed> for String {
    fn of(bed: &Bed) -> Self {
        bed.to_string()
    }
}
