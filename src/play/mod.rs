//! Throws at a board: how often they land in each bed, what they score, and
//! what a difference between two boards does to a target, a route and an
//! average.
//!
//! Two models, named wherever their figures appear. Under the **area rule** a
//! target is harder in inverse proportion to its free area. Under the **spread
//! rule** a throw is normal about its aim, and the chance of a bed is the mass
//! over its region: one [integral along its boundary](chance()). What
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
mod chance;
mod face;
mod gauss;
mod hits;
mod layer;
mod legs;
mod metal;
mod route;
mod score;
mod target;
mod throw;
mod worth;

pub use aim::{Optimum, best_aim, best_aims, most_hits};
pub use chance::chance;
pub use face::{Face, FaceError, Slope};
pub use hits::Hits;
pub use legs::{
    LARGEST_START, ShortestLegs, StartError, easiest_leg, finishes, list_shortest, shortest_legs,
};
pub use metal::{BounceShare, BounceShareError, Metal};
pub use route::{MOST_DARTS, Route, RouteError};
pub use score::{Score, score};
pub use target::{Number, Target, TargetError};
pub use throw::{Spread, SpreadError, Throw};
pub use worth::Worth;

#[cfg(test)]
mod boards;
#[cfg(test)]
mod checks;
