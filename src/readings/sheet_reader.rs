//! The rows of a sheet, cell by cell.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use jiff::civil::Date;

use super::csv::{Cell, CsvFormat, DecimalMark};
use super::plan::{COLUMNS, FACTS, Item};
use super::sheet::{Entry, EntryValue, Sheet};
use crate::board::{Edge, Mounting, Profile, Ranges};
use crate::document::{Fault, Problem, Problems, Source, Span, nearest};
use crate::units::{
    Instrument, Length, LengthUnit, NotationFault, Series, parse_length, parse_wire,
};

/// Which column holds what.
struct Header {
    item: usize,
    edge: Option<usize>,
    unit: Option<usize>,
    /// Columns of readings, with the unit that their head names.
    readings: Vec<(usize, Option<LengthUnit>)>,
    /// Columns that have a head.
    headed: HashSet<usize>,
}

/// Reads the rows of one sheet, collecting what is wrong with them.
pub(super) struct Reader<'a> {
    format: CsvFormat,
    problems: &'a mut Problems,
    facts: HashMap<String, (String, Span)>,
    entries: Vec<Entry>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(format: CsvFormat, problems: &'a mut Problems) -> Self {
        Self {
            format,
            problems,
            facts: HashMap::new(),
            entries: Vec::new(),
        }
    }

    pub(super) fn problem(&mut self, fault: Fault, span: Span, message: String, remedy: &str) {
        self.problems
            .add(Problem::new(fault, span, message, remedy));
    }

    pub(super) fn rows(&mut self, header: &[Cell], rows: &[Vec<Cell>]) {
        let Some(header) = self.header(header) else {
            return;
        };
        for row in rows {
            self.row(&header, row);
        }
    }

    fn header(&mut self, cells: &[Cell]) -> Option<Header> {
        let mut columns: HashMap<String, usize> = HashMap::new();
        let mut readings = Vec::new();
        let mut numbers = HashSet::new();
        let mut headed = HashSet::new();
        let mut sound = true;
        for (index, cell) in cells.iter().enumerate() {
            let text = cell.text.to_lowercase();
            if text.is_empty() {
                continue;
            }
            headed.insert(index);
            if let Some(rest) = reading_column(&text) {
                let unit = rest
                    .split_once('(')
                    .map(|(_, unit)| unit.trim_end_matches(')').trim());
                let unit = match unit {
                    None => None,
                    Some("mm") => Some(LengthUnit::Mm),
                    Some("in") => Some(LengthUnit::In),
                    Some(other) => {
                        let fault = NotationFault::UnknownUnit(other.to_owned());
                        self.problem(
                            Fault::Notation,
                            cell.span,
                            fault.to_string(),
                            &fault.remedy(),
                        );
                        sound = false;
                        None
                    }
                };
                let number = rest.split('(').next().unwrap_or_default().trim().to_owned();
                if !numbers.insert(number) {
                    let message = format!("the column `{}` is there twice", cell.text);
                    let remedy = "number the readings: `reading 1`, `reading 2`";
                    self.problem(Fault::DuplicateKey, cell.span, message, remedy);
                    sound = false;
                }
                readings.push((index, unit));
            } else if !COLUMNS.contains(&text.as_str()) {
                let known = [&COLUMNS[..], &["reading 1"]].concat();
                let declare = |name: &str| {
                    format!(
                        "the columns seem to be separated by another character: declare it with \
                         `--separator {name}`"
                    )
                };
                let remedy = if text.contains(';') {
                    declare("semicolon")
                } else if text.contains('\t') {
                    declare("tab")
                } else {
                    nearest(&text, &known)
                };
                let message = format!("there is no column `{}`", cell.text);
                self.problem(Fault::UnknownKey, cell.span, message, &remedy);
                sound = false;
            } else if columns.insert(text, index).is_some() {
                let message = format!("the column `{}` is there twice", cell.text);
                self.problem(
                    Fault::DuplicateKey,
                    cell.span,
                    message,
                    "keep one of the two",
                );
                sound = false;
            }
        }
        let item = columns.get("item").copied();
        if sound && (item.is_none() || readings.is_empty()) {
            let span = cells.first().map(|cell| cell.span).unwrap_or_default();
            let message = "the first row lacks a column `item` or a column for readings";
            let remedy = "head the columns `item`, `edge`, `unit`, `reading 1`, `reading 2` …, in \
                          any order";
            self.problem(Fault::MissingKey, span, message.to_owned(), remedy);
            return None;
        }
        sound.then_some(Header {
            item: item?,
            edge: columns.get("edge").copied(),
            unit: columns.get("unit").copied(),
            readings,
            headed,
        })
    }

    fn row(&mut self, header: &Header, row: &[Cell]) {
        let cell = |index: Option<usize>| {
            let cell = index.and_then(|index| row.get(index));
            cell.filter(|cell| !cell.text.is_empty())
        };
        for (index, stray) in row.iter().enumerate() {
            if !stray.text.is_empty() && !header.headed.contains(&index) {
                let message = format!("`{}` stands in a column without a head", stray.text);
                let remedy = "head the column, such as `reading 4`, or empty the cell";
                self.problem(Fault::UnknownKey, stray.span, message, remedy);
            }
        }
        let filled: Vec<(&Cell, Option<LengthUnit>)> = header
            .readings
            .iter()
            .filter_map(|&(index, unit)| Some((cell(Some(index))?, unit)))
            .collect();
        let Some(name) = cell(Some(header.item)) else {
            if let Some((reading, _)) = filled.first() {
                let message = "this row has a reading but no item".to_owned();
                self.problem(Fault::MissingKey, reading.span, message, "name the item");
            }
            return;
        };
        let key = name.text.to_lowercase();
        if FACTS.contains(&key.as_str()) || key == "calibrated" {
            for stray in [cell(header.edge), cell(header.unit)].into_iter().flatten() {
                let message = format!("`{}` is no edge or unit of `{key}`", stray.text);
                let remedy = "write the value into the first column for readings";
                self.problem(Fault::WrongKind, stray.span, message, remedy);
            }
            self.fact(&key, name, &filled);
            return;
        }
        let Ok(item) = key.parse::<Item>() else {
            let items: Vec<String> = Item::all().map(|item| item.to_string()).collect();
            let known: Vec<&str> = items.iter().map(String::as_str).chain(FACTS).collect();
            let message = format!("there is no item `{}`", name.text);
            self.problem(
                Fault::UnknownWord,
                name.span,
                message,
                &nearest(&key, &known),
            );
            return;
        };
        if filled.is_empty() {
            return;
        }
        let edge = self.edge(item, name, cell(header.edge));
        let unit = cell(header.unit).map(|cell| {
            (
                cell,
                match cell.text.as_str() {
                    "mm" => Some(LengthUnit::Mm),
                    "in" => Some(LengthUnit::In),
                    _ => None,
                },
            )
        });
        if let Some((cell, None)) = unit {
            let fault = NotationFault::UnknownUnit(cell.text.clone());
            self.problem(
                Fault::Notation,
                cell.span,
                fault.to_string(),
                &fault.remedy(),
            );
            return;
        }
        if let Some((cell, Some(unit))) = unit
            && filled
                .iter()
                .any(|(_, head)| head.is_some_and(|head| head != unit))
        {
            let message = format!("the unit `{}` is not that of the readings' head", cell.text);
            let remedy = "name one unit: in the head, or in this cell";
            self.problem(Fault::Contradiction, cell.span, message, remedy);
            return;
        }
        let unit = unit.and_then(|(_, unit)| unit);
        let value = self.value(item, &filled, unit);
        if let Some(first) = self.entries.iter().find(|entry| entry.item == item) {
            let first = first.span;
            self.problems.add(
                Problem::new(
                    Fault::DuplicateKey,
                    name.span,
                    format!("`{item}` has two rows"),
                    "put all readings of an item into one row",
                )
                .and(first, "the first row"),
            );
        } else if let (Some(edge), Some(value)) = (edge, value) {
            self.entries.push(Entry {
                item,
                edge,
                value,
                span: name.span,
            });
        }
    }

    fn fact(&mut self, key: &str, name: &Cell, filled: &[(&Cell, Option<LengthUnit>)]) {
        let Some((value, unit)) = filled.first() else {
            return;
        };
        if let Some((extra, _)) = filled.get(1) {
            let message = format!("`{key}` takes one value");
            self.problem(Fault::OneOf, extra.span, message, "keep the first");
        }
        // A head such as `reading 1 (mm)` gives bare numbers their unit.
        let text = match unit {
            Some(unit)
                if matches!(key, "resolution" | "max error") && ends_in_digit(&value.text) =>
            {
                format!("{} {}", value.text, unit.symbol())
            }
            _ => value.text.clone(),
        };
        if self
            .facts
            .insert(key.to_owned(), (text, value.span))
            .is_some()
        {
            let message = format!("`{key}` has two rows");
            self.problem(
                Fault::DuplicateKey,
                name.span,
                message,
                "keep one of the two",
            );
        }
    }

    /// The edge of a row: `Some(None)` for an item without edges.
    #[allow(clippy::option_option)]
    fn edge(&mut self, item: Item, name: &Cell, cell: Option<&Cell>) -> Option<Option<Edge>> {
        let Some(cell) = cell else {
            if !item.has_edge() {
                return Some(None);
            }
            let message = format!("`{item}` does not say to which edge it was taken");
            let remedy = "write inside, outside or apex in the column `edge`";
            self.problem(Fault::MissingKey, name.span, message, remedy);
            return None;
        };
        let edge = Edge::ALL
            .into_iter()
            .find(|edge| edge.key() == cell.text.to_lowercase());
        match edge {
            Some(edge) if item.has_edge() => Some(Some(edge)),
            Some(_) => {
                let message = format!("`{item}` has no edge");
                self.problem(
                    Fault::Contradiction,
                    cell.span,
                    message,
                    "leave the cell empty",
                );
                None
            }
            None => {
                let message = format!("`{}` is no edge", cell.text);
                let remedy = nearest(&cell.text, &Edge::ALL.map(Edge::key));
                self.problem(Fault::UnknownWord, cell.span, message, &remedy);
                None
            }
        }
    }

    fn value(
        &mut self,
        item: Item,
        filled: &[(&Cell, Option<LengthUnit>)],
        row_unit: Option<LengthUnit>,
    ) -> Option<EntryValue> {
        if let ([(cell, _)], true) = (filled, item.is_wire())
            && let Ok(size) = parse_wire(&cell.text)
            && size.gauge.is_some()
        {
            return Some(EntryValue::Gauge(size));
        }
        let lengths: Vec<Option<f64>> = filled
            .iter()
            .map(|(cell, head_unit)| self.reading(item, cell, head_unit.or(row_unit)))
            .collect();
        let lengths: Option<Vec<f64>> = lengths.into_iter().collect();
        Series::new(lengths?).map(EntryValue::Readings)
    }

    /// One cell as a length in mm.
    fn reading(&mut self, item: Item, cell: &Cell, unit: Option<LengthUnit>) -> Option<f64> {
        if self.format.decimal == DecimalMark::Comma && cell.text.contains('.') {
            let message = format!(
                "`{}` has a point, and the decimal mark is the comma",
                cell.text
            );
            let remedy = "write `8,01`, and nothing between thousands";
            self.problem(Fault::Notation, cell.span, message, remedy);
            return None;
        }
        let text = match self.format.decimal {
            DecimalMark::Comma => cell.text.replacen(',', ".", 1),
            DecimalMark::Point => cell.text.clone(),
        };
        let with_unit = match unit {
            Some(unit) if ends_in_digit(&text) => format!("{text} {}", unit.symbol()),
            _ => text,
        };
        let range = Ranges::of(item.0);
        let length = if item.is_wire() {
            parse_wire(&with_unit).map(|size| size.width)
        } else {
            parse_length(&with_unit)
        };
        let fault = match length {
            Ok(length) if range.contains(length) => return Some(length.as_mm()),
            Ok(length) => {
                let message = format!("{} mm is no length of `{item}`", length.as_mm());
                self.problem(Fault::OutOfRange, cell.span, message, &range.words());
                return None;
            }
            Err(fault) => fault,
        };
        let remedy = match &fault {
            NotationFault::DecimalComma(_) => {
                format!("{}, or declare `--decimal comma`", fault.remedy())
            }
            NotationFault::NoUnit(text) => format!(
                "name the unit in the column `unit`, in the head (`reading 1 (mm)`) or in the \
                 cell (`{text} mm`)"
            ),
            _ => fault.remedy(),
        };
        self.problem(Fault::Notation, cell.span, fault.to_string(), &remedy);
        None
    }

    fn required(&mut self, key: &str, end: Span) -> Option<(String, Span)> {
        let value = self.facts.get(key).cloned();
        if value.is_none() {
            let message = format!("the sheet does not say its {key}");
            let remedy = format!("fill in the row `{key}`, in the first column for readings");
            self.problem(Fault::MissingKey, end, message, &remedy);
        }
        value
    }

    fn fact_length(&mut self, key: &str) -> Option<Length> {
        let (text, span) = self.facts.get(key).cloned()?;
        let text = match self.format.decimal {
            DecimalMark::Comma => text.replacen(',', ".", 1),
            DecimalMark::Point => text,
        };
        match parse_length(text.trim_start_matches('±').trim_start()) {
            Ok(length) if length >= Length::ZERO && length.as_mm() <= 5.0 => Some(length),
            Ok(length) => {
                let message = format!("{length:.3} is no {key} of an instrument for this work");
                self.problem(Fault::OutOfRange, span, message, "check the unit");
                None
            }
            Err(fault) => {
                let remedy = match fault {
                    NotationFault::NoUnit(_) => "add the unit, such as `0.01 mm`".to_owned(),
                    _ => fault.remedy(),
                };
                self.problem(Fault::Notation, span, fault.to_string(), &remedy);
                None
            }
        }
    }

    fn fact_date(&mut self, key: &str) -> Option<Date> {
        let (text, span) = self.facts.get(key).cloned()?;
        let date = text
            .parse::<Date>()
            .ok()
            .filter(|date| date.to_string() == text);
        if date.is_none() {
            let message = format!("`{text}` is not a day");
            let remedy = "write year, month and day, such as `2026-11-14`";
            self.problem(Fault::Notation, span, message, remedy);
        }
        date
    }

    fn fact_word<T: Copy>(&mut self, key: &str, words: &[(&str, T)]) -> Option<T> {
        let (text, span) = self.facts.get(key).cloned()?;
        let found = words.iter().find(|(word, _)| *word == text.to_lowercase());
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            let message = format!("`{text}` is no {key}");
            self.problem(Fault::UnknownWord, span, message, &nearest(&text, &known));
        }
        found.map(|&(_, value)| value)
    }

    pub(super) fn finish(mut self, source: &Arc<Source>) -> Option<Sheet> {
        if !self.problems.is_empty() && self.facts.is_empty() && self.entries.is_empty() {
            // The header was not understood: everything else would be noise.
            return None;
        }
        let length = source.text().trim_end().len();
        let end = Span {
            start: length,
            end: length,
        };
        let board = self.required("board", end);
        let inspector = self.required("inspector", end);
        self.required("mounting", end);
        let mounting = self.fact_word("mounting", &Mounting::ALL.map(|m| (m.key(), m)));
        let profiles = [Profile::Round, Profile::Strip].map(|p| (p.key(), p));
        let profile = self.fact_word("profile", &profiles);
        let instrument = Instrument {
            name: self.facts.get("instrument").map(|(name, _)| name.clone()),
            resolution: self.fact_length("resolution"),
            max_error: self.fact_length("max error"),
            calibrated: self.fact_date("calibrated"),
        };
        let date = self.fact_date("date");
        if self.entries.is_empty() && self.problems.is_empty() {
            let message = "the sheet has no readings".to_owned();
            self.problem(Fault::MissingKey, end, message, "fill in at least one row");
        }
        let mounting = mounting?;
        Some(Sheet {
            source: Arc::clone(source),
            board: board?.0,
            name: self.facts.get("name").map(|(name, _)| name.clone()),
            mounting,
            profile: profile.unwrap_or(mounting.usual_profile()),
            inspector: inspector?.0,
            date,
            instrument,
            entries: self.entries,
        })
    }
}

fn ends_in_digit(text: &str) -> bool {
    text.ends_with(|c: char| c.is_ascii_digit())
}

/// What follows `reading` in the head of a column for readings: nothing or a
/// number, and a unit in brackets.
fn reading_column(head: &str) -> Option<&str> {
    let rest = head.strip_prefix("reading")?;
    let number = rest.split('(').next().unwrap_or_default().trim();
    let closed = !rest.contains('(') || rest.ends_with(')');
    (closed && number.chars().all(|c| c.is_ascii_digit())).then_some(rest)
}
