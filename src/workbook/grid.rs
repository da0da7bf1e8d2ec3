//! Cells, rows and sheets.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use crate::document::{DecimalMark, Source, Span};

/// A spreadsheet file.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Workbook {
    /// Its cells as one text, so that a place in it has a [`Span`] and, of a
    /// workbook, the name of its cell.
    pub source: Arc<Source>,
    /// Its sheets, in their order.
    pub sheets: Vec<Grid>,
}

/// One sheet: the rows in which there is anything.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Grid {
    /// Its name; a CSV file has none.
    pub name: Option<String>,
    /// The rows, in order.
    pub rows: Vec<GridRow>,
    /// The day before the one that a bare 1 stands for in a column of days; `None`
    /// of a CSV file, which does not say.
    pub epoch: Option<Date>,
    /// What stands before decimals in the cells of a CSV file, which are all text.
    pub decimal: Option<DecimalMark>,
}

/// A row of a sheet: the cells in which there is anything.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct GridRow {
    /// Its number, from 1.
    pub number: u32,
    /// Its cells, from left to right.
    pub cells: Vec<GridCell>,
    /// How many fields it has, empty ones too, in a CSV file.
    pub fields: Option<usize>,
}

/// A cell that is not empty.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct GridCell {
    /// Its column, from 0.
    pub column: u32,
    /// What is in it.
    pub value: Value,
    /// Where it stands. Cells that were merged all have the place of the first.
    pub span: Span,
    /// Whether it is covered by a merged cell that begins elsewhere.
    pub is_covered: bool,
}

/// What is in a cell.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Value {
    /// A number.
    Number(f64),
    /// A text, without blanks at its ends.
    Text(String),
    /// A day, as the spreadsheet program shows it. A time of day beside it is left
    /// out.
    Day(Date),
    /// A date or a time that is no day.
    Time(String),
    /// True or false.
    Truth(bool),
    /// An error, such as `#DIV/0!`.
    Error(String),
    /// A formula that no program has worked out yet.
    NoValue(String),
    /// What a cell shows that says of no kind that is known which it is.
    NoKind(String),
}

/// Digits that spreadsheet programs keep of a number: what is beyond is rounding.
/// Common practice (Excel's specifications and limits, from memory).
const DIGITS: usize = 15;

impl Value {
    /// As a person would write it: a number with a decimal point, a day as
    /// `2026-11-14`.
    pub fn text(&self) -> String {
        match self {
            Self::Number(number) => rounded(*number).to_string(),
            Self::Day(day) => day.to_string(),
            Self::Truth(true) => "TRUE".to_owned(),
            Self::Truth(false) => "FALSE".to_owned(),
            Self::Text(text)
            | Self::Time(text)
            | Self::Error(text)
            | Self::NoValue(text)
            | Self::NoKind(text) => text.clone(),
        }
    }
}

fn rounded(number: f64) -> f64 {
    let text = format!("{number:.*e}", DIGITS - 1);
    text.parse().unwrap_or(number)
}

impl GridRow {
    /// The cell in a column, from 0, if there is anything in it.
    pub fn cell(&self, column: u32) -> Option<&GridCell> {
        let at = self.cells.binary_search_by_key(&column, |cell| cell.column);
        self.cells.get(at.ok()?)
    }

    /// Where the row stands.
    pub fn span(&self) -> Span {
        match (self.cells.first(), self.cells.last()) {
            (Some(first), Some(last)) => first.span.to(last.span),
            _ => Span::default(),
        }
    }
}

/// The letters of a column, counted from 0.
///
/// ```
/// use ringrule::workbook::column_name;
///
/// assert_eq!([0, 5, 25, 26, 701, 702].map(column_name), ["A", "F", "Z", "AA", "ZZ", "AAA"]);
/// ```
pub fn column_name(column: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = column;
    loop {
        let letter = u8::try_from(rest % 26).unwrap_or_default();
        letters.push(char::from(b'A' + letter));
        if rest < 26 {
            break;
        }
        rest = rest / 26 - 1;
    }
    letters.iter().rev().collect()
}

/// Day 0 of the usual calendar, as it counts from March 1900 on: 1900 was no leap
/// year, but the calendar has its 29 February (ECMA-376, 18.17.4.1, from memory).
pub const EPOCH_1900: Date = jiff::civil::date(1899, 12, 30);

/// Day 0 of the calendar that begins in 1904 (the same clause).
const EPOCH_1904: Date = jiff::civil::date(1904, 1, 1);

/// A sheet as it comes out of a file: cells by row and column, both from 0, and
/// which of them were merged, first and last row and column.
#[derive(Default)]
pub(super) struct Loose {
    pub(super) name: String,
    pub(super) cells: BTreeMap<(u32, u32), Value>,
    pub(super) merged: Vec<((u32, u32), (u32, u32))>,
    /// Whether its calendar begins in 1904.
    pub(super) has_1904: bool,
}

impl Workbook {
    /// Gives every cell its place.
    pub(super) fn of(file: &str, sheets: Vec<Loose>) -> Self {
        let mut text = String::new();
        let mut names: Vec<(Span, Arc<str>)> = Vec::new();
        let mut grids = Vec::new();
        for loose in sheets {
            let Loose {
                name,
                cells,
                merged,
                has_1904,
            } = loose;
            let sheet = quoted(&name);
            let mut all: BTreeMap<(u32, u32), GridCell> = BTreeMap::new();
            for ((row, column), value) in cells {
                let start = text.len();
                text += &value.text();
                let span = Span {
                    start,
                    end: text.len(),
                };
                text.push('\n');
                let place = format!("{sheet}!{}{}", column_name(column), row + 1);
                names.push((span, place.into()));
                let cell = GridCell {
                    column,
                    value,
                    span,
                    is_covered: false,
                };
                all.insert((row, column), cell);
            }
            for (first, last) in merged {
                spread(&mut all, first, last);
            }
            let mut rows: Vec<GridRow> = Vec::new();
            for ((row, _), cell) in all {
                let number = row + 1;
                match rows.last_mut() {
                    Some(last) if last.number == number => last.cells.push(cell),
                    _ => rows.push(GridRow {
                        number,
                        cells: vec![cell],
                        fields: None,
                    }),
                }
            }
            grids.push(Grid {
                name: Some(name),
                rows,
                epoch: Some(if has_1904 { EPOCH_1904 } else { EPOCH_1900 }),
                decimal: None,
            });
        }
        Self {
            source: Arc::new(Source::new(file, text).with_cells(names)),
            sheets: grids,
        }
    }
}

/// Cells that merged ones may cover; more are decoration. House rule.
const MOST_COVERED: u32 = 10_000;

/// What is in a merged cell holds for all that it covers.
fn spread(cells: &mut BTreeMap<(u32, u32), GridCell>, first: (u32, u32), last: (u32, u32)) {
    let Some(own) = cells.get(&first).cloned() else {
        return;
    };
    let height = last.0.saturating_sub(first.0).saturating_add(1);
    let width = last.1.saturating_sub(first.1).saturating_add(1);
    if height.saturating_mul(width) > MOST_COVERED {
        return;
    }
    for row in first.0..=last.0 {
        for column in first.1..=last.1 {
            let copy = GridCell {
                column,
                is_covered: true,
                ..own.clone()
            };
            cells.entry((row, column)).or_insert(copy);
        }
    }
}

/// The name of a sheet as formulas write it.
fn quoted(name: &str) -> String {
    let plain = name.chars().all(|c| c.is_alphanumeric() || c == '_');
    if plain && !name.is_empty() {
        name.to_owned()
    } else {
        format!("'{}'", name.replace('\'', "''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_lose_what_only_rounding_added() {
        // Recomputed independently: 12.69 and its neighbour among the doubles.
        for (number, text) in [
            (12.69, "12.69"),
            (12.690_000_000_000_001, "12.69"),
            (8.0, "8"),
            (0.1 + 0.2, "0.3"),
            (107.003, "107.003"),
        ] {
            assert_eq!(Value::Number(number).text(), text);
        }
    }

    #[test]
    fn places_are_called_as_formulas_call_them() {
        let cells = BTreeMap::from([
            ((0, 0), Value::Text("board".to_owned())),
            ((6, 5), Value::Number(8.01)),
        ]);
        let sheet = |name: &str| Loose {
            name: name.to_owned(),
            cells: cells.clone(),
            merged: vec![((6, 5), (7, 6))],
            has_1904: false,
        };
        let book = Workbook::of("b.xlsx", vec![sheet("Sheet1"), sheet("Ann's sheet")]);
        let [first, second] = book.sheets.as_slice() else {
            panic!("two sheets");
        };
        let name = |grid: &Grid| {
            let last = grid.rows.last().expect("a row");
            assert_eq!((last.number, last.cells.len()), (8, 2));
            assert!(last.cells.iter().all(|cell| cell.is_covered));
            book.source.cell(last.span()).expect("a cell").to_string()
        };
        assert_eq!(name(first), "Sheet1!F7");
        assert_eq!(name(second), "'Ann''s sheet'!F7");
    }
}
