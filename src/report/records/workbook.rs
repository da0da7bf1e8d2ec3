//! Results as a workbook: sheets of rows, numbers as numbers and days as days.

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

/// A workbook that cannot be written.
#[derive(Debug, thiserror::Error)]
#[error("the workbook cannot be written: {0}")]
pub struct WorkbookError(#[from] XlsxError);

/// Columns of names, by their heads: a `07` there is a text. Elsewhere what looks like
/// a number is one.
const NAMES: [&str; 14] = [
    "file",
    "id",
    "board",
    "against",
    "of",
    "venue",
    "position",
    "inspected_by",
    "check",
    "part",
    "name",
    "rule",
    "begins",
    "signals",
];

/// Columns of days.
const DAYS: [&str; 4] = [
    "inspected",
    "before_inspected",
    "latest_inspected",
    "valid_until",
];

/// Characters of the widest column. House rule: a sentence does not fill a screen.
const WIDEST: usize = 60;

/// Makes a workbook of sheets, each with its name and its rows as CSV under their
/// heads, as the other functions for rows give them. Needs the feature `workbook`.
pub fn results_workbook(sheets: &[(&str, &str)]) -> Result<Vec<u8>, WorkbookError> {
    let mut book = Workbook::new();
    // The same workbook from the same results, whatever the day.
    let never = ExcelDateTime::from_ymd(2000, 1, 1)?;
    let properties = DocProperties::new()
        .set_title("Results")
        .set_comment("A calculation, not an official approval")
        .set_creation_datetime(&never);
    book.set_properties(&properties);
    for (name, rows) in sheets {
        let sheet = book.add_worksheet();
        sheet.set_name(*name)?;
        fill(sheet, rows)?;
    }
    Ok(book.save_to_buffer()?)
}

fn fill(sheet: &mut Worksheet, rows: &str) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let day = Format::new().set_num_format("yyyy-mm-dd");
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(rows.as_bytes());
    let mut heads: Vec<String> = Vec::new();
    let mut widths: Vec<usize> = Vec::new();
    // Our own rows can always be read.
    for (row, record) in (0u32..).zip(reader.records().flatten()) {
        for (column, text) in (0u16..).zip(record.iter()) {
            let index = usize::from(column);
            if row == 0 {
                heads.push(text.to_owned());
                widths.push(text.len());
                sheet.write_with_format(row, column, text, &bold)?;
                continue;
            }
            if let Some(width) = widths.get_mut(index) {
                *width = (*width).max(text.chars().count()).min(WIDEST);
            }
            let head = heads.get(index).map_or("", String::as_str);
            let date = || ExcelDateTime::parse_from_str(text).ok();
            match text {
                "" => continue,
                "true" | "false" => sheet.write(row, column, text == "true")?,
                _ if NAMES.contains(&head) => sheet.write_string(row, column, plain(text))?,
                _ if DAYS.contains(&head) => match date() {
                    Some(date) => sheet.write_with_format(row, column, &date, &day)?,
                    None => sheet.write_string(row, column, text)?,
                },
                _ => match text.parse::<f64>().ok().filter(|number| number.is_finite()) {
                    Some(number) => sheet.write(row, column, number)?,
                    None => sheet.write_string(row, column, plain(text))?,
                },
            };
        }
    }
    for (column, width) in (0u16..).zip(&widths) {
        // At most sixty and a little room.
        let width = u16::try_from(width + 2).unwrap_or(u16::MAX);
        sheet.set_column_width(column, f64::from(width))?;
    }
    sheet.set_freeze_panes(1, 0)?;
    Ok(())
}

/// A text cell of a workbook is never run as a formula, so that it needs nothing in
/// front.
fn plain(text: &str) -> &str {
    let rest = text.strip_prefix('\'');
    rest.filter(|rest| crate::report::escape::no_formula(rest).starts_with('\''))
        .unwrap_or(text)
}
