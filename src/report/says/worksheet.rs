//! A blank inspection sheet: as CSV to fill in, and as a page to print.

use super::phrases;
use crate::board::{Mounting, Profile};
use crate::document::Separator;
use crate::readings::{COLUMNS, PlannedItem, READING_COLUMNS};
use crate::report::escape;
use crate::report::page::{self, Block, Column, ColumnKind, Fact, Grid, Part, Row};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
use crate::table::Table;

/// What heads a sheet.
#[derive(Clone, Copy, Debug)]
pub struct SheetHead<'a> {
    /// The board's id, if known.
    pub board: Option<&'a str>,
    /// Where it hangs, or what people call it.
    pub name: Option<&'a str>,
    /// How its spider is held.
    pub mounting: Mounting,
    /// The cross-section of its wires.
    pub profile: Profile,
    /// The table that the sheet is made for.
    pub table: &'a Table,
}

impl SheetHead<'_> {
    /// The rows about the whole: the word in the file, what it is, its value.
    fn facts(&self) -> [(&'static str, &'static str, String); 10] {
        let known = |text: Option<&str>| text.unwrap_or_default().to_owned();
        [
            ("board", "the id on the board", known(self.board)),
            ("name", "where it hangs", known(self.name)),
            ("mounting", "staples or embedded", self.mounting.to_string()),
            ("profile", "round or strip", self.profile.to_string()),
            ("inspector", "who takes the readings", String::new()),
            ("date", "the day, such as 2026-11-14", String::new()),
            ("instrument", "what it is, and which one", String::new()),
            (
                "resolution",
                "the step of its display, with unit",
                String::new(),
            ),
            (
                "max error",
                "its permissible error, with unit",
                String::new(),
            ),
            (
                "calibrated",
                "the day of its last calibration",
                String::new(),
            ),
        ]
    }
}

/// The limits that a row serves, in words.
fn limits(row: &PlannedItem) -> String {
    let words = row.limits.iter().map(|(measurand, interval)| {
        let interval = phrases::interval(*interval, phrases::decimals(*measurand));
        if row.limits.len() > 1 {
            format!("{measurand} {interval}")
        } else {
            interval
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

/// The sheet as CSV.
pub fn worksheet_csv(head: &SheetHead<'_>, rows: &[PlannedItem], separator: Separator) -> String {
    let readings: Vec<String> = (1..=READING_COLUMNS)
        .map(|n| format!("reading {n}"))
        .collect();
    let [columns @ .., instrument, remark] = COLUMNS;
    let mut lines = vec![
        columns
            .iter()
            .map(|&column| column.to_owned())
            .chain(readings)
            .chain([instrument.to_owned(), remark.to_owned()])
            .collect::<Vec<_>>(),
    ];
    let blanks = |count: usize| std::iter::repeat_n(String::new(), count);
    for (word, how, value) in head.facts() {
        let cells = [word.to_owned(), String::new(), String::new(), String::new()];
        let cells = cells.into_iter().chain([how.to_owned(), value]);
        lines.push(cells.chain(blanks(READING_COLUMNS + 1)).collect());
    }
    for row in rows {
        let edge = row.edge.map_or_else(String::new, |edge| edge.to_string());
        let cells = [
            row.item.to_string(),
            edge,
            "mm".to_owned(),
            limits(row),
            row.how.clone(),
        ];
        lines.push(
            cells
                .into_iter()
                .chain(blanks(READING_COLUMNS + 2))
                .collect(),
        );
    }
    let separator = separator.character();
    let line = |cells: Vec<String>| {
        let cells = cells.iter().map(|cell| escape::csv(cell, separator));
        cells.collect::<Vec<_>>().join(&separator.to_string())
    };
    lines.into_iter().map(|cells| line(cells) + "\n").collect()
}

/// The sheet as a page to print: one self-contained file without scripts.
///
/// ```
/// # use ringrule::{board::{Mounting, Profile}, document::Source, readings::plan, table::Table};
/// use ringrule::report::{SheetHead, worksheet_html};
///
/// # let text = "format: ringrule/table/1
/// # title: House rules
/// # source: { document: House rules, provenance: invented }
/// # limits:
/// #   treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
/// # ";
/// let table = Table::read(Source::new("house.yaml", text), &())?;
/// let head = SheetHead {
///     board: Some("FL-99"),
///     name: None,
///     mounting: Mounting::Staples,
///     profile: Profile::Round,
///     table: &table,
/// };
/// let rows = plan(&table, head.mounting, head.profile);
/// assert!(worksheet_html(&head, &rows).contains("Inspection sheet for board FL-99"));
/// # #[cfg(feature = "pdf")]
/// # {
/// use ringrule::report::{PaperSize, worksheet_pdf};
///
/// let pdf = worksheet_pdf(&head, &rows, PaperSize::A4, Vec::new())?;
/// assert!(pdf.bytes.starts_with(b"%PDF"));
/// # }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn worksheet_html(head: &SheetHead<'_>, rows: &[PlannedItem]) -> String {
    let part = part(head, rows);
    page::html(&format!("Inspection sheet: {}", part.foot), &part, true)
}

/// The sheet as a PDF to print, across the paper; `fonts` are font files for
/// characters that our own font does not have. Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn worksheet_pdf(
    head: &SheetHead<'_>,
    rows: &[PlannedItem],
    paper: PaperSize,
    fonts: Vec<Vec<u8>>,
) -> Result<Pdf, PdfError> {
    let part = part(head, rows);
    let head = PdfHead {
        subject: Some(head.table.title.clone()),
        landscape: true,
        ..PdfHead::of(&part, paper, fonts)
    };
    page::pdf(&head, [part].into_iter())
}

fn part(head: &SheetHead<'_>, rows: &[PlannedItem]) -> Part {
    let title = match head.board {
        Some(board) => format!("Inspection sheet for board {board}"),
        None => "Inspection sheet".to_owned(),
    };
    let source = format!("For {}; source: {}.", head.table.title, head.table.source);
    Part {
        anchor: "worksheet".to_owned(),
        title,
        kicker: "To fill in by hand".to_owned(),
        foot: head.board.unwrap_or(&head.table.title).to_owned(),
        blocks: vec![
            Block::Text(source),
            Block::Grid(facts(head)),
            Block::Grid(readings(rows)),
            Block::Signature(vec![Fact {
                name: "Signature".to_owned(),
                value: None,
            }]),
            Block::Cautions(CAUTIONS.map(str::to_owned).into()),
        ],
    }
}

fn facts(head: &SheetHead<'_>) -> Grid {
    let facts = head.facts();
    Grid {
        caption: "The board and the measurement".to_owned(),
        columns: vec![
            Column::new("what", ColumnKind::Head, 1.0),
            Column::new("how", ColumnKind::Words, 2.0),
            Column::new("value", ColumnKind::Room, 6.0),
        ],
        rows: facts
            .iter()
            .map(|(word, how, value)| Row::of([*word, *how, value.as_str()]))
            .collect(),
    }
}

fn readings(rows: &[PlannedItem]) -> Grid {
    let columns = [
        Column::new("what", ColumnKind::Head, 2.0),
        Column::new("edge", ColumnKind::Words, 0.5),
        Column::new("how", ColumnKind::Words, 3.0),
        Column::new("conforms within", ColumnKind::Words, 1.5),
    ];
    let room = (1..=READING_COLUMNS).map(|n| Column::new(n.to_string(), ColumnKind::Room, 1.0));
    let with = Column::new("instrument, if another", ColumnKind::Room, 1.5);
    let row = |row: &PlannedItem| {
        let cells = [
            row.item.to_string().replace('_', " "),
            row.edge.map(|edge| edge.to_string()).unwrap_or_default(),
            row.how.clone(),
            limits(row),
        ];
        let room = std::iter::repeat_n(String::new(), READING_COLUMNS + 1);
        Row::of(cells.into_iter().chain(room))
    };
    Grid {
        caption: "Readings in mm, in the order round the board; several of each, taken afresh"
            .to_owned(),
        columns: columns.into_iter().chain(room).chain([with]).collect(),
        rows: rows.iter().map(row).collect(),
    }
}

/// What to mind while measuring.
const CAUTIONS: [&str; 2] = [
    "Take the darts out and the board down before measuring. Old spiders have sprung wire ends and \
     loose staples: wear eye protection, and mind your fingers. Rehang the board on sound fixings.",
    "The governing body's current rules and the venue's own safety rules prevail over this sheet, \
     which is not an official approval.",
];
