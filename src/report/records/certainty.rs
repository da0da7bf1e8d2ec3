//! How sure figures are.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use crate::comparison::{Certainty, Interval};

/// How sure a figure is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(super) enum CertaintyRecord {
    /// Nothing that it rests on was measured or estimated.
    Exact,
    /// A length that it rests on states no uncertainty.
    NotStated,
    /// It lies within these ends with 95 % confidence; what metal does is not in them.
    Within {
        /// The lower end, all causes together.
        low: f64,
        /// The upper end.
        high: f64,
        /// What is not known of the boards alone.
        boards: IntervalRecord,
        /// What is not known of the player's spread alone; left out where it was given.
        #[serde(skip_serializing_if = "Option::is_none")]
        player: Option<IntervalRecord>,
    },
}

records! {
    /// The ends of an interval.
    IntervalRecord of Interval {
        /// The lower end.
        low: f64,
        /// The upper end.
        high: f64,
    }
}

impl Of<Certainty> for CertaintyRecord {
    fn of(certainty: &Certainty) -> Self {
        match certainty {
            Certainty::Exact => Self::Exact,
            Certainty::NotStated => Self::NotStated,
            Certainty::Within {
                all,
                boards,
                player,
            } => Self::Within {
                low: all.low,
                high: all.high,
                boards: Of::of(boards),
                player: player.as_ref().map(Of::of),
            },
        }
    }
}
