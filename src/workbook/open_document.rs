//! What the cells of an open document hold, as its own text has it.
//!
//! Its reader makes every repeated cell anew, fills the rectangle between the outermost ones,
//! and leaves out what has no value of a kind that it knows. So this is asked before: how
//! much it would make of the sheets, and which cells show something that it would lose.

use std::borrow::Cow;

use super::grid::Value;
use super::nesting::Nesting;
use super::open::{CELLS, Refused, TEXT, broken};

/// A sheet of an open document.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Sketch {
    pub(super) name: String,
    /// Cells that show something of which the reader knows no value: row and column from 0.
    pub(super) unread: Vec<((u32, u32), Value)>,
}

/// What is open while the tags of a document go by.
#[derive(Default)]
struct Sketches {
    sheets: Vec<Sketch>,
    in_sheet: bool,
    /// The next row, and how often the one that is open is repeated.
    row: u64,
    times: u64,
    /// The next column.
    column: u64,
    cell: Option<OpenCell>,
    /// How deep in remarks on a cell.
    remarks: usize,
    extent: Extent,
    /// Bytes of text that repeated cells come to.
    text: u64,
    /// Cells of the sheets before.
    cells: u64,
    /// Cells that are made of rows before they are repeated, and how many of them in this.
    made: u64,
    of_row: u64,
}

/// The cells of a sheet in which there is anything.
#[derive(Clone, Copy, Default)]
struct Extent {
    rows: Option<(u64, u64)>,
    columns: Option<(u64, u64)>,
}

impl Extent {
    fn take_in(&mut self, rows: (u64, u64), columns: (u64, u64)) {
        let joined = |own: Option<(u64, u64)>, (from, to): (u64, u64)| match own {
            Some((first, last)) => Some((first.min(from), last.max(to))),
            None => Some((from, to)),
        };
        self.rows = joined(self.rows, rows);
        self.columns = joined(self.columns, columns);
    }

    fn area(self) -> u64 {
        let length = |range: Option<(u64, u64)>| range.map_or(0, |(from, to)| to - from);
        length(self.rows).saturating_mul(length(self.columns))
    }
}

struct OpenCell {
    has_value: bool,
    formula: Option<String>,
    times: u64,
    text: String,
    /// Bytes of text in its attributes.
    length: usize,
}

/// The sheets of `content.xml`.
pub(super) fn sketches(content: &str) -> Result<Vec<Sketch>, Refused> {
    let mut all = Sketches::default();
    let mut nesting = Nesting::default();
    let mut rest = content;
    while let Some(begin) = rest.find('<') {
        let (text, from) = rest.split_at(begin);
        all.text(text);
        let whole = |start: &str, end: &str| {
            let body = from.strip_prefix(start)?;
            Some(body.split_once(end).unwrap_or((body, "")))
        };
        rest = if let Some((_, rest)) = whole("<!--", "-->").or_else(|| whole("<?", "?>")) {
            rest
        } else if let Some((text, rest)) = whole("<![CDATA[", "]]>") {
            all.text(text);
            rest
        } else {
            let (tag, rest) = tag(from.get(1..).unwrap_or_default());
            nesting.pass(tag)?;
            all.tag(tag)?;
            rest
        };
    }
    nesting.end()?;
    Ok(all.sheets)
}

/// A tag up to its `>`, which may also stand in the quotes of an attribute.
fn tag(text: &str) -> (&str, &str) {
    if text.starts_with('/') {
        // An end has no attributes.
        return text.split_once('>').unwrap_or((text, ""));
    }
    let mut quote = None;
    for (at, byte) in text.bytes().enumerate() {
        match (quote, byte) {
            (None, b'>') => {
                let part = |range: Option<_>| range.unwrap_or_default();
                return (part(text.get(..at)), part(text.get(at + 1..)));
            }
            (None, b'"' | b'\'') => quote = Some(byte),
            (Some(open), _) if open == byte => quote = None,
            _ => {}
        }
    }
    (text, "")
}

/// The attributes of a tag.
fn attributes(tag: &str) -> impl Iterator<Item = (&str, &str)> {
    let mut rest = tag
        .split_once(char::is_whitespace)
        .map_or("", |(_, rest)| rest);
    std::iter::from_fn(move || {
        let (name, from) = rest.split_once('=')?;
        let from = from.trim_start();
        let quote = from.chars().next().filter(|c| matches!(c, '"' | '\''))?;
        let (value, after) = from.get(1..)?.split_once(quote)?;
        rest = after;
        Some((name.trim(), value))
    })
}

fn times(tag: &str, name: &str) -> Result<u64, Refused> {
    let found = attributes(tag).find(|(own, _)| *own == name);
    found.map_or(Ok(1), |(_, count)| {
        let count = unescaped(count);
        let parsed = count.trim().parse();
        parsed.map_err(|_| broken(format!("`{name}` is `{}`", super::guard::shortened(&count))))
    })
}

/// A text with the five entities of XML as what they stand for; what is another stays.
fn unescaped(text: &str) -> Cow<'_, str> {
    if !text.contains('&') {
        return Cow::Borrowed(text);
    }
    let entities = [
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&apos;", "'"),
    ];
    let text = entities
        .iter()
        .fold(text.to_owned(), |text, (from, to)| text.replace(from, to));
    Cow::Owned(text.replace("&amp;", "&"))
}

impl Sketches {
    fn text(&mut self, text: &str) {
        if let Some(cell) = self.cell.as_mut().filter(|_| self.remarks == 0) {
            cell.text.push_str(text);
        }
    }

    fn tag(&mut self, tag: &str) -> Result<(), Refused> {
        let is_closed = tag.ends_with('/');
        let name = tag.split(|c: char| c.is_whitespace() || c == '/' && !tag.starts_with('/'));
        match { name }.next().unwrap_or_default() {
            "table:table" if !self.in_sheet => {
                let name = attributes(tag).find(|(own, _)| *own == "table:name");
                self.in_sheet = !is_closed;
                self.sheets.push(Sketch {
                    name: unescaped(name.map_or("", |(_, name)| name)).into_owned(),
                    unread: Vec::new(),
                });
                (self.row, self.extent) = (0, Extent::default());
            }
            "/table:table" => {
                self.in_sheet = false;
                self.cells = self.cells.saturating_add(self.extent.area());
                self.extent = Extent::default();
            }
            "table:table-row" if self.in_sheet => {
                self.times = times(tag, "table:number-rows-repeated")?;
                (self.column, self.of_row) = (0, 0);
                if is_closed {
                    self.row = self.row.saturating_add(self.times);
                }
            }
            "/table:table-row" if self.in_sheet => self.row = self.row.saturating_add(self.times),
            "table:table-cell" | "table:covered-table-cell" if self.in_sheet => {
                self.cell = Some(open_cell(tag)?);
                self.remarks = 0;
                if is_closed {
                    self.close()?;
                }
            }
            "/table:table-cell" | "/table:covered-table-cell" => self.close()?,
            "office:annotation" if !is_closed => self.remarks += 1,
            "/office:annotation" => self.remarks = self.remarks.saturating_sub(1),
            _ => {}
        }
        Ok(())
    }

    fn close(&mut self) -> Result<(), Refused> {
        let Some(cell) = self.cell.take() else {
            return Ok(());
        };
        let (row, column) = (self.row, self.column);
        let end = column.saturating_add(cell.times);
        self.column = end;
        let text = unescaped(cell.text.trim());
        let unread = !cell.has_value && (cell.formula.is_some() || !text.is_empty());
        if !cell.has_value && !unread {
            return Ok(());
        }
        let bottom = row.saturating_add(self.times);
        self.extent.take_in((row, bottom), (column, end));
        let count = cell.times.saturating_mul(self.times);
        let length = u64::try_from(cell.length + cell.text.len()).unwrap_or(u64::MAX);
        self.text = self.text.saturating_add(length.saturating_mul(count));
        self.made = self.made.saturating_add(end - self.of_row);
        self.of_row = end;
        if self.cells.saturating_add(self.extent.area()).max(self.made) > CELLS {
            return Err(Refused::Spans);
        }
        if self.text > TEXT {
            return Err(Refused::Text);
        }
        if let (true, Some(sheet)) = (unread, self.sheets.last_mut()) {
            let value = match cell.formula {
                Some(formula) => Value::NoValue(format!("={formula}")),
                None => Value::NoKind(text.into_owned()),
            };
            for row in row..bottom {
                for column in column..end {
                    if let (Ok(row), Ok(column)) = (u32::try_from(row), u32::try_from(column)) {
                        sheet.unread.push(((row, column), value.clone()));
                    }
                }
            }
        }
        Ok(())
    }
}

/// Attributes that hold a value which the reader takes.
const VALUES: [&str; 5] = [
    "office:value",
    "office:string-value",
    "office:date-value",
    "office:time-value",
    "office:boolean-value",
];

fn open_cell(tag: &str) -> Result<OpenCell, Refused> {
    let mut cell = OpenCell {
        has_value: false,
        formula: None,
        times: times(tag, "table:number-columns-repeated")?,
        text: String::new(),
        length: 0,
    };
    for (name, value) in attributes(tag) {
        cell.has_value |= VALUES.contains(&name);
        if matches!(name, "office:string-value" | "table:formula") {
            cell.length += value.len();
        }
        match (name, value) {
            // What is shown is the value of a text, and says which error it is.
            ("office:value-type", "string") | ("calcext:value-type", "error") => {
                cell.has_value = true;
            }
            ("table:formula", formula) => {
                let formula = unescaped(formula).into_owned();
                // Which language it is in stands before it: `of:=SUM(…)`.
                let plain = formula.split_once('=').map(|(_, own)| own.to_owned());
                cell.formula = Some(plain.unwrap_or(formula));
            }
            _ => {}
        }
    }
    Ok(cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(rows: &str) -> Result<Vec<Sketch>, Refused> {
        sketches(&format!(
            "<?xml version=\"1.0\"?><!-- <table:table> --><table:table table:name=\"A &amp; B\">{rows}\
             </table:table>"
        ))
    }

    fn unread(rows: &str) -> Vec<((u32, u32), String)> {
        let Ok(sheets) = sheet(rows) else {
            panic!("read");
        };
        let [one] = sheets.as_slice() else {
            panic!("one sheet");
        };
        assert_eq!(one.name, "A & B");
        let cells = one.unread.iter();
        cells.map(|(place, value)| (*place, value.text())).collect()
    }

    #[test]
    fn cells_without_a_value_are_found_where_they_stand() {
        let rows = "<table:table-row table:number-rows-repeated=\"3\"><table:table-cell/>\
                    </table:table-row><table:table-row>\
                    <table:table-cell table:number-columns-repeated='2' office:value='1'/>\
                    <table:table-cell table:formula=\"of:=[.A1]&gt;2\"/>\
                    <table:table-cell office:value-type=\"wobble\"><office:annotation><text:p>no\
                    </text:p></office:annotation><text:p>8.01</text:p></table:table-cell>\
                    <table:table-cell office:value-type=\"string\"><text:p>x</text:p>\
                    </table:table-cell><table:table-cell><office:annotation><text:p>no</text:p>\
                    </office:annotation></table:table-cell></table:table-row>";
        assert_eq!(
            unread(rows),
            [((3, 2), "=[.A1]>2".to_owned()), ((3, 3), "8.01".to_owned())]
        );
    }

    #[test]
    fn what_repeated_cells_come_to_is_bounded_before_they_are_made() {
        let row = |times: u64, inside: &str| {
            format!(
                "<table:table-row table:number-rows-repeated=\"{times}\">{inside}</table:table-row>"
            )
        };
        let one = "<table:table-cell office:value=\"8\"/>";
        assert!(sheet(&row(CELLS, one)).is_ok());
        assert!(matches!(sheet(&row(CELLS + 1, one)), Err(Refused::Spans)));
        // Empty rows at the end are decoration, and between two cells they are made.
        let empty = row(1_000_000, "<table:table-cell/>");
        assert!(sheet(&(row(1, one) + &empty)).is_ok());
        let between = row(1, one) + &empty + &row(1, one);
        assert!(matches!(sheet(&between), Err(Refused::Spans)));
        // Each of these has one cell, far to the right.
        let far = "<table:table-cell table:number-columns-repeated=\"9999\"/>".to_owned() + one;
        assert!(sheet(&row(1, &far).repeat(50)).is_ok());
        assert!(matches!(
            sheet(&row(1, &far).repeat(51)),
            Err(Refused::Spans)
        ));
        let long = format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{}</text:p></table:table-cell>",
            "x".repeat(1000)
        );
        assert!(matches!(sheet(&row(100_000, &long)), Err(Refused::Text)));
        assert!(
            sheet(&row(
                1,
                &one.replace("/>", " table:number-columns-repeated=\"-1\"/>")
            ))
            .is_err()
        );
    }
}
