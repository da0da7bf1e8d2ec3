//! Workbooks of boards, taken in: every board that can be, and everything that is
//! wrong.

use std::collections::HashMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::boards::{Group, TakenBoard};
use super::instruments::Instruments;
use super::options::IntakeOptions;
use super::rows::read_grid;
use crate::document::{Fault, InvalidFile, Problem, Problems};
use crate::workbook::Workbook;

/// What workbooks come to.
#[derive(Debug, Default)]
#[non_exhaustive]
pub struct Intake {
    /// The boards of which every row can be used, in the order of the rows.
    pub boards: Vec<TakenBoard>,
    /// The ids of boards without any readings, which is how a board is skipped.
    pub without_readings: Vec<String>,
    /// The workbooks with which something is wrong.
    pub invalid_files: Vec<InvalidFile>,
    /// How many rows had readings.
    pub rows: usize,
}

/// Takes in workbooks of boards. Rows of one board, in one workbook or in several,
/// are those of the people who measured it, and are pooled.
pub fn take_in(books: &[Workbook], options: &IntakeOptions<'_>) -> Intake {
    let mut problems: Vec<Problems> = books.iter().map(|_| Problems::default()).collect();
    let mut groups: Vec<Group> = Vec::new();
    let mut known: HashMap<String, usize> = HashMap::new();
    for (book, problems) in books.iter().zip(&mut problems) {
        let mut rows = Vec::new();
        for grid in &book.sheets {
            rows.extend(read_grid(grid, options, problems));
        }
        if rows.is_empty() && problems.is_empty() {
            problems.add(Problem::new(
                Fault::MissingKey,
                crate::document::Span::default(),
                "there is no board in this workbook",
                "fill in a row for each board; `ringrule intake --blank` makes a workbook to fill in",
            ));
        }
        let instruments = Instruments::of(&mut rows);
        for row in rows {
            let index = *known.entry(row.id.to_lowercase()).or_insert_with(|| {
                groups.push(Group::new(row.id.clone()));
                groups.len() - 1
            });
            if let Some(group) = groups.get_mut(index) {
                let instrument = instruments.of_row(&row);
                group.add(Arc::clone(&book.source), row, instrument);
            }
        }
    }
    let taken: Vec<_> = groups
        .into_par_iter()
        .map(|group| (group.id.clone(), group.take_in(options)))
        .collect();
    let mut intake = Intake::default();
    let mut faults = Vec::new();
    for (id, outcome) in taken {
        for (source, own) in outcome.problems {
            let mut books = books.iter().zip(&mut problems);
            if let Some((_, all)) = books.find(|(book, _)| Arc::ptr_eq(&book.source, &source)) {
                all.extend(own);
            }
        }
        faults.extend(outcome.faults);
        intake.rows += outcome.rows;
        match outcome.board {
            Some(board) => intake.boards.push(board),
            None if outcome.rows == 0 && outcome.is_sound => intake.without_readings.push(id),
            None => {}
        }
    }
    for (book, problems) in books.iter().zip(problems) {
        let mut invalid = problems.into_result(&book.source).err();
        for fault in faults.extract_if(.., |fault| Arc::ptr_eq(&fault.file, &book.source)) {
            match &mut invalid {
                Some(invalid) => {
                    invalid.diagnostics.extend(fault.diagnostics);
                    invalid.unlisted += fault.unlisted;
                }
                None => invalid = Some(fault),
            }
        }
        if let Some(invalid) = &mut invalid {
            invalid.diagnostics.sort_by_key(|found| found.place.span);
        }
        intake.invalid_files.extend(invalid);
    }
    intake
}
