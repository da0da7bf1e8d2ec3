//! What the difference between boards does to the game, as data.
//!
//! Every board is set against the first. [`compare()`] takes [subjects](Subject)
//! (boards from files, or a table's nominal boards) and [`CompareOptions`], and
//! returns a [`Comparison`]: areas, odds, routes, legs, averages and curves.
//! Two rules give odds and two give averages; every figure that depends on what
//! metal does to a dart comes at the chosen setting and at both extremes.
//! Nothing here knows how anything looks.
#![cfg_attr(
    test,
    allow(
        clippy::expect_used,
        clippy::panic,
        clippy::float_cmp,
        clippy::indexing_slicing,
        clippy::print_stdout
    )
)]

mod areas;
mod average_slopes;
mod averages;
mod best_aim;
mod by_area;
mod certainty;
mod compare;
mod curves;
mod data;
mod error;
mod legs;
mod log_odds;
mod map;
mod match_averages;
mod odds;
mod options;
mod player;
mod recorded;
mod slopes;
mod subject;
mod sure_leg;
mod thrown;
mod throws;
mod whole_leg;
mod wires;

pub use areas::{BandAreas, BandDifference, BoardAreas, MetalSetting};
pub use averages::{AverageRow, AverageTable};
pub use best_aim::BestAim;
pub use by_area::{
    AreaAverageRow, AreaAverages, AreaBoard, AreaComparison, AreaDifference, AreaOdds, AreaRoute,
    AreaSource, AreaSubject, Described, Figure, GivenRatio, GivenRatios, KnownBed, LegRule,
    RatioError, RatioFrom, compare_by_area, tell_areas_apart,
};
pub use certainty::{Certainty, Interval};
pub use compare::{Comparison, Difference, compare};
pub use curves::{AverageCurve, Curves, TargetCurve};
pub use data::{ByMetal, Crossed};
pub use error::CompareError;
pub use legs::{EasiestLeg, LastDart, StartLegs};
pub use map::ScoreMap;
pub use match_averages::{
    DEFAULT_MATCH_AVERAGES, MatchAverages, MatchNode, MatchRow, MatchWorth, match_averages,
};
pub use odds::{RouteName, RouteOdds, TargetOdds};
pub use options::{ASSUMED_SPREAD, CompareOptions, DEFAULT_AVERAGES, DEFAULT_START, SpreadSource};
pub use player::{Assumptions, SpreadOrigin};
pub use recorded::{RecordedBeside, recorded_beside};
pub use subject::{MetalFrom, Subject, nominal_mounting, set_metal, tell_apart};
pub use thrown::{Sighting, SightingError, ThrownSpread, ThrowsKind};
pub use throws::{Throws, read_throws};
pub use whole_leg::{HIGHEST_FINISH, LegOnBoard, WholeLegOptions, WholeLegs, whole_legs};
pub use wires::{THICKER, Wire, WireEffect};

#[cfg(test)]
mod certainty_checks;
#[cfg(test)]
mod leg_checks;
#[cfg(test)]
mod tests;
