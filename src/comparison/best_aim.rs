//! Where a player scores most.

use super::Subject;
use crate::geometry::Bed;
use crate::play::{Spread, Worth, best_aims};

/// An aim that no other beats.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct BestAim {
    /// To the right of the centre, in mm.
    pub x_mm: f64,
    /// Above the centre, in mm.
    pub y_mm: f64,
    /// The bed whose middle is nearest.
    pub bed: Bed,
    /// The three-dart average, scoring darts only.
    pub average: f64,
}

impl BestAim {
    /// The best aims on a board, metal at its own setting: more than one if they tie
    /// within a millionth.
    pub(super) fn all(subject: &Subject, spread: Spread) -> Vec<Self> {
        let (face, metal) = (subject.face(), subject.metal);
        let optima = best_aims(face, spread, metal, &Worth::score()).into_iter();
        let named = optima.filter_map(|optimum| {
            let away = |bed: &Bed| (face.middle(*bed) - optimum.aim).norm();
            let bed = Bed::all().min_by(|a, b| away(a).total_cmp(&away(b)));
            Some(Self {
                x_mm: optimum.aim.x,
                y_mm: optimum.aim.y,
                bed: bed?,
                average: 3.0 * optimum.mean,
            })
        });
        named.collect()
    }
}
