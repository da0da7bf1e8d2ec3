//! Which boards may be used, as rows for spreadsheets: board by board, and counted by
//! venue.

use serde::Serialize;

use super::rows::{Words, written};
use super::words::{DueRecord, VerdictRecord};
use crate::report::says::usage::{Usage, by_venue};

/// A board. The names of the fields are the heads of the columns.
#[derive(Serialize)]
struct UseRow {
    venue: Option<Words>,
    position: Option<Words>,
    id: Words,
    verdict: VerdictRecord,
    /// May be used, may not be used, or measure again.
    r#use: &'static str,
    reason: Option<Words>,
    due: Option<DueRecord>,
    valid_until: Option<String>,
}

/// How many boards of a venue may be used.
#[derive(Serialize)]
struct VenueRow {
    venue: Option<Words>,
    boards: usize,
    may_be_used: usize,
    may_not_be_used: usize,
    measure_again: usize,
}

/// A row for each board, by venue, under their heads.
pub fn use_rows(all: &[Usage]) -> String {
    let boards = by_venue(all).into_iter().flat_map(|(_, boards)| boards);
    let rows = boards.map(|usage| {
        let words = |text: &Option<String>| text.as_ref().map(Words::of);
        let due = usage.due();
        UseRow {
            venue: words(&usage.venue),
            position: words(&usage.position),
            id: Words::of(&usage.id),
            verdict: usage.verdict.into(),
            r#use: usage.words(),
            reason: usage.remarks().map(Words::of),
            due: due.map(|due| due.state.into()),
            valid_until: due.map(|due| due.until.to_string()),
        }
    });
    written(rows, true)
}

/// A row for each venue, under their heads.
pub fn venue_rows(all: &[Usage]) -> String {
    let rows = by_venue(all).into_iter().map(|(venue, boards)| {
        let count = |words: &str| boards.iter().filter(|usage| usage.words() == words).count();
        VenueRow {
            venue: venue.map(Words::of),
            boards: boards.len(),
            may_be_used: count(Usage::GOOD),
            may_not_be_used: count(Usage::BAD),
            measure_again: count(Usage::AGAIN),
        }
    });
    written(rows, true)
}
