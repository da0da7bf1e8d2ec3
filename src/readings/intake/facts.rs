//! What a row says of its board and of who measured it.

use std::collections::BTreeMap;

use jiff::ToSpan;
use jiff::civil::Date;

use super::columns::FactColumn;
use crate::board::usual::Ranges;
use crate::board::{Mounting, Profile};
use crate::document::{DayOrder, Fault, Located, Problem, Problems, Span, local_day, nearest};
use crate::units::{Length, LengthUnit, NotationFault, parse_length};
use crate::workbook::Value;

/// A cell of a column of facts.
pub(super) struct FactCell {
    pub(super) value: Value,
    /// The value as text, with a decimal point.
    pub(super) text: String,
    pub(super) span: Span,
    /// The unit of a bare number.
    pub(super) unit: Option<LengthUnit>,
}

/// The facts of a row.
#[derive(Default)]
pub(super) struct RowFacts(BTreeMap<FactColumn, FactCell>);

/// Days that a bare number stands for; others are something else. House rule: from
/// 2000 to 2099.
const SERIALS: std::ops::Range<Date> = jiff::civil::date(2000, 1, 1)..jiff::civil::date(2100, 1, 1);

impl RowFacts {
    pub(super) fn add(&mut self, fact: FactColumn, cell: FactCell) {
        self.0.insert(fact, cell);
    }

    pub(super) fn get(&self, fact: FactColumn) -> Option<&FactCell> {
        self.0.get(&fact)
    }

    pub(super) fn text(&self, fact: FactColumn) -> Option<Located<String>> {
        let cell = self.get(fact)?;
        Some(Located {
            value: cell.text.clone(),
            span: cell.span,
        })
    }

    /// How the spider is held, if the row says.
    pub(super) fn mounting(&self, problems: &mut Problems) -> Option<Located<Mounting>> {
        let words = Mounting::ALL.map(|mounting| (mounting.key(), mounting));
        self.word(FactColumn::Mounting, &words, problems)
    }

    /// The cross-section of the wires, if the row says.
    pub(super) fn profile(&self, problems: &mut Problems) -> Option<Located<Profile>> {
        let words = Profile::ALL.map(|profile| (profile.key(), profile));
        self.word(FactColumn::Profile, &words, problems)
    }

    /// The unit of bare numbers.
    pub(super) fn unit(&self, problems: &mut Problems) -> Option<LengthUnit> {
        let words = [LengthUnit::Mm, LengthUnit::In].map(|unit| (unit.symbol(), unit));
        let unit = self.word(FactColumn::Units, &words, problems)?;
        Some(unit.value)
    }

    fn word<T: Copy>(
        &self,
        fact: FactColumn,
        words: &[(&str, T)],
        problems: &mut Problems,
    ) -> Option<Located<T>> {
        let FactCell { text, span, .. } = self.get(fact)?;
        let lower = text.to_lowercase();
        let found = words.iter().find(|(word, _)| *word == lower);
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let message = format!("`{text}` is not a word for `{}`", fact.head());
            let remedy = nearest(text, &known);
            problems.add(Problem::new(Fault::UnknownWord, *span, message, remedy));
        }
        found.map(|&(_, value)| Located { value, span: *span })
    }

    /// A day, as the spreadsheet program keeps it or as somebody wrote it.
    pub(super) fn day(
        &self,
        fact: FactColumn,
        days: Days,
        problems: &mut Problems,
    ) -> Option<Date> {
        let cell = self.get(fact)?;
        let serial = match &cell.value {
            Value::Day(day) => return Some(*day),
            Value::Number(number) => Some(*number),
            // A number in CSV is a text.
            _ => cell.text.parse::<f64>().ok(),
        };
        let Some(serial) = serial else {
            return local_day(&self.text(fact)?, days.order, problems);
        };
        let whole = libm::floor(serial);
        let date = days.epoch.and_then(|epoch| {
            // Far below 2^31: the range is looked at next.
            #[allow(clippy::cast_possible_truncation)]
            let count = (whole.abs() < 1e6).then_some(whole as i32)?;
            let date = epoch.checked_add(count.days()).ok()?;
            SERIALS.contains(&date).then_some(date)
        });
        if date.is_none() {
            let message = format!("`{}` is a number and not a day", cell.text);
            let mut remedy = "write the day, such as `2026-11-14`".to_owned();
            if days.epoch.is_none() {
                remedy += ", or declare with `--serial-dates` that numbers are days";
            }
            let problem = Problem::new(Fault::Notation, cell.span, message, remedy);
            problems.add(problem);
        }
        date
    }

    /// The resolution or the permissible error of an instrument.
    pub(super) fn length(&self, fact: FactColumn, problems: &mut Problems) -> Option<Length> {
        let cell = self.get(fact)?;
        let text = cell.text.trim_start_matches('±').trim_start();
        let bare = text.ends_with(|c: char| c.is_ascii_digit());
        let text = match cell.unit {
            Some(unit) if bare => format!("{text} {}", unit.symbol()),
            _ => text.to_owned(),
        };
        let (fault, message, remedy) = match parse_length(&text) {
            Ok(length) if Ranges::UNCERTAINTY.contains(length) => return Some(length),
            Ok(length) => (
                Fault::OutOfRange,
                format!("a {} of {} mm is not possible", fact.head(), length.as_mm()),
                Ranges::UNCERTAINTY.words(),
            ),
            Err(fault) => {
                let fault = fault.of_cell(&cell.text);
                let remedy = match fault {
                    NotationFault::NoUnit(_) => {
                        "add the unit in the cell, such as `0.01 mm`, or in the head".to_owned()
                    }
                    NotationFault::DecimalComma(_) => {
                        format!("{}, or declare `--decimal comma`", fault.remedy())
                    }
                    _ => fault.remedy(),
                };
                (Fault::Notation, fault.to_string(), remedy)
            }
        };
        problems.add(Problem::new(fault, cell.span, message, remedy));
        None
    }

    /// The year in which the board was made.
    pub(super) fn made(&self, problems: &mut Problems) -> Option<Located<u16>> {
        let FactCell { text, span, .. } = self.get(FactColumn::Made)?;
        let year = text
            .parse::<u16>()
            .ok()
            .filter(|year| (1850..=2200).contains(year));
        if year.is_none() {
            let message = format!("`{text}` is not a year in which a board was made");
            let remedy = "write the year alone, such as `2011`";
            problems.add(Problem::new(Fault::Notation, *span, message, remedy));
        }
        year.map(|value| Located { value, span: *span })
    }
}

/// How days are written in a sheet.
#[derive(Clone, Copy)]
pub(super) struct Days {
    pub(super) order: Option<DayOrder>,
    /// Day 0 of bare numbers, where they are days.
    pub(super) epoch: Option<Date>,
}
