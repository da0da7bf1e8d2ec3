//! Match averages between boards.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use super::certainty::CertaintyRecord;
use crate::comparison::{MatchAverages, MatchNode, MatchRow, MatchWorth};

records! {
    /// What match averages on the first board are worth on every board: the same spread
    /// in every direction, each leg played as well as it can be.
    MatchAveragesRecord of MatchAverages {
        /// One row for each average.
        rows: Vec<MatchRowRecord>,
        /// The same over the whole range of players, from narrow spreads to wide ones.
        curves: Vec<MatchNodeRecord>,
    }

    /// One match average on the first board.
    MatchRowRecord of MatchRow {
        /// The average on the first board.
        average: f64,
        /// The spread of a player who has it, in mm; left out if none has.
        spread_mm: Option<f64>,
        /// What it is on each board, in the order of the run.
        boards: Vec<MatchWorthRecord>,
    }

    /// What a player comes to on one board.
    MatchWorthRecord of MatchWorth {
        /// Three times the start over the expected darts.
        match_average: f64,
        /// How sure that is for a player of whom the first board's average is all that is
        /// known.
        certainty: CertaintyRecord,
        /// Expected darts of a leg.
        expected_darts: f64,
        /// Of the darts aimed at a double that would win, how many do, 0 to 1; left out
        /// where less than one dart a leg is aimed so.
        checkout_rate: Option<f64>,
        /// How sure that is of the same player; on the first board too, whose lengths the
        /// spread follows from.
        checkout_rate_certainty: CertaintyRecord,
        /// The three-dart average of scoring darts alone.
        scoring_average: f64,
        /// What the simple rule makes of the first board's scoring average; left out
        /// where it does not hold.
        scoring_simply: Option<f64>,
    }

    /// A player by the spread, and the match average on each board.
    MatchNodeRecord of MatchNode {
        /// The spread, in mm.
        spread_mm: f64,
        /// The match average on each board, in the order of the run.
        match_averages: Vec<f64>,
    }
}
