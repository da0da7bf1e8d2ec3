//! What follows from areas alone: of boards whose rings are not all known, or of one
//! that is given as ratios to another.
//!
//! The area rule makes a target harder in inverse proportion to its free area, so it
//! needs no more than the areas in question: from the rings and wires around a band,
//! as the file records them, or as ratios to the first board. Everything that depends on
//! where a dart lands (the spread rule, maps, a player's own average, metal) is left
//! out, and [`AreaBoard::lacks`] says what it would take.
//!
//! Every figure has its [`Certainty`](super::Certainty), to first order in the
//! logarithm: relative variances add up (JCGM 100, 5.1.2 and 5.1.6, from memory), and
//! what is not known of a band counts once for all darts at it.

mod averages;
mod board;
mod compare;
mod data;
mod figure;
mod perfect;
mod ratio;
mod side;

pub(super) use averages::table as simple_averages;
pub use board::{AreaSubject, tell_areas_apart};
pub use compare::compare_by_area;
pub use data::{
    AreaAverageRow, AreaAverages, AreaBoard, AreaComparison, AreaDifference, AreaOdds, AreaRoute,
    AreaSource, Described, KnownBed, LegRule, RatioFrom,
};
pub use figure::Figure;
pub use ratio::{GivenRatio, GivenRatios, RatioError};

#[cfg(test)]
mod tests;
