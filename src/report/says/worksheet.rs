//! A blank inspection sheet: as CSV to fill in, and as a page to print.

use super::phrases;
use crate::board::{Mounting, Profile};
use crate::document::Separator;
use crate::readings::{COLUMNS, PlannedItem, PlannedPlace, READING_COLUMNS};
use crate::report::draw;
use crate::report::escape;
use crate::report::page::{self, Block, Column, ColumnKind, Fact, Grid, Part, Row};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
use crate::table::{Extent, Table};
use crate::units::{Instrument, Length};

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
    /// Who will take the readings, if known.
    pub inspector: Option<&'a str>,
    /// What with, if known.
    pub instrument: Option<&'a Instrument>,
}

/// A sheet: its head and what has to be measured.
pub type PlannedSheet<'a> = (SheetHead<'a>, Vec<PlannedItem>);

impl SheetHead<'_> {
    /// The rows about the whole: the word in the file, what it is, its value.
    fn facts(&self) -> [(&'static str, &'static str, String); 10] {
        let known = |text: Option<&str>| text.unwrap_or_default().to_owned();
        let with = self.instrument;
        let length = |of: Option<Length>| of.map(|of| format!("{} mm", of.as_mm()));
        let resolution = length(with.and_then(|with| with.resolution));
        let error = length(with.and_then(|with| with.max_error));
        let calibrated = with.and_then(|with| with.calibrated);
        [
            ("board", "the id on the board", known(self.board)),
            ("name", "where it hangs", known(self.name)),
            ("mounting", "staples or embedded", self.mounting.to_string()),
            ("profile", "round or strip", self.profile.to_string()),
            ("inspector", "who takes the readings", known(self.inspector)),
            ("date", "the day, such as 2026-11-14", String::new()),
            (
                "instrument",
                "what it is, and which one",
                known(with.and_then(|with| with.name.as_deref())),
            ),
            (
                "resolution",
                "the step of its display, with unit",
                resolution.unwrap_or_default(),
            ),
            (
                "max error",
                "its permissible error, with unit",
                error.unwrap_or_default(),
            ),
            (
                "calibrated",
                "the day of its last calibration",
                calibrated.map(|day| day.to_string()).unwrap_or_default(),
            ),
        ]
    }
}

/// The limits that a row serves, in words.
pub(super) fn limits(row: &PlannedItem) -> String {
    let words = row.limits.iter().map(|(measurand, interval, of)| {
        let mut interval = phrases::interval(*interval, phrases::decimals(*measurand));
        // Whoever reads a length at places sees which of them a limit speaks of.
        if !row.places.is_empty() && !measurand.is_of_a_ring() {
            interval += match of {
                Extent::EveryPlace => ", at every place",
                _ => ", in the mean",
            };
        }
        // A limit on a ring's form is none on the length in this row.
        if row.limits.len() > 1 || measurand.is_of_a_ring() {
            format!("{measurand} {interval}")
        } else {
            interval
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Whether anything is asked for at places.
fn has_places(rows: &[PlannedItem]) -> bool {
    rows.iter().any(|row| !row.places.is_empty())
}

/// Every row to fill in: a planned one, or one for each of its places.
pub(super) fn each_place(
    rows: &[PlannedItem],
) -> impl Iterator<Item = (&PlannedItem, Option<PlannedPlace>)> {
    rows.iter().flat_map(|row| {
        let mean = row.places.is_empty().then_some((row, None));
        let places = row.places.iter().map(move |place| (row, Some(*place)));
        mean.into_iter().chain(places)
    })
}

/// How to measure, and at which place.
pub(super) fn how(row: &PlannedItem, place: Option<PlannedPlace>) -> String {
    match place {
        Some(place) if row.item.is_across() => format!(
            "from place {} to place {}, {}",
            place.number,
            place.facing().number,
            row.how
        ),
        Some(place) => format!("at place {}, {}", place.number, row.how),
        None => row.how.clone(),
    }
}

/// The sheet as CSV. Where a limit speaks of every place it has a column for
/// places, and a row for each.
pub fn worksheet_csv(head: &SheetHead<'_>, rows: &[PlannedItem], separator: Separator) -> String {
    let readings: Vec<String> = (1..=READING_COLUMNS)
        .map(|n| format!("reading {n}"))
        .collect();
    let [columns @ .., instrument, remark] = COLUMNS;
    let with_places = has_places(rows);
    let columns = columns.iter();
    let mut lines = vec![
        columns
            .filter(|&&column| with_places || column != "at")
            .map(|&column| column.to_owned())
            .chain(readings)
            .chain([instrument.to_owned(), remark.to_owned()])
            .collect::<Vec<_>>(),
    ];
    let blanks = |count: usize| std::iter::repeat_n(String::new(), count);
    for (word, how, value) in head.facts() {
        let cells = [word.to_owned()].into_iter();
        let cells = cells.chain(blanks(3 + usize::from(with_places)));
        let cells = cells.chain([how.to_owned(), value]);
        lines.push(cells.chain(blanks(READING_COLUMNS + 1)).collect());
    }
    for (row, place) in each_place(rows) {
        let edge = row.edge.map_or_else(String::new, |edge| edge.to_string());
        let at = place.map_or_else(String::new, |place| place.at.to_string());
        let cells = [row.item.to_string()].into_iter();
        let cells = cells.chain(with_places.then_some(at));
        let cells = cells.chain([edge, "mm".to_owned(), limits(row), how(row, place)]);
        lines.push(cells.chain(blanks(READING_COLUMNS + 2)).collect());
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
///     inspector: Some("A. Ashdown"),
///     instrument: None,
/// };
/// let sheets = [(head, plan(&table, head.mounting, head.profile))];
/// assert!(worksheet_html(&sheets).contains("Inspection sheet for board FL-99"));
/// # #[cfg(feature = "pdf")]
/// # {
/// use ringrule::report::{PaperSize, worksheet_pdf};
///
/// let pdf = worksheet_pdf(&sheets, PaperSize::A4, Vec::new())?;
/// assert!(pdf.bytes.starts_with(b"%PDF"));
/// # }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn worksheet_html(sheets: &[PlannedSheet<'_>]) -> String {
    let parts = parts(sheets);
    let title = match parts.as_slice() {
        [one] => format!("Inspection sheet: {}", one.foot),
        _ => "Inspection sheets".to_owned(),
    };
    let parts: String = parts.iter().map(page::html_part).collect();
    page::html_opening(&title, true) + &parts + &page::html_closing()
}

/// The sheets as a PDF to print, across the paper; `fonts` are font files for
/// characters that our own font does not have. Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn worksheet_pdf(
    sheets: &[PlannedSheet<'_>],
    paper: PaperSize,
    fonts: Vec<Vec<u8>>,
) -> Result<Pdf, PdfError> {
    let parts = parts(sheets);
    let own = parts.first().map(|part| PdfHead::of(part, paper, fonts));
    let head = PdfHead {
        subject: sheets.first().map(|(head, _)| head.table.title.clone()),
        landscape: true,
        ..own.unwrap_or_default()
    };
    page::pdf(&head, parts.into_iter())
}

fn parts(sheets: &[PlannedSheet<'_>]) -> Vec<Part> {
    let sheets = sheets.iter().enumerate();
    let part = |(index, (head, rows)): (usize, &PlannedSheet<'_>)| Part {
        anchor: format!("worksheet-{}", index + 1),
        ..part(head, rows)
    };
    sheets.map(part).collect()
}

fn part(head: &SheetHead<'_>, rows: &[PlannedItem]) -> Part {
    let title = match head.board {
        Some(board) => format!("Inspection sheet for board {board}"),
        None => "Inspection sheet".to_owned(),
    };
    let source = format!("For {}; source: {}.", head.table.title, head.table.source);
    Part {
        anchor: String::new(),
        title,
        kicker: "To fill in by hand".to_owned(),
        foot: head.board.unwrap_or(&head.table.title).to_owned(),
        on_one_page: false,
        listed: None,
        blocks: [Block::Text(source), Block::Grid(facts(head))]
            .into_iter()
            .chain(where_to_measure(rows))
            .chain([
                Block::Grid(readings(rows)),
                Block::Signature(vec![Fact {
                    name: "Signature".to_owned(),
                    value: None,
                }]),
                Block::Cautions(CAUTIONS.map(str::to_owned).into()),
            ])
            .collect(),
    }
}

/// A drawing of the numbered places, and what to do at them.
fn where_to_measure(rows: &[PlannedItem]) -> Vec<Block> {
    let all = rows.iter().flat_map(|row| &row.places);
    // What is taken across the board names one end of each diameter.
    let mut places: Vec<PlannedPlace> = Vec::new();
    for place in all {
        let far = place.facing();
        for place in [*place, far] {
            if !places.iter().any(|known| known.number == place.number) {
                places.push(place);
            }
        }
    }
    if places.is_empty() {
        return Vec::new();
    }
    places.sort_by_key(|place| place.number);
    let words = "Some limits speak of every place around the board. Take each reading in the \
                 middle of the sector that its row names; what you read again at one place \
                 shows how well you repeat. Another place does as well: name it in the row. \
                 Fewer than four places decide nothing but a failure.";
    vec![
        Block::Figure(draw::sheet_places(&places)),
        Block::Text(words.to_owned()),
    ]
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
    let with_places = has_places(rows);
    let what = [Column::new("what", ColumnKind::Head, 2.0)].into_iter();
    let place = with_places.then(|| Column::new("place", ColumnKind::Words, 0.8));
    let columns = [
        Column::new("edge", ColumnKind::Words, 0.5),
        Column::new("how", ColumnKind::Words, 3.0),
        Column::new("conforms within", ColumnKind::Words, 1.5),
    ];
    let room = (1..=READING_COLUMNS).map(|n| Column::new(n.to_string(), ColumnKind::Room, 1.0));
    let with = Column::new("instrument, if another", ColumnKind::Room, 1.5);
    let row = |(row, place): (&PlannedItem, Option<PlannedPlace>)| {
        let at = place.map(|place| format!("{}, at {}", place.number, place.at));
        let cells = [row.item.to_string().replace('_', " ")].into_iter();
        let cells = cells.chain(with_places.then(|| at.unwrap_or_default()));
        let cells = cells.chain([
            row.edge.map(|edge| edge.to_string()).unwrap_or_default(),
            how(row, place),
            limits(row),
        ]);
        let room = std::iter::repeat_n(String::new(), READING_COLUMNS + 1);
        Row::of(cells.chain(room))
    };
    Grid {
        caption: "Readings in mm, in the order round the board; several of each, taken afresh"
            .to_owned(),
        columns: what
            .chain(place)
            .chain(columns)
            .chain(room)
            .chain([with])
            .collect(),
        rows: each_place(rows).map(row).collect(),
    }
}

/// What to mind while measuring.
pub(super) const CAUTIONS: [&str; 2] = [
    "Take the darts out and the board down before measuring. Old spiders have sprung wire ends and \
     loose staples: wear eye protection, and mind your fingers. Rehang the board on sound fixings.",
    "The governing body's current rules and the venue's own safety rules prevail over this sheet, \
     which is not an official approval.",
];
