//! One person's filled sheet.

use std::sync::Arc;

use jiff::civil::Date;

use super::item::Item;
use crate::board::{Bearing, Edge, Mounting, Profile};
use crate::document::{Fault, InvalidFile, Problem, Source, Span};
use crate::units::{Instrument, Series, WireSize};

/// A filled sheet, read and checked.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Sheet {
    /// The file.
    pub source: Arc<Source>,
    /// The board's id.
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
    /// What they were taken with, but for rows that name another.
    pub instrument: Instrument,
    /// The rows that have readings.
    pub entries: Vec<Entry>,
    /// Where what the whole sheet lacks is said: its first row.
    pub(crate) head: Span,
}

/// The readings of one item.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Entry {
    /// What was measured.
    pub item: Item,
    /// Where around the board, if the row says.
    pub at: Option<Bearing>,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// What was read.
    pub value: EntryValue,
    /// What it was taken with.
    pub instrument: Instrument,
    /// Where the row begins.
    pub span: Span,
}

/// What was read of an item.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum EntryValue {
    /// Lengths, in mm.
    Readings(Series),
    /// A wire's gauge.
    Gauge(WireSize),
}

impl Entry {
    /// What was measured, and where if the row says.
    pub fn name(&self) -> String {
        name(self.item, self.at)
    }
}

/// An item, and where around the board if that is known.
pub(crate) fn name(item: Item, at: Option<Bearing>) -> String {
    match at {
        Some(at) => format!("{item} at {at}"),
        None => item.to_string(),
    }
}

impl Sheet {
    /// The instruments that the rows were taken with, each once, in the order of
    /// the rows.
    pub fn instruments(&self) -> Vec<&Instrument> {
        let mut instruments = Vec::new();
        for entry in &self.entries {
            if !instruments.contains(&&entry.instrument) {
                instruments.push(&entry.instrument);
            }
        }
        instruments
    }

    /// This sheet as a file that contradicts another.
    pub(super) fn fault(&self, span: Span, message: &str, remedy: &str) -> InvalidFile {
        let problem = Problem::new(Fault::Contradiction, span, message, remedy);
        InvalidFile::of(Arc::clone(&self.source), problem)
    }

    /// The same with a second place in the same file.
    pub(super) fn fault_with(
        &self,
        span: Span,
        message: &str,
        remedy: &str,
        (other, label): (Span, &str),
    ) -> InvalidFile {
        let problem = Problem::new(Fault::Contradiction, span, message, remedy);
        InvalidFile::of(Arc::clone(&self.source), problem.and(other, label))
    }
}

/// The first row of a text that is not blank.
pub(super) fn head(source: &Source) -> Span {
    let text = source.text();
    let start = text.len() - text.trim_start_matches(['\u{feff}', '\r', '\n', ' ']).len();
    let length = text.get(start..).and_then(|rest| rest.find(['\r', '\n']));
    Span {
        start,
        end: length.map_or(text.len(), |length| start + length),
    }
}

/// An item's rows, with the sheets that they are on.
pub(super) fn entries(sheets: &[Sheet], item: Item) -> Vec<(&Sheet, &Entry)> {
    let all = sheets
        .iter()
        .flat_map(|sheet| sheet.entries.iter().map(move |entry| (sheet, entry)));
    all.filter(|(_, entry)| entry.item == item).collect()
}
