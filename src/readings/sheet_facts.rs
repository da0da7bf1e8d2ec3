//! The rows of a sheet that say something about the whole.

use std::collections::HashMap;

use jiff::civil::Date;

use super::sheet_columns::{Filled, with_unit};
use crate::board::usual::Ranges;
use crate::document::{Cell, CsvFormat, Fault, Located, Problem, Problems, Span, day, nearest};
use crate::units::{Instrument, Length, NotationFault, parse_length};

/// Facts by their names, as they are written.
#[derive(Default)]
pub(super) struct Facts(HashMap<String, Located<String>>);

impl Facts {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Takes note of a row.
    pub(super) fn add(
        &mut self,
        key: &str,
        name: &Cell,
        filled: &[Filled<'_>],
        problems: &mut Problems,
    ) {
        let Some((value, unit)) = filled.first() else {
            return;
        };
        let mut problem = |fault, span, message, remedy| {
            problems.add(Problem::new(fault, span, message, remedy));
        };
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
        if self.0.insert(key.to_owned(), fact).is_some() {
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
        self.0.get(key).map(|fact| fact.value.clone())
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
        let Located { value: text, span } = self.0.get(key)?;
        let found = words.iter().find(|(word, _)| *word == text.to_lowercase());
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let message = format!("`{text}` is not a {key}");
            let remedy = nearest(text, &known);
            problems.add(Problem::new(Fault::UnknownWord, *span, message, remedy));
        }
        found.map(|&(_, value)| value)
    }

    pub(super) fn date(&self, key: &str, problems: &mut Problems) -> Option<Date> {
        day(self.0.get(key)?, problems)
    }

    pub(super) fn instrument(&self, format: CsvFormat, problems: &mut Problems) -> Instrument {
        Instrument {
            name: self.text("instrument"),
            resolution: self.length("resolution", format, problems),
            max_error: self.length("max error", format, problems),
            calibrated: self.date("calibrated", problems),
            ..Instrument::default()
        }
    }

    fn length(&self, key: &str, format: CsvFormat, problems: &mut Problems) -> Option<Length> {
        let Located { value: text, span } = self.0.get(key)?;
        let text = format.with_point(text);
        let (fault, message, remedy) = match parse_length(text.trim_start_matches('±').trim_start())
        {
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
}
