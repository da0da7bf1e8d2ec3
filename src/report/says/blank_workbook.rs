//! A workbook of many boards to fill in.

use rust_xlsxwriter::{
    DataValidation, DataValidationErrorStyle, DataValidationRule, DocProperties, ExcelDateTime,
    Format, FormatAlign, FormatBorder, Workbook, Worksheet, XlsxError,
};

use super::worksheet::{CAUTIONS, each_place, how, limits};
use crate::board::usual::Ranges;
use crate::board::{Board, Mounting, Profile};
use crate::readings::{FactColumn, Item, PlannedItem, head_of, plan};
use crate::table::Table;

/// What a workbook is made for.
#[derive(Clone, Copy, Debug)]
pub struct BlankHead<'a> {
    /// The table that says what is to be measured.
    pub table: &'a Table,
    /// The kinds of board that get a sheet.
    pub kinds: &'a [(Mounting, Profile)],
    /// Boards whose rows are begun.
    pub boards: &'a [Board],
    /// Who will measure: a row for each of them, of every board.
    pub inspectors: &'a [String],
    /// How many columns each length has.
    pub readings: usize,
}

/// A workbook that cannot be written.
#[derive(Debug, thiserror::Error)]
#[error("the workbook cannot be written: {0}")]
pub struct BlankError(#[from] XlsxError);

/// Rows that are ready to be filled in, with their lists of words. House rule: as
/// many as a league has boards, and many more.
const ROOM: usize = 500;

/// The facts that a sheet has columns for, before the lengths and behind them.
const BEFORE: [FactColumn; 14] = [
    FactColumn::Board,
    FactColumn::Venue,
    FactColumn::Position,
    FactColumn::Name,
    FactColumn::Made,
    FactColumn::Maker,
    FactColumn::Mounting,
    FactColumn::Profile,
    FactColumn::Inspector,
    FactColumn::Date,
    FactColumn::Instrument,
    FactColumn::Resolution,
    FactColumn::MaxError,
    FactColumn::Calibrated,
];

/// Makes a workbook to fill in: a sheet for each kind of board, with a column for
/// each reading that the table needs, and one of explanations. Needs the feature
/// `workbook`.
pub fn blank_workbook(head: &BlankHead<'_>) -> Result<Vec<u8>, BlankError> {
    let mut book = Workbook::new();
    // The same workbook from the same input, whatever the day.
    let never = ExcelDateTime::from_ymd(2000, 1, 1)?;
    let properties = DocProperties::new()
        .set_title("Boards to be measured")
        .set_comment(&head.table.title)
        .set_creation_datetime(&never);
    book.set_properties(&properties);
    let mut explained: Vec<Column> = Vec::new();
    for &(mounting, profile) in head.kinds {
        let name = match head.kinds {
            [_] => "boards".to_owned(),
            _ if profile == mounting.usual_profile() => mounting.key().to_owned(),
            _ => format!("{}_{}", mounting.key(), profile.key()),
        };
        let columns = columns(head, mounting, profile);
        let sheet = book.add_worksheet();
        sheet.set_name(name)?;
        fill(sheet, head, (mounting, profile), &columns)?;
        for column in columns {
            if !explained.iter().any(|known| known.head == column.head) {
                explained.push(column);
            }
        }
    }
    explain(book.add_worksheet(), head.table, &explained)?;
    Ok(book.save_to_buffer()?)
}

/// A column of a sheet.
struct Column {
    head: String,
    limits: String,
    how: String,
    kind: Kind,
}

#[derive(Clone, Copy)]
enum Kind {
    Fact(FactColumn),
    Reading(Item),
}

fn columns(head: &BlankHead<'_>, mounting: Mounting, profile: Profile) -> Vec<Column> {
    let fact = |fact: FactColumn| Column {
        head: match fact {
            FactColumn::Resolution | FactColumn::MaxError => format!("{} (mm)", fact.head()),
            fact => fact.head().to_owned(),
        },
        limits: String::new(),
        how: fact.meaning().to_owned(),
        kind: Kind::Fact(fact),
    };
    let planned = plan(head.table, mounting, profile);
    let readings = each_place(&planned).flat_map(|(row, place): (&PlannedItem, _)| {
        (1..=head.readings).map(move |number| Column {
            head: head_of(row.item, place.map(|place| place.at), number, row.edge),
            limits: limits(row),
            how: how(row, place),
            kind: Kind::Reading(row.item),
        })
    });
    let before = BEFORE.into_iter().map(fact);
    before
        .chain(readings)
        .chain([fact(FactColumn::Note)])
        .collect()
}

fn fill(
    sheet: &mut Worksheet,
    head: &BlankHead<'_>,
    (mounting, profile): (Mounting, Profile),
    columns: &[Column],
) -> Result<(), XlsxError> {
    let bold = Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Top)
        .set_border_bottom(FormatBorder::Thin);
    let small = Format::new().set_italic().set_text_wrap();
    let date = Format::new().set_num_format("yyyy-mm-dd");
    let boards = head.boards.iter().filter(|board| {
        let construction = &board.construction;
        (construction.mounting, construction.profile) == (mounting, profile)
    });
    let people: Vec<Option<&String>> = match head.inspectors {
        [] => vec![None],
        all => all.iter().map(Some).collect(),
    };
    let rows: Vec<(&Board, Option<&String>)> = boards
        .flat_map(|board| people.iter().map(move |person| (board, *person)))
        .collect();
    let last = row_number(FIRST + ROOM.max(rows.len() + ROOM / 10) - 1);
    for (index, column) in (0..).zip(columns) {
        sheet.write_string_with_format(0, index, &column.head, &bold)?;
        let limits = if index == 0 {
            "# limits"
        } else {
            &column.limits
        };
        if !limits.is_empty() {
            sheet.write_string_with_format(1, index, limits, &small)?;
        }
        let width = if matches!(column.kind, Kind::Fact(_)) {
            14
        } else {
            17
        };
        sheet.set_column_width(index, width)?;
        if let Kind::Fact(FactColumn::Date | FactColumn::Calibrated) = column.kind {
            sheet.set_column_format(index, &date)?;
        }
        if let Some(allowed) = allowed(column.kind)? {
            sheet.add_data_validation(row_number(FIRST), index, last, index, &allowed)?;
        }
        for (row, (board, person)) in (FIRST..).zip(&rows) {
            let Kind::Fact(fact) = column.kind else {
                continue;
            };
            if let (FactColumn::Made, Some(made)) = (fact, board.made) {
                sheet.write_number(row_number(row), index, made)?;
            } else if let Some(text) = known(board, *person, fact) {
                sheet.write_string(row_number(row), index, text)?;
            }
        }
    }
    sheet.set_freeze_panes(row_number(FIRST), 1)?;
    sheet.set_repeat_rows(0, 1)?;
    sheet.set_landscape();
    Ok(())
}

/// The first row to fill in, from 0: below the head and the limits.
const FIRST: usize = 2;

fn row_number(row: usize) -> u32 {
    u32::try_from(row).unwrap_or(u32::MAX)
}

/// What is known of a board already.
fn known<'a>(board: &'a Board, person: Option<&'a String>, fact: FactColumn) -> Option<&'a str> {
    match fact {
        FactColumn::Board => Some(&board.id),
        FactColumn::Venue => board.venue.as_deref(),
        FactColumn::Position => board.position.as_deref(),
        FactColumn::Name => board.name.as_deref(),
        FactColumn::Maker => board.maker.as_deref(),
        FactColumn::Mounting => Some(board.construction.mounting.key()),
        FactColumn::Profile => Some(board.construction.profile.key()),
        FactColumn::Inspector => person.map(String::as_str),
        _ => None,
    }
}

/// What may be written into a column, where that can be said.
fn allowed(kind: Kind) -> Result<Option<DataValidation>, XlsxError> {
    let words = DataValidation::new();
    Ok(Some(match kind {
        Kind::Fact(FactColumn::Mounting) => {
            words.allow_list_strings(&Mounting::ALL.map(Mounting::key))?
        }
        Kind::Fact(FactColumn::Profile) => {
            words.allow_list_strings(&Profile::ALL.map(Profile::key))?
        }
        Kind::Fact(FactColumn::Made) => words
            .allow_whole_number(DataValidationRule::Between(1850, 2200))
            .set_error_message("the year alone, such as 2011")?,
        Kind::Fact(FactColumn::Date | FactColumn::Calibrated) => {
            let first = ExcelDateTime::from_ymd(2000, 1, 1)?;
            let last = ExcelDateTime::from_ymd(2099, 12, 31)?;
            words
                .allow_date(DataValidationRule::Between(first, last))
                .set_error_message("a day, such as 2026-11-14")?
        }
        // A wire may be given as its gauge.
        Kind::Reading(item) if !item.is_wire() => {
            let range = Ranges::of(item.0);
            let (least, most) = range.ends();
            words
                .allow_decimal_number(DataValidationRule::Between(least, most))
                .set_error_style(DataValidationErrorStyle::Warning)
                .set_error_message(format!("a number of millimetres from {least} to {most}"))?
        }
        _ => return Ok(None),
    }))
}

/// What the first cell says, so that the sheet is known to hold no boards.
const TITLE: &str = "# How to fill in this workbook";

fn explain(sheet: &mut Worksheet, table: &Table, columns: &[Column]) -> Result<(), XlsxError> {
    sheet.set_name("explanations")?;
    let bold = Format::new().set_bold();
    let wrap = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    sheet.write_string_with_format(0, 0, TITLE, &bold)?;
    sheet.set_column_width(0, 38)?;
    sheet.set_column_width(1, 30)?;
    sheet.set_column_width(2, 70)?;
    let made_for = format!("Made for {}; source: {}.", table.title, table.source);
    let words = [
        made_for.as_str(),
        "One row a board; where several people measure a board, one row for each of them, with the same \
         id. What is the same for all rows of a board may stand in one of them.",
        "Take every reading afresh, and write each into a column of its own. Leave out what was not \
         measured. More readings get more columns: copy a head and count on.",
        "Numbers are numbers in the unit that the head names. A wire may be given as its gauge with \
         its system, such as 16 SWG.",
        "inside is the edge of a wire towards the bull, outside the one away from it, apex its highest \
         line. Of a width, inside is between the two wires, metal left out; apex is from apex to apex; \
         outside is over both wires.",
        "Describe an instrument (resolution, max error, calibrated) in one row at least; other rows may \
         name it alone.",
        "A row that begins with # is a remark, and so is a column whose head does.",
        "Then: ringrule intake boards.xlsx --into boards",
        CAUTIONS[0],
        CAUTIONS[1],
    ];
    let mut row = 1;
    for words in words {
        sheet.merge_range(row, 0, row, 2, words, &wrap)?;
        sheet.set_row_height(row, 32)?;
        row += 1;
    }
    #[cfg(feature = "draw")]
    {
        row += 1;
        row = drawing(sheet, row)?;
    }
    row += 1;
    for (column, head) in (0..).zip(["column", "conforms within", "what it is"]) {
        sheet.write_string_with_format(row, column, head, &bold)?;
    }
    for column in columns {
        row += 1;
        sheet.write_string_with_format(row, 0, &column.head, &wrap)?;
        sheet.write_string_with_format(row, 1, &column.limits, &wrap)?;
        sheet.write_string_with_format(row, 2, &column.how, &wrap)?;
    }
    Ok(())
}

/// How wide the drawing is, in the pixels of the file and as it is shown, and how
/// many rows of the usual height it covers.
#[cfg(feature = "draw")]
const DRAWING: (u32, f64, u32) = (1200, 0.5, 14);

/// Draws the edges from a row on, and returns the row below. What cannot be drawn is
/// said in words above.
#[cfg(feature = "draw")]
fn drawing(sheet: &mut Worksheet, row: u32) -> Result<u32, XlsxError> {
    use crate::report::draw::{edges, picture, svg};
    let (width, scale, rows) = DRAWING;
    let figure = edges(Profile::Round);
    let words = figure.description.clone();
    let Ok(picture) = picture(&svg::file(&[figure]), width) else {
        return Ok(row);
    };
    let picture = rust_xlsxwriter::Image::new_from_buffer(&picture)?
        .set_scale_width(scale)
        .set_scale_height(scale)
        .set_alt_text(words);
    sheet.insert_image(row, 0, &picture)?;
    Ok(row + rows)
}
