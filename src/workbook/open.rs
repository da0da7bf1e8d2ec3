//! XLSX and ODS files, through `calamine`.

use std::fmt::Display;
use std::io::Cursor;

use calamine::{Data, ExcelDateTime, Ods, Reader, Xlsx, XlsxError};
use jiff::civil::Date;

use super::grid::{Loose, Value, Workbook};
use super::guard;
use super::open_document::Sketch;
use crate::document::{Fault, InvalidFile, Problem, Source, Span};

/// Bytes of a workbook, as it is stored. House rule: some twenty times one of
/// 10,000 rows.
const BYTES: usize = 32 << 20;

/// Cells of a workbook, of an open document with the empty ones between others. House rule:
/// 5,000 boards with a hundred readings each, and a memory that any computer has.
pub(super) const CELLS: u64 = 500_000;

/// Bytes of text in all cells. House rule: 64 in each.
pub(super) const TEXT: u64 = 32 << 20;

impl Workbook {
    /// Whether these are the bytes of a workbook, which is a compressed file.
    pub fn is_one(bytes: &[u8]) -> bool {
        bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0")
    }

    /// Reads an XLSX or ODS file under the name that diagnostics print.
    pub fn read(name: &str, bytes: Vec<u8>) -> Result<Self, InvalidFile> {
        let refuse = |fault, why: String, remedy: &str| {
            let problem = Problem::new(fault, Span::default(), why, remedy);
            InvalidFile::of(Source::new(name, "").into(), problem)
        };
        if bytes.starts_with(b"\xd0\xcf\x11\xe0") {
            // An old workbook, or a new one behind a password.
            let why =
                "this is a workbook of the old kind (.xls), or one with a password".to_owned();
            let remedy = "save it as .xlsx, .ods or CSV, without a password";
            return Err(refuse(Fault::Unreadable, why, remedy));
        }
        if bytes.len() > BYTES {
            let why = format!("the workbook has more than {} MiB", BYTES >> 20);
            return Err(refuse(Fault::TooLarge, why, "split it into several"));
        }
        let is_ods = holds(&bytes, b"opendocument.spreadsheet");
        let read = guard::check(&bytes, is_ods).and_then(|sketches| {
            if is_ods {
                ods(bytes, &sketches)
            } else {
                xlsx(bytes)
            }
        });
        match read {
            Ok(sheets) => Ok(Self::of(name, sheets)),
            Err(Refused::TooLarge) => {
                let why = format!("the workbook has more than {CELLS} cells that are not empty");
                Err(refuse(Fault::TooLarge, why, "split it into several"))
            }
            Err(Refused::Spans) => {
                let why = format!(
                    "the sheets have more than {CELLS} cells up to the last that is not empty"
                );
                let remedy = "delete what stands far out, and rows that are repeated, or split \
                              the workbook into several";
                Err(refuse(Fault::TooLarge, why, remedy))
            }
            Err(Refused::Shared) => {
                let why = format!("the workbook lists more than {CELLS} texts");
                Err(refuse(Fault::TooLarge, why, "split it into several"))
            }
            Err(Refused::Text) => {
                let why = format!("the cells hold more than {} MiB of text", TEXT >> 20);
                let remedy = "shorten what is not needed, or split the workbook into several";
                Err(refuse(Fault::TooLarge, why, remedy))
            }
            Err(Refused::Unpacked(most)) => {
                let why = format!("the workbook unpacks to more than {} MiB", most >> 20);
                Err(refuse(Fault::TooLarge, why, "split it into several"))
            }
            Err(Refused::Broken(why)) => Err(refuse(
                Fault::Unreadable,
                format!("this is no XLSX or ODS workbook that can be read: {why}"),
                "open it in the spreadsheet program and save it anew, as .xlsx or .ods",
            )),
        }
    }
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    // An open document says so in its first entry.
    let start = bytes.get(..256).unwrap_or(bytes);
    start.windows(part.len()).any(|window| window == part)
}

#[derive(Debug)]
pub(super) enum Refused {
    TooLarge,
    /// Too many cells, empty ones between others counted.
    Spans,
    /// Too many texts that cells share.
    Shared,
    /// Too much text in all of its cells.
    Text,
    /// Its parts have more bytes than this.
    Unpacked(u64),
    Broken(String),
}

pub(super) fn broken(error: impl Display) -> Refused {
    Refused::Broken(error.to_string())
}

/// Every workbook has a sheet: one without was not read, whatever its reader says.
fn named(sheets: Vec<String>) -> Result<Vec<String>, Refused> {
    if sheets.is_empty() {
        return Err(broken("it names no sheet"));
    }
    Ok(sheets)
}

fn xlsx(bytes: Vec<u8>) -> Result<Vec<Loose>, Refused> {
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(broken)?;
    let names = named(book.sheet_names())?;
    let mut sheets = Vec::new();
    let mut budget = Budget::default();
    for name in names {
        let mut sheet = Loose {
            name: name.clone(),
            has_1904: book.has_1904_epoch(),
            ..Loose::default()
        };
        if !read_cells(&mut book, &mut sheet, &mut budget)? {
            continue;
        }
        let merged = book.merge_cells_by_sheet_name(&name).map_err(broken)?;
        sheet.merged = merged.iter().map(|own| (own.start, own.end)).collect();
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// Sheets that are no tables, by the first element of their part (ECMA-376, from memory).
const WITHOUT_CELLS: [&str; 3] = ["chartsheet", "dialogsheet", "macrosheet"];

/// The cells of a sheet, if it has any: one that is a chart has none. Cell by cell,
/// because a single note far out must not cost the memory of all cells before it.
fn read_cells(
    book: &mut Xlsx<Cursor<Vec<u8>>>,
    sheet: &mut Loose,
    budget: &mut Budget,
) -> Result<bool, Refused> {
    let mut cells = match book.worksheet_cells_reader(&sheet.name) {
        Ok(cells) => cells,
        Err(XlsxError::NotAWorksheet(kind)) if WITHOUT_CELLS.contains(&kind.as_str()) => {
            return Ok(false);
        }
        // A sheet that cannot be read may hold boards: the others are not all of them.
        Err(error) => return Err(broken(error)),
    };
    while let Some(cell) = cells.next_cell_with_formula().map_err(broken)? {
        if let Some(value) = value(Data::from(cell.value), cell.formula.as_deref()) {
            budget.take(&value)?;
            sheet.cells.insert(cell.pos, value);
        }
    }
    Ok(true)
}

fn ods(bytes: Vec<u8>, sketches: &[Sketch]) -> Result<Vec<Loose>, Refused> {
    let mut book: Ods<_> = Ods::new(Cursor::new(bytes)).map_err(broken)?;
    let names = named(book.sheet_names())?;
    let mut sheets = Vec::new();
    let mut budget = Budget::default();
    for name in names {
        let values = book.worksheet_range(&name).map_err(broken)?;
        let mut sheet = Loose {
            name,
            ..Loose::default()
        };
        let start = values.start().unwrap_or_default();
        for (row, column, own) in values.used_cells() {
            let place = (offset(start.0, row), offset(start.1, column));
            if let Some(value) = value(own.clone(), None) {
                budget.take(&value)?;
                sheet.cells.insert(place, value);
            }
        }
        drop(values);
        let own = sketches.iter().filter(|sketch| sketch.name == sheet.name);
        for (place, value) in own.flat_map(|sketch| &sketch.unread) {
            budget.take(value)?;
            sheet.cells.entry(*place).or_insert_with(|| value.clone());
        }
        sheets.push(sheet);
    }
    Ok(sheets)
}

/// What of the budget is taken.
#[derive(Default)]
struct Budget {
    cells: u64,
    text: u64,
}

impl Budget {
    fn take(&mut self, value: &Value) -> Result<(), Refused> {
        self.cells += 1;
        if let Value::Text(text) | Value::NoValue(text) | Value::NoKind(text) = value {
            let length = u64::try_from(text.len()).unwrap_or(u64::MAX);
            self.text = self.text.saturating_add(length);
        }
        match () {
            () if self.cells > CELLS => Err(Refused::TooLarge),
            () if self.text > TEXT => Err(Refused::Text),
            () => Ok(()),
        }
    }
}

fn offset(start: u32, index: usize) -> u32 {
    start.saturating_add(u32::try_from(index).unwrap_or(u32::MAX))
}

/// What a cell holds; nothing of an empty one.
fn value(data: Data, formula: Option<&str>) -> Option<Value> {
    Some(match data {
        // Whole numbers of a workbook are far below 2^53.
        Data::Int(number) => Value::Number(number as f64),
        Data::Float(number) => Value::Number(number),
        Data::String(text) => {
            let text = text.trim();
            if text.is_empty() {
                // A formula may come to an empty text: that is an empty cell.
                return None;
            }
            Value::Text(text.to_owned())
        }
        Data::Bool(truth) => Value::Truth(truth),
        Data::DateTime(serial) => day(serial),
        Data::DateTimeIso(text) => match text.get(..10).unwrap_or(&text).parse::<Date>() {
            Ok(day) => Value::Day(day),
            Err(_) => Value::Time(text),
        },
        Data::DurationIso(text) => Value::Time(text),
        Data::Error(error) => Value::Error(error.to_string()),
        Data::Empty => Value::NoValue(format!("={}", formula?)),
    })
}

/// The first serial number of the calendar that is a day.
const FIRST_DAY: f64 = 1.0;

fn day(serial: ExcelDateTime) -> Value {
    let (year, month, day, ..) = serial.to_ymd_hms_milli();
    let parts = (i16::try_from(year), i8::try_from(month), i8::try_from(day));
    let date = match parts {
        (Ok(year), Ok(month), Ok(day)) => Date::new(year, month, day).ok(),
        _ => None,
    };
    match date {
        Some(date) if serial.is_datetime() && serial.as_f64() >= FIRST_DAY => Value::Day(date),
        _ => Value::Time(format!("{} of a day", serial.as_f64())),
    }
}
