//! The rows of a sheet that say something about the whole.

use std::collections::HashMap;

use jiff::civil::Date;

use super::sheet_columns::{Filled, with_unit};
use crate::board::usual::Ranges;
use crate::document::{Cell, CsvFormat, Fault, Located, Problem, Problems, Span, day, nearest};
use crate::units::{Instrument, Length, NotationFault, parse_length};

/// The facts that describe an instrument.
const OF_AN_INSTRUMENT: [&str; 3] = ["resolution", "max error", "calibrated"];

/// Facts as they are written, by the instrument that they describe and by their
/// names. What names no instrument is about the sheet, or its own instrument.
#[derive(Default)]
pub(super) struct Facts(HashMap<(Option<String>, String), Located<String>>);

impl Facts {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Takes note of a row.
    pub(super) fn add(
        &mut self,
        key: &str,
        name: &Cell,
        mut instrument: Option<&Cell>,
        filled: &[Filled<'_>],
        problems: &mut Problems,
    ) {
        let Some((value, unit)) = filled.first() else {
            return;
        };
        let mut problem = |fault, span, message, remedy| {
            problems.add(Problem::new(fault, span, message, remedy));
        };
        if let Some(cell) = instrument
            && !OF_AN_INSTRUMENT.contains(&key)
        {
            let message = format!(
                "`{key}` is not about an instrument, but here is `{}`",
                cell.text
            );
            let remedy = "leave the cell empty; an instrument is described by its resolution, max \
                          error and calibrated";
            problem(Fault::WrongKind, cell.span, message, remedy);
            instrument = None;
        }
        if let Some((extra, _)) = filled.get(1) {
            let message = format!("`{key}` takes one value");
            problem(Fault::OneOf, extra.span, message, "keep the first");
        }
        // A head such as `reading 1 (mm)` gives bare numbers their unit.
        let is_length = matches!(key, "resolution" | "max error");
        let text = with_unit((&value.text).into(), unit.filter(|_| is_length));
        let fact = Located {
            value: text.into_owned(),
            span: value.span,
        };
        let about = (instrument.map(|cell| cell.text.clone()), key.to_owned());
        if self.0.insert(about, fact).is_some() {
            let message = format!("`{key}` has two rows");
            problem(
                Fault::DuplicateKey,
                name.span,
                message,
                "keep one of the two",
            );
        }
    }

    pub(super) fn text(&self, key: &str) -> Option<String> {
        self.of(None, key).map(|fact| fact.value.clone())
    }

    fn of(&self, instrument: Option<&str>, key: &str) -> Option<&Located<String>> {
        self.0.get(&(instrument.map(str::to_owned), key.to_owned()))
    }

    /// A fact and its place.
    pub(super) fn get(&self, key: &str) -> Option<&Located<String>> {
        self.of(None, key)
    }

    /// A fact that no sheet is without; a missing one is reported at its end.
    pub(super) fn required(&self, key: &str, end: Span, problems: &mut Problems) -> Option<String> {
        let text = self.text(key);
        if text.is_none() {
            let message = format!("the sheet does not say its {key}");
            let remedy = format!("fill in the row `{key}`, in the first column for readings");
            problems.add(Problem::new(Fault::MissingKey, end, message, remedy));
        }
        text
    }

    /// One of several words.
    pub(super) fn word<T: Copy>(
        &self,
        key: &str,
        words: &[(&str, T)],
        problems: &mut Problems,
    ) -> Option<T> {
        let Located { value: text, span } = self.of(None, key)?;
        let found = words.iter().find(|(word, _)| *word == text.to_lowercase());
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let message = format!("`{text}` is not a {key}");
            let remedy = nearest(text, &known);
            problems.add(Problem::new(Fault::UnknownWord, *span, message, remedy));
        }
        found.map(|&(_, value)| value)
    }

    pub(super) fn date(&self, problems: &mut Problems) -> Option<Date> {
        day(self.of(None, "date")?, problems)
    }

    /// The sheet's own instrument: that of rows that name none.
    pub(super) fn instrument(&self, format: CsvFormat, problems: &mut Problems) -> Instrument {
        self.described(None, self.text("instrument"), format, problems)
    }

    /// The instruments that rows may name instead, as the sheet describes them,
    /// in the order of their names.
    pub(super) fn others(&self, format: CsvFormat, problems: &mut Problems) -> Vec<Instrument> {
        let mut names: Vec<&String> = self.0.keys().filter_map(|(of, _)| of.as_ref()).collect();
        names.sort_unstable();
        names.dedup();
        if let Some(own) = self.of(None, "instrument") {
            // Described with its name or without, but not both ways at once.
            if names.contains(&&own.value) {
                let message = format!("`{}` is the sheet's own instrument", own.value);
                let remedy = "leave the column `instrument` empty in the rows that describe it";
                problems.add(Problem::new(
                    Fault::Contradiction,
                    own.span,
                    message,
                    remedy,
                ));
            }
        }
        let names = names.into_iter();
        names
            .map(|name| self.described(Some(name), Some(name.clone()), format, problems))
            .collect()
    }

    fn described(
        &self,
        key: Option<&str>,
        name: Option<String>,
        format: CsvFormat,
        problems: &mut Problems,
    ) -> Instrument {
        let mut length = |what| length(what, self.of(key, what)?, format, problems);
        Instrument {
            name,
            resolution: length("resolution"),
            max_error: length("max error"),
            calibrated: self
                .of(key, "calibrated")
                .and_then(|text| day(text, problems)),
            ..Instrument::default()
        }
    }
}

fn length(
    key: &str,
    fact: &Located<String>,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<Length> {
    let Located { value: text, span } = fact;
    let text = format.with_point(text);
    let (fault, message, remedy) = match parse_length(text.trim_start_matches('±').trim_start()) {
        Ok(length) if Ranges::UNCERTAINTY.contains(length) => return Some(length),
        Ok(length) => (
            Fault::OutOfRange,
            format!("a {key} of {} mm is not possible", length.as_mm()),
            Ranges::UNCERTAINTY.words(),
        ),
        Err(fault) => {
            let remedy = match fault {
                NotationFault::NoUnit(_) => "add the unit, such as `0.01 mm`".to_owned(),
                _ => fault.remedy(),
            };
            (Fault::Notation, fault.to_string(), remedy)
        }
    };
    problems.add(Problem::new(fault, *span, message, remedy));
    None
}
