//! Findings on boards, `ringrule/findings/2`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::board::{BoardRecord, TableRecord};
use super::diagnostic::DiagnosticRecord;
use super::{Of, to_text};
use crate::conformity::Assessment;
use crate::document::{InvalidFile, Shape};
use crate::table::Table;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<FindingsReport>("Findings on boards, from Ringrule"));
    &SHAPE
}

/// Findings on boards. Lengths are in mm, areas in mm², deviations in percent,
/// probabilities from 0 to 1. Keys without a value are left out; lists are there
/// even when empty.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FindingsReport {
    /// `ringrule/findings/2`.
    format: String,
    /// The table that the boards were checked against.
    table: Option<TableRecord>,
    /// The boards, in the order of the run.
    boards: Vec<BoardRecord>,
    /// Files that could not be used.
    invalid_files: Vec<InvalidFileRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct InvalidFileRecord {
    file: String,
    problems: Vec<DiagnosticRecord>,
    /// How many more problems there are than are listed.
    unlisted: usize,
}

impl From<&InvalidFile> for InvalidFileRecord {
    fn from(invalid_file: &InvalidFile) -> Self {
        Self {
            file: invalid_file.file.name().to_owned(),
            unlisted: invalid_file.unlisted,
            problems: Of::of(&invalid_file.diagnostics),
        }
    }
}

impl FindingsReport {
    /// A report that boards and invalid files are still to be added to.
    /// Without a table, one that could not be read is among the invalid files.
    ///
    /// ```
    /// use ringrule::report::FindingsReport;
    ///
    /// let text = FindingsReport::new(None).to_json()?;
    /// assert!(text.starts_with("{\n  \"format\": \"ringrule/findings/2\""));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn new(table: Option<&Table>) -> Self {
        Self {
            format: "ringrule/findings/2".to_owned(),
            table: table.map(TableRecord::from),
            boards: Vec::new(),
            invalid_files: Vec::new(),
        }
    }

    /// Adds a board.
    pub fn add(&mut self, assessment: &Assessment<'_>) {
        self.boards.push(assessment.into());
    }

    /// Adds a file that could not be used.
    pub fn leave_out(&mut self, invalid_file: &InvalidFile) {
        self.invalid_files.push(invalid_file.into());
    }

    /// The report as one JSON document.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        to_text(self)
    }
}
