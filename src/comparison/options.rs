//! What a comparison is asked to find out.

use super::{Sighting, Throws};
use crate::play::{AimRule, Route, Spread, Target};

/// The spread that is assumed where nothing is said of the player, in mm.
/// House rule: about where the spread rule makes a treble as much harder as
/// is commonly said (1.16, common practice, no source).
pub const ASSUMED_SPREAD: f64 = 12.0;

/// The averages that are translated where none is named. House rule: from a
/// beginner's to the best there are.
pub const DEFAULT_AVERAGES: [f64; 8] = [40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0];

/// The start total whose shortest legs are counted where none is named: the one
/// that is played most. Common practice, no source.
pub const DEFAULT_START: u32 = 501;

/// Where the player's spread comes from.
#[derive(Clone, Debug, Default)]
#[non_exhaustive]
pub enum SpreadSource {
    /// Nobody said anything.
    #[default]
    Assumed,
    /// It was given.
    Given(Spread),
    /// It is the one whose best aim averages this on the first board.
    Average(f64),
    /// It is estimated from throws, at the first board where beds were noted;
    /// all aimed at the target, where it is named; a sighting error that positions show
    /// is dealt with as said.
    Throws(Throws, Option<Target>, Sighting),
}

/// What to compute, for whom.
#[derive(Clone, Debug, Default)]
#[non_exhaustive]
pub struct CompareOptions {
    /// Where the spread comes from.
    pub spread: SpreadSource,
    /// Where the player aims for a target.
    pub aim: AimRule,
    /// Routes besides a maximum and the perfect leg of each start total.
    pub routes: Vec<Route>,
    /// Averages to translate; [`DEFAULT_AVERAGES`] if empty.
    pub averages: Vec<f64>,
    /// Start totals; [`DEFAULT_START`] if empty.
    pub starts: Vec<u32>,
    /// Whether to map the expected score over each board.
    pub maps: bool,
}
