//! Throws at a board: how often they land in each bed, what they score, and
//! what a difference between two boards does to a target, a route and an
//! average.
//!
//! Two models, named wherever their figures appear. Under the **area rule** a
//! target is harder in inverse proportion to its free area. Under the **spread
//! rule** a throw is normal about its aim, and the probability of a bed is the mass
//! over its region: one [integral along its boundary](probability()). What
//! [`Metal`] does to a dart decides much of either answer.
#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::float_cmp
    )
)]

mod aim;
mod average;
mod decay;
mod easiest;
mod error;
mod estimate;
mod face;
mod gauss;
mod hits;
mod layer;
mod leg;
mod legs;
mod limits;
mod map;
mod odds;
mod position_fit;
mod probability;
mod route;
mod score;
mod target;
mod throw;
mod worth;

pub use crate::board::{BounceShare, BounceShareError, Metal};
pub use aim::{Optimum, best_aim, best_aims, most_hits};
pub use average::{Averages, translate_simply};
pub use easiest::{EasiestLegs, easiest_leg, easiest_legs};
pub use error::PlayError;
pub use estimate::{Estimated, Seen, spread_of_hits};
pub use face::{Face, Slope};
pub use hits::Hits;
pub use leg::{
    Against, Aims, Choice, Chosen, Difference as LegDifference, Distribution, Entry, FinishRow,
    Leg, LegOptions, LegSlopes, LegSums, Objective, PerfectLeg, chance_in_legs,
    differences as leg_differences, legs_for_chance,
};
pub use legs::{ShortestLegs, finishes, list_shortest, shortest_legs};
pub use limits::{LARGEST_START, MOST_DARTS};
pub use map::{MAP_SIDE, WorthMap};
pub use odds::{
    AimRule, Player, Setup, band_harder_by_area, band_harder_by_spread, harder_by_area,
    harder_by_spread, route_harder_by_area, route_harder_by_spread,
};
pub use position_fit::{Landed, PositionFit, fit_positions, look_like_inches};
pub use probability::probability;
pub use route::Route;
pub use score::{Score, score};
pub use target::{Number, Target};
pub use throw::{Spread, Throw};
pub use worth::Worth;

#[cfg(test)]
mod checks;
