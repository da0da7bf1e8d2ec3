//! Which column of a sheet holds what.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};

use super::plan::COLUMNS;
use crate::document::{Cell, Fault, Problem, Problems, Row, nearest};
use crate::units::LengthUnit;

/// The columns of a sheet, as its first row names them.
pub(super) struct Columns {
    pub(super) item: usize,
    /// Where around the board a row was taken, on sheets that ask for places.
    pub(super) at: Option<usize>,
    pub(super) edge: Option<usize>,
    pub(super) unit: Option<usize>,
    /// Which instrument took a row, where it is not the sheet's own.
    pub(super) instrument: Option<usize>,
    pub(super) remark: Option<usize>,
    /// Columns of readings, with the unit that their head names.
    readings: Vec<(usize, Option<LengthUnit>)>,
}

/// A cell with a reading, and the unit that its column's head names.
pub(super) type Filled<'a> = (&'a Cell, Option<LengthUnit>);

impl Columns {
    /// `None` where the first row is not that of a sheet; the problems say why.
    pub(super) fn of(head: &Row, problems: &mut Problems) -> Option<Self> {
        let mut columns: HashMap<String, usize> = HashMap::new();
        let mut readings = Vec::new();
        let mut numbers = HashSet::new();
        let mut faults = Vec::new();
        for (index, cell) in head.cells().iter().enumerate() {
            let name = cell.text.to_lowercase();
            let twice = |remedy: &str| {
                let message = format!("the column `{}` is there twice", cell.text);
                Problem::new(Fault::DuplicateKey, cell.span, message, remedy)
            };
            if name.is_empty() {
                continue;
            }
            if let Some((number, unit)) = reading_column(&name) {
                let unit = unit.map(str::parse::<LengthUnit>).transpose();
                if let Err(fault) = &unit {
                    let remedy = fault.remedy();
                    let message = fault.to_string();
                    faults.push(Problem::new(Fault::Notation, cell.span, message, remedy));
                }
                if !numbers.insert(number.to_owned()) {
                    faults.push(twice("number the readings: `reading 1`, `reading 2`"));
                }
                readings.push((index, unit.ok().flatten()));
            } else if !COLUMNS.contains(&name.as_str()) {
                faults.push(unknown(
                    cell,
                    &name,
                    &[&COLUMNS[..], &["reading 1"]].concat(),
                ));
            } else if columns.insert(name, index).is_some() {
                faults.push(twice("keep one of the two"));
            }
        }
        let item = columns.get("item").copied();
        if faults.is_empty() && (item.is_none() || readings.is_empty()) {
            faults.push(Problem::new(
                Fault::MissingKey,
                head.span(),
                "the first row lacks a column `item` or a column for readings",
                "name the columns `item`, `edge`, `unit`, `reading 1`, `reading 2` …, in any order",
            ));
        }
        let sound = faults.is_empty();
        for fault in faults {
            problems.add(fault);
        }
        let item = item.filter(|_| sound)?;
        Some(Self {
            item,
            at: columns.get("at").copied(),
            edge: columns.get("edge").copied(),
            unit: columns.get("unit").copied(),
            instrument: columns.get("instrument").copied(),
            remark: columns.get("remark").copied(),
            readings,
        })
    }

    /// The readings of a row.
    pub(super) fn readings<'r>(&self, row: &'r Row) -> Vec<Filled<'r>> {
        let columns = self.readings.iter();
        columns
            .filter_map(|&(column, unit)| Some((row.cell(column)?, unit)))
            .collect()
    }
}

/// A bare number with the unit that its column or row names.
pub(super) fn with_unit(text: Cow<'_, str>, unit: Option<LengthUnit>) -> Cow<'_, str> {
    match unit {
        Some(unit) if text.ends_with(|c: char| c.is_ascii_digit()) => {
            format!("{text} {}", unit.symbol()).into()
        }
        _ => text,
    }
}

/// A column that there is not, with the known one that its name is nearest to.
pub(super) fn unknown(cell: &Cell, name: &str, known: &[&str]) -> Problem {
    let declare = |separator: &str| {
        format!(
            "the columns seem to be separated by another character: declare it with `--separator \
             {separator}`"
        )
    };
    let remedy = if name.contains(';') {
        declare("semicolon")
    } else if name.contains('\t') {
        declare("tab")
    } else {
        nearest(name, known)
    };
    let message = format!("there is no column `{}`", cell.text);
    Problem::new(Fault::UnknownKey, cell.span, message, remedy)
}

/// The number of a column for readings, which may be empty, and its unit in
/// brackets.
fn reading_column(head: &str) -> Option<(&str, Option<&str>)> {
    let rest = head.strip_prefix("reading")?;
    let (number, unit) = match rest.split_once('(') {
        Some((number, unit)) => (number, Some(unit.strip_suffix(')')?.trim())),
        None => (rest, None),
    };
    let number = number.trim();
    let sound = number.chars().all(|c| c.is_ascii_digit());
    sound.then_some((number, unit))
}
