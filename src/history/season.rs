//! The inspections of many boards, board by board.

use std::cmp::Reverse;
use std::collections::HashMap;

use jiff::civil::Date;

use super::{Change, Standing, changes, standings};
use crate::board::{Board, Due, DueState, Validity};
use crate::conformity::{Assessment, Verdict};
use crate::document::{Fault, InvalidFile, Problem, Problems};
use crate::table::Table;

/// Every board with its inspections, as they stand on a day.
#[derive(Debug)]
#[non_exhaustive]
pub struct Season<'a> {
    /// The table that all were judged by.
    pub table: &'a Table,
    /// The day by which boards are due.
    pub on: Date,
    /// The boards, by their ids.
    pub boards: Vec<BoardHistory<'a>>,
}

/// The inspections of one board.
#[derive(Debug)]
#[non_exhaustive]
pub struct BoardHistory<'a> {
    /// The latest, which decides.
    pub latest: Assessment<'a>,
    /// Those before it, the latest first.
    pub earlier: Vec<Assessment<'a>>,
    /// How long an inspection counts and where the latest stands on the day; `None`
    /// where that is not settled or the inspection has no day.
    pub due: Option<(Validity, Due)>,
}

impl BoardHistory<'_> {
    /// What has changed since the inspection before the latest.
    pub fn changes(&self) -> Vec<Change<'_>> {
        let before = self.earlier.first();
        before.map_or_else(Vec::new, |before| changes(before, &self.latest))
    }
}

impl<'a> Season<'a> {
    /// Puts inspections together by board. `validity` is how long the inspection of
    /// each board counts, by its index.
    pub fn new(
        table: &'a Table,
        on: Date,
        assessments: Vec<Assessment<'a>>,
        validity: impl Fn(usize) -> Option<Validity>,
    ) -> Self {
        let keys: Vec<_> = assessments.iter().map(|own| own.board.key()).collect();
        let standings = standings(&keys);
        let mut all: Vec<_> = assessments.into_iter().zip(keys).enumerate().collect();
        // The latest first, so that those before it follow in their order.
        all.sort_by_key(|(_, (_, (_, day)))| Reverse(*day));
        let mut boards: Vec<BoardHistory<'a>> = Vec::new();
        let mut known: HashMap<&str, usize> = HashMap::new();
        for (index, (assessment, (id, day))) in all {
            let decides = matches!(standings.get(index), Some(Standing::Decides { .. }));
            match known.get(id).and_then(|&at| boards.get_mut(at)) {
                Some(board) if !decides => board.earlier.push(assessment),
                _ => {
                    known.insert(id, boards.len());
                    let lasts = validity(index).zip(day);
                    let due = lasts.and_then(|(lasts, day)| Some((lasts, lasts.due(day, on)?)));
                    let latest = assessment;
                    let earlier = Vec::new();
                    boards.push(BoardHistory {
                        latest,
                        earlier,
                        due,
                    });
                }
            }
        }
        boards.sort_by(|a, b| a.latest.board.id.cmp(&b.latest.board.id));
        Self { table, on, boards }
    }

    /// Boards whose inspection is no longer valid on the day.
    pub fn overdue(&self) -> usize {
        let due = self.boards.iter().filter_map(|board| board.due);
        due.filter(|(_, due)| due.state == DueState::Overdue)
            .count()
    }

    /// Boards that conformed at the inspection before the latest, and no longer do.
    pub fn worse(&self) -> usize {
        let worse = |board: &&BoardHistory<'_>| {
            let before = board.earlier.first();
            before.is_some_and(|before| {
                before.verdict == Verdict::Conforms && board.latest.verdict != Verdict::Conforms
            })
        };
        self.boards.iter().filter(worse).count()
    }
}

/// Files of one board of which nobody can say which is the later inspection: each
/// of them, with what to do.
pub fn undecided(boards: &[Board]) -> Vec<InvalidFile> {
    let keys: Vec<_> = boards.iter().map(Board::key).collect();
    let mut invalid = Vec::new();
    for (index, (board, (id, day))) in boards.iter().zip(&keys).enumerate() {
        let mut others = boards.iter().zip(&keys).enumerate();
        let other = others.find(|(other, (_, (their_id, their_day)))| {
            *other != index && their_id == id && (their_day == day || day.is_none())
        });
        let Some((_, (other, _))) = other else {
            continue;
        };
        let document = &board.document;
        let name = other.document.source.name();
        let place = match day {
            Some(_) => document.root.get("inspection"),
            None => document.root.get("board"),
        };
        let span = place.map(|node| node.span).unwrap_or_default();
        let mut problems = Problems::default();
        problems.add(match day {
            Some(day) => Problem::new(
                Fault::Contradiction,
                span,
                format!("`{name}` is an inspection of `{id}` on {day} too"),
                "bring the sheets of one day together with `ringrule pool`, or name only one of \
                 the files",
            ),
            None => Problem::new(
                Fault::MissingKey,
                span,
                format!("`{name}` is of `{id}` too, and this file states no day of inspection"),
                "add `inspection: { date: \"2026-10-03\" }` with the day on which it was measured",
            ),
        });
        invalid.extend(problems.into_result_in(document).err());
    }
    invalid
}
