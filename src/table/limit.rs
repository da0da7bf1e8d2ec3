//! One limit, as it stands in a table.

use super::{Citation, Measurand};
use crate::board::{Edge, Mounting, Profile};
use crate::document::Passage;
use crate::units::{Length, Percent};

/// The values that conform. At least one end is there.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Interval {
    /// The least length that conforms.
    pub lower: Option<Length>,
    /// The greatest length that conforms.
    pub upper: Option<Length>,
}

/// What a limit demands.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Demand {
    /// A length within an interval.
    Within(Interval),
    /// One of these mountings.
    OneOf(Vec<Mounting>),
}

/// Which boards a limit is for. What is `None` does not matter.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub struct When {
    /// Only boards mounted like this.
    pub mounting: Option<Mounting>,
    /// Only boards with this profile.
    pub profile: Option<Profile>,
}

impl When {
    /// Whether a board of this mounting and profile is meant.
    pub fn matches(&self, mounting: Mounting, profile: Profile) -> bool {
        self.mounting.is_none_or(|wanted| wanted == mounting)
            && self.profile.is_none_or(|wanted| wanted == profile)
    }
}

/// A limit.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Limit {
    /// Its name in the table.
    pub name: String,
    /// What it limits.
    pub measurand: Measurand,
    /// The edge of the wire that it refers to, where edges matter.
    pub edge: Option<Edge>,
    /// Which boards it is for.
    pub when: When,
    /// What it demands.
    pub demand: Demand,
    /// The value that it is set around, if it names one.
    pub nominal: Option<Length>,
    /// On whose word.
    pub source: Citation,
    /// Where it is written.
    pub place: Passage,
}

/// How far a band's free area may deviate from the nominal one.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BandLimit {
    /// The most negative deviation that conforms.
    pub lower: Percent,
    /// The most positive deviation that conforms.
    pub upper: Percent,
    /// On whose word.
    pub source: Citation,
    /// Where it is written.
    pub place: Passage,
}
