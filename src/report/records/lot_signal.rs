//! What a chart of a production run names, for other programs.

use schemars::JsonSchema;
use serde::Serialize;

use crate::lot::{ChangeKind, Lot, Series, Side, Signal};

/// A board that a chart names.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct NamedBoardRecord {
    /// Its place in the run, from 1.
    place: usize,
    id: String,
}

#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SideRecord {
    Above,
    Below,
}

impl From<Side> for SideRecord {
    fn from(side: Side) -> Self {
        match side {
            Side::Above => Self::Above,
            Side::Below => Self::Below,
        }
    }
}

/// What a chart names.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub(super) enum SignalRecord {
    /// A board beyond the limits for single values.
    Beyond {
        board: NamedBoardRecord,
        side: SideRecord,
    },
    /// A run on one side of the median.
    Run {
        begins: NamedBoardRecord,
        ends: NamedBoardRecord,
        /// How many values are in it, without those on the median.
        length: usize,
        side: SideRecord,
    },
    /// The mean moves on, board by board.
    Drift {
        /// Where it begins, as an estimate: the last board that it leaves alone.
        begins: NamedBoardRecord,
        /// The first place where it may begin, with 95 % confidence.
        begins_earliest: NamedBoardRecord,
        /// The last such place.
        begins_latest: NamedBoardRecord,
        /// The change from one board to the next, in the unit of the values.
        per_board: f64,
        /// The first board from there on at which the moving average is outside its
        /// limits; if there is none, the first of all.
        seen: NamedBoardRecord,
    },
    /// The mean has moved once.
    Shift {
        /// The first board that it moves, as an estimate.
        begins: NamedBoardRecord,
        /// The first place where it may begin, with 95 % confidence.
        begins_earliest: NamedBoardRecord,
        /// The last such place.
        begins_latest: NamedBoardRecord,
        /// By how much, in the unit of the values.
        by: f64,
        /// The first board from there on at which the moving average is outside its
        /// limits; if there is none, the first of all.
        seen: NamedBoardRecord,
    },
}

impl SignalRecord {
    pub(super) fn of(lot: &Lot<'_>, series: &Series<'_>, signal: &Signal) -> Self {
        let named = |at: usize| {
            let place = series.places.get(at).copied().unwrap_or_default();
            let board = lot.boards.get(place);
            NamedBoardRecord {
                place: place + 1,
                id: board.map(|board| board.id.clone()).unwrap_or_default(),
            }
        };
        match *signal {
            Signal::Beyond { at, side } => Self::Beyond {
                board: named(at),
                side: side.into(),
            },
            Signal::Run {
                first,
                last,
                length,
                side,
            } => Self::Run {
                begins: named(first),
                ends: named(last),
                length,
                side: side.into(),
            },
            Signal::Change { beginning, seen } => {
                let begins = named(beginning.at);
                let begins_earliest = named(beginning.range.0);
                let begins_latest = named(beginning.range.1);
                let seen = named(seen);
                match beginning.kind {
                    ChangeKind::Drift => Self::Drift {
                        begins,
                        begins_earliest,
                        begins_latest,
                        per_board: beginning.amount,
                        seen,
                    },
                    ChangeKind::Shift => Self::Shift {
                        begins,
                        begins_earliest,
                        begins_latest,
                        by: beginning.amount,
                        seen,
                    },
                }
            }
        }
    }
}
