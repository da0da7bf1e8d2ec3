//! One person's filled sheet.

use std::sync::Arc;

use jiff::civil::Date;

use super::csv::{CsvFormat, rows};
use super::plan::Item;
use super::sheet_reader::Reader;
use crate::board::{Edge, Mounting, Profile};
use crate::document::{Fault, InvalidFile, Problem, Problems, Source, Span};
use crate::units::{Instrument, Series, WireSize};

/// A filled sheet, read and checked.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The file.
    pub source: Arc<Source>,
    /// The board's inventory mark.
    pub board: String,
    /// Where it hangs, or what people call it.
    pub name: Option<String>,
    /// How the spider is held.
    pub mounting: Mounting,
    /// The cross-section of the wires.
    pub profile: Profile,
    /// Who took the readings.
    pub inspector: String,
    /// The day.
    pub date: Option<Date>,
    /// What they were taken with.
    pub instrument: Instrument,
    /// The rows that have readings.
    pub entries: Vec<Entry>,
}

/// The readings of one item.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// What was measured.
    pub item: Item,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// What was read.
    pub value: EntryValue,
    /// Where the row begins.
    pub span: Span,
}

/// What was read of an item.
#[derive(Clone, Debug, PartialEq)]
pub enum EntryValue {
    /// Lengths, in mm.
    Readings(Series),
    /// A wire's gauge.
    Gauge(WireSize),
}

impl Sheet {
    /// Reads a filled sheet, or says everything that is wrong with it. Rows
    /// without readings are left out: that is how a person skips one.
    pub fn read(source: Source, format: CsvFormat) -> Result<Self, InvalidFile> {
        let source = Arc::new(source);
        let mut problems = Problems::default();
        let rows = rows(&source, format, &mut problems);
        let mut reader = Reader::new(format, &mut problems);
        let end = source.text().len();
        match rows.split_first() {
            Some((header, rows)) => reader.rows(header, rows),
            None => reader.problem(
                Fault::Syntax,
                Span { start: end, end },
                "the sheet is empty".to_owned(),
                "`ringrule worksheet` makes a sheet to fill in",
            ),
        }
        let sheet = reader.finish(&source);
        problems.into_result(&source)?;
        // Without problems nothing that is required is absent.
        sheet.ok_or_else(|| {
            let span = Span { start: end, end };
            let problem = Problem::new(Fault::MissingKey, span, "this sheet is incomplete", "");
            InvalidFile::of(source, problem)
        })
    }

    /// The head row: where what the whole sheet lacks is said.
    pub(crate) fn head(&self) -> Span {
        let text = self.source.text();
        let start = text.len() - text.trim_start_matches(['\u{feff}', '\r', '\n', ' ']).len();
        let length = text.get(start..).and_then(|rest| rest.find(['\r', '\n']));
        Span {
            start,
            end: length.map_or(text.len(), |length| start + length),
        }
    }
}
