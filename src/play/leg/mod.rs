//! A whole leg: the exact decision programme of one player, what it comes to,
//! and how it may go.

mod against;
mod aim;
mod chart;
mod climb;
mod comb;
mod difference;
mod distribution;
mod envelope;
mod lead;
mod line;
mod options;
mod outcome;
mod patch;
mod perfect;
mod programme;
mod range;
mod scale;
mod slopes;
mod solution;
mod surface;
mod table;
mod visit;

pub use against::Against;
pub use difference::{Difference, differences};
pub use distribution::Distribution;
pub use options::{Aims, Entry, LegOptions, Objective};
pub use perfect::{PerfectLeg, chance_in_legs, legs_for_chance};
pub use slopes::{LegSlopes, LegSums};
pub use solution::{Choice, Leg};
pub use table::{Chosen, FinishRow};

#[cfg(test)]
mod checks;
#[cfg(test)]
mod fixtures;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod simulation;
