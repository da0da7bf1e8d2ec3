//! One limit, as it stands in a table.

use schemars::JsonSchema;
use serde::Deserialize;

use super::{Citation, Measurand};
use crate::board::{Band, Edge, Mounting, Profile, RingWire};
use crate::document::Passage;
use crate::units::{Angle, Length, Percent};

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
    /// An angle between these two.
    Turned {
        /// The least angle that conforms.
        lower: Option<Angle>,
        /// The greatest angle that conforms.
        upper: Option<Angle>,
    },
    /// A deviation of every bed's free area from the nominal board's.
    Beds {
        /// The band whose beds are meant; `None` for all.
        band: Option<Band>,
        /// The most negative deviation that conforms.
        lower: Percent,
        /// The most positive deviation that conforms.
        upper: Percent,
    },
}

words! {
    /// What a limit on a length speaks of, where the length differs from place to
    /// place.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Deserialize, JsonSchema)]
    #[non_exhaustive]
    pub enum Extent {
        /// The mean of the places.
        #[default]
        #[serde(rename = "mean")]
        Mean = "mean",
        /// Every place where it was taken: the worst decides.
        #[serde(rename = "every place")]
        EveryPlace = "every place",
    }

    /// The words in files.
    fn key;
    impl Display = key;
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
    /// Whether it speaks of the mean or of every place.
    pub of: Extent,
    /// The one ring that it is for, of measurands that every ring has.
    pub ring: Option<RingWire>,
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
