//! Real-world CSV: any order of columns, separators and decimal commas where
//! they are declared, and a place for every cell.

use std::borrow::Cow;

use super::{Fault, Problem, Problems, Source, Span, budget};

/// What stands between two cells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Separator {
    /// `,`
    #[default]
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl Separator {
    /// The character.
    pub const fn character(self) -> char {
        match self {
            Self::Comma => ',',
            Self::Semicolon => ';',
            Self::Tab => '\t',
        }
    }
}

/// What stands before the decimals of a number.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DecimalMark {
    /// `.`
    #[default]
    Point,
    /// `,`
    Comma,
}

/// How a CSV file is written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct CsvFormat {
    /// Between cells.
    pub separator: Separator,
    /// Before decimals.
    pub decimal: DecimalMark,
}

impl CsvFormat {
    /// A number with a decimal point, whatever mark its file uses.
    pub(crate) fn with_point(self, number: &str) -> Cow<'_, str> {
        match self.decimal {
            DecimalMark::Comma => number.replacen(',', ".", 1).into(),
            DecimalMark::Point => number.into(),
        }
    }
}

/// A cell and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell {
    pub(crate) text: String,
    pub(crate) span: Span,
}

/// The cells of a row.
pub(crate) struct Row(Vec<Cell>);

impl Row {
    /// The cells, empty ones among them.
    pub(crate) fn cells(&self) -> &[Cell] {
        &self.0
    }

    /// The cell of a column, if there is anything in it.
    pub(crate) fn cell(&self, column: usize) -> Option<&Cell> {
        self.0.get(column).filter(|cell| !cell.text.is_empty())
    }

    /// Where the row stands.
    pub(crate) fn span(&self) -> Span {
        match (self.0.first(), self.0.last()) {
            (Some(first), Some(last)) => Span {
                start: first.span.start,
                end: last.span.end,
            },
            _ => Span::default(),
        }
    }

    /// Reports what stands in columns that the first row does not name, and a row
    /// that is longer than the first: nobody can say what is what.
    pub(crate) fn check_surplus(&self, head: &Self, problems: &mut Problems) {
        let before = self.0.iter().enumerate();
        let stray =
            before.filter(|(column, cell)| !cell.text.is_empty() && head.cell(*column).is_none());
        let mut is_said = false;
        for (_, cell) in stray {
            is_said = true;
            problems.add(Problem::new(
                Fault::UnknownKey,
                cell.span,
                format!(
                    "`{}` is in a column that the first row does not name",
                    cell.text
                ),
                "name the column in the first row, or empty the cell",
            ));
        }
        if !is_said && self.0.len() > head.0.len() {
            problems.add(self.of_other_length(head));
        }
    }

    /// Reports a row that is shorter than the first: what stands in it may belong
    /// into other columns.
    pub(crate) fn check_missing(&self, head: &Self, problems: &mut Problems) {
        if self.0.len() < head.0.len() {
            problems.add(self.of_other_length(head));
        }
    }

    fn of_other_length(&self, head: &Self) -> Problem {
        wrong_length(self.span(), self.0.len(), head.0.len())
    }
}

/// A row that has more fields than the one that names the columns, or fewer.
pub(crate) fn wrong_length(row: Span, fields: usize, named: usize) -> Problem {
    let plural = if fields == 1 { "" } else { "s" };
    let (fault, remedy) = if fields > named {
        (
            Fault::UnknownKey,
            "a comma in a number or a text makes two fields of it where commas stand between fields: \
             write `12.69`, or put the cell into quotation marks",
        )
    } else {
        (
            Fault::MissingKey,
            "give every row as many fields as the first row, empty ones too, or save the sheet anew",
        )
    };
    let message = format!("this row has {fields} field{plural}, and the first row names {named}");
    Problem::new(fault, row, message, remedy)
}

/// The rows of a file, blank ones left out.
pub(crate) fn csv_rows(source: &Source, format: CsvFormat, problems: &mut Problems) -> Vec<Row> {
    let text = source.text();
    if source.is_cut() {
        // What is left of it would be taken for all of it.
        problems.add(Problem::new(
            Fault::TooLarge,
            Span::default(),
            format!("the file has more than {} bytes", budget::BYTES),
            "split it, or leave rows out: nothing was read of it",
        ));
        return Vec::new();
    }
    if let Some(start) = text.find('\0') {
        let span = Span {
            start,
            end: start + 1,
        };
        // It would be a part of a cell, and nobody would see why that cannot be read.
        problems.add(Problem::new(
            Fault::Syntax,
            span,
            "this character (NUL) is no text",
            "remove it; if the file is full of them, save it as CSV in UTF-8",
        ));
        return Vec::new();
    }
    let start = if text.starts_with('\u{feff}') {
        '\u{feff}'.len_utf8()
    } else {
        0
    };
    let body = text.get(start..).unwrap_or_default();
    let separator = match format.separator {
        Separator::Comma => b',',
        Separator::Semicolon => b';',
        Separator::Tab => b'\t',
    };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(body.as_bytes());
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let span = Span { start, end: start };
                problems.add(Problem::new(
                    Fault::Syntax,
                    span,
                    format!("this is not CSV: {error}"),
                    "save the file as CSV in UTF-8",
                ));
                return rows;
            }
        };
        let at = record.position().map_or(0, csv::Position::byte);
        let at = start + usize::try_from(at).unwrap_or(0);
        let spans = spans(text, at, separator, problems);
        let cells = record.iter().enumerate().map(|(index, cell)| Cell {
            text: unguarded(cell.trim()).to_owned(),
            span: spans
                .get(index)
                .map_or(Span { start: at, end: at }, |&span| trimmed(text, span)),
        });
        let cells: Vec<Cell> = cells.collect();
        if cells.iter().any(|cell| !cell.text.is_empty()) {
            rows.push(Row(cells));
        }
    }
    rows
}

/// Takes off the apostrophe that keeps a spreadsheet from running a cell, and
/// only that one: `'t Hooft` is a name.
fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@', '\'']) => rest,
        _ => cell,
    }
}

/// A place without the blanks at its ends.
fn trimmed(text: &str, span: Span) -> Span {
    let cell = text.get(span.start..span.end).unwrap_or_default();
    let start = span.start + cell.len() - cell.trim_start().len();
    let end = start + cell.trim().len();
    Span { start, end }
}

/// Where the cells of the row that starts at a byte stand, quotes included.
fn spans(text: &str, at: usize, separator: u8, problems: &mut Problems) -> Vec<Span> {
    let mut spans = Vec::new();
    let mut start = at;
    let mut quoted = false;
    // Where the quotation of the cell ended.
    let mut closed = None;
    for (offset, &byte) in text.as_bytes().iter().enumerate().skip(at) {
        match byte {
            // A quotation mark within a cell that does not begin with one is
            // text: 5" is five inches.
            b'"' if offset == start => quoted = true,
            b'"' if quoted => (quoted, closed) = (false, Some(offset)),
            // Two of them stand for one.
            b'"' if closed.is_some_and(|end| end + 1 == offset) => (quoted, closed) = (true, None),
            _ if quoted => {}
            b'\n' | b'\r' => {
                // Blank lines before the row belong to nobody.
                if offset == start && spans.is_empty() {
                    start = offset + 1;
                    continue;
                }
                spans.push(Span { start, end: offset });
                return spans;
            }
            _ if byte == separator => {
                spans.push(Span { start, end: offset });
                (start, closed) = (offset + 1, None);
            }
            b' ' | b'\t' => {}
            // Programs read `"1"2` as 12, as 1, or not at all.
            _ => {
                if let Some(end) = closed.take() {
                    problems.add(Problem::new(
                        Fault::Syntax,
                        Span {
                            start: end,
                            end: end + 1,
                        },
                        "text follows the quotation mark that ends this cell",
                        "put the whole cell into quotation marks, and write one within it twice",
                    ));
                }
            }
        }
    }
    let end = text.len();
    spans.push(Span { start, end });
    if quoted {
        problems.add(Problem::new(
            Fault::Syntax,
            Span { start, end },
            "a quoted cell is never closed",
            "close it with a quotation mark; everything after it was taken for its text",
        ));
    }
    spans
}
