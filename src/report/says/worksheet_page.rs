//! A blank inspection sheet as a page to print: one sheet of paper for a board.

use super::phrases;
use super::worksheet::{CAUTIONS, PlannedSheet, SheetHead, has_places};
use crate::board::{Edge, Quantity};
use crate::readings::{PlannedItem, PlannedPlace, READING_COLUMNS};
use crate::report::draw;
use crate::report::page::{self, Block, Column, ColumnKind, Fact, Grid, Part, Row};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
use crate::table::{Extent, Interval, Measurand};

/// On paper everything stands closer than on other pages, and the title once: a sheet
/// lies beside the board.
const PRINTED: &str = "@page{margin:12mm 14mm 14mm}@media print{h1.title{display:none}\
    h2{font-size:1.3rem;margin:0 0 .3rem}.kicker{margin:0}.note,.cautions{font-size:8.5pt;line-height:1.3}\
    .note{margin:.3rem 0;max-width:none}.room{height:1.5rem;min-width:2.7rem}figure{margin:.3rem 0}\
    figcaption{font-size:8pt;line-height:1.3}caption{padding:.1rem 0}.signature{margin:0}\
    .signature>div{padding:.2rem 0}.cautions{margin:.5rem 0 0}\
    .beside{gap:.4rem 1rem}figure svg{max-height:52mm}}";

/// How many readings a page has room for at each place: a second one shows how well
/// they repeat, at all places together. House rule.
const AT_A_PLACE: usize = 2;

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
/// let page = worksheet_html(&sheets);
/// assert!(page.contains("Inspection sheet for board") && page.contains("FL-99"));
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
    // What a title says cannot end a style: it is escaped.
    let opening = page::html_opening(&title, false);
    let opening = opening.replacen("</style>", &format!("{PRINTED}</style>"), 1);
    opening + &parts + &page::html_closing()
}

/// The sheets as a PDF to print; `fonts` are font files for characters that our own
/// font does not have. Needs the feature `pdf`.
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

/// A row and the letter by which the drawing names it.
type Lettered<'a> = (char, &'a PlannedItem);

fn part(head: &SheetHead<'_>, rows: &[PlannedItem]) -> Part {
    let title = match head.board {
        Some(board) => format!("Inspection sheet for board {board}"),
        None => "Inspection sheet".to_owned(),
    };
    let lettered: Vec<Lettered<'_>> = ('A'..='Z').zip(rows).collect();
    let (at_places, elsewhere): (Vec<Lettered<'_>>, Vec<Lettered<'_>>) = lettered
        .iter()
        .copied()
        .partition(|(_, row)| !row.places.is_empty());
    let places = all_places(rows);
    let mut blocks = vec![Block::Note(about(head)), Block::Grid(facts(head))];
    blocks.extend(drawings(head, &lettered, &places));
    if !at_places.is_empty() {
        blocks.push(Block::Note(AT_PLACES.to_owned()));
        blocks.push(Block::Grid(readings_at_places(&at_places, &places)));
        blocks.extend(forms(&at_places).map(Block::Note));
    }
    if !elsewhere.is_empty() {
        blocks.push(Block::Grid(readings(&elsewhere)));
    }
    let signature = Fact {
        name: "Signature".to_owned(),
        value: None,
    };
    blocks.push(Block::Signature(vec![signature]));
    blocks.push(Block::Cautions(CAUTIONS.map(str::to_owned).into()));
    Part {
        anchor: String::new(),
        title,
        kicker: "To fill in by hand".to_owned(),
        foot: head.board.unwrap_or(&head.table.title).to_owned(),
        on_one_page: !has_places(rows),
        listed: None,
        blocks,
    }
}

const AT_PLACES: &str = "Some limits hold at every place around the board: take each reading in \
    the middle of the sector that its column names. A second reading at a place shows how well \
    you repeat. Another place does as well: note it. Fewer than four places decide nothing but \
    a failure.";

/// What the sheet is for, in a line or two.
fn about(head: &SheetHead<'_>) -> String {
    let name = head
        .name
        .map(|name| format!("{name}. "))
        .unwrap_or_default();
    format!(
        "{name}Mounting: {}; wires: {}. For {}; source: {}.",
        head.mounting, head.profile, head.table.title, head.table.source
    )
}

/// What there is to say of the measurement, a column each: what the line above says
/// needs none.
fn facts(head: &SheetHead<'_>) -> Grid {
    let (board, name) = (head.board.is_none(), head.name.is_none());
    let asked = head.facts().into_iter().filter(|(word, ..)| match *word {
        "board" => board,
        "name" => name && board,
        word => !matches!(word, "mounting" | "profile"),
    });
    let (mut columns, mut values) = (Vec::new(), Vec::new());
    for (word, _, value) in asked {
        let column = match word {
            "resolution" => "resolution, mm",
            "max error" => "max error, mm",
            word => word,
        };
        columns.push(Column::new(column, ColumnKind::Room, 1.0));
        values.push(value);
    }
    Grid {
        caption: "The measurement".to_owned(),
        columns,
        rows: vec![Row::of(values)],
    }
}

fn drawings(
    head: &SheetHead<'_>,
    rows: &[Lettered<'_>],
    places: &[PlannedPlace],
) -> impl Iterator<Item = Block> {
    let marked = rows.iter();
    let marked: Vec<_> = marked
        .map(|(letter, row)| (*letter, row.item.0, row.edge))
        .collect();
    let edges = rows.iter().any(|(_, row)| row.edge.is_some());
    let figures = [
        Some(draw::sheet_section(&marked, head.profile)),
        edges.then(|| draw::edges(head.profile)),
        (!places.is_empty()).then(|| draw::sheet_places(places)),
    ];
    figures.into_iter().flatten().map(Block::Figure)
}

/// Every place where something is asked for. What is taken across the board names
/// one end of each diameter.
fn all_places(rows: &[PlannedItem]) -> Vec<PlannedPlace> {
    let mut places: Vec<PlannedPlace> = Vec::new();
    for place in rows.iter().flat_map(|row| &row.places) {
        for place in [*place, place.facing()] {
            if !places.iter().any(|known| known.number == place.number) {
                places.push(place);
            }
        }
    }
    places.sort_by_key(|place| place.number);
    places
}

/// What a row is called, with its letter in the drawing.
fn name((letter, row): &Lettered<'_>) -> String {
    format!("{letter} {}", row.item.to_string().replace('_', " "))
}

/// From where to where, in a few words: the drawing shows it.
fn taken(row: &PlannedItem) -> String {
    let edge = match row.edge {
        Some(Edge::Inside) => "inside",
        Some(Edge::Outside) => "outside",
        Some(Edge::Apex) | None => "apex",
    };
    match row.item.0 {
        Quantity::Ring(_, true) => format!("across, {edge}"),
        Quantity::Ring(_, false) => format!("centre to {edge}"),
        Quantity::Width(_) => edge.to_owned(),
        Quantity::Overall => "across the board".to_owned(),
        Quantity::RingWires
        | Quantity::RingWire(_)
        | Quantity::SectorWires
        | Quantity::SectorWire(_) => "thickness".to_owned(),
        Quantity::Offset(..) | Quantity::SectorOffset(_) => "off the middle".to_owned(),
        Quantity::Turn(_) => "off its bearing".to_owned(),
    }
}

/// The limits on the length itself. The last word tells a radius from a diameter.
fn conforms(row: &PlannedItem) -> String {
    let own = || row.limits.iter().filter(|(what, ..)| !what.is_of_a_ring());
    let several = own().count() > 1;
    let words = own().map(|(what, interval, of)| {
        // The table's caption says that all are in mm.
        let interval = interval_of(*what, *interval).replace(" mm", "");
        let mean = if !row.places.is_empty() && *of != Extent::EveryPlace {
            ", in the mean"
        } else {
            ""
        };
        let name = what.to_string();
        match name.rsplit(' ').next() {
            Some(kind) if several => format!("{kind} {interval}{mean}"),
            _ => format!("{interval}{mean}"),
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

fn interval_of(measurand: Measurand, interval: Interval) -> String {
    phrases::interval(interval, phrases::decimals(measurand))
}

/// Limits that follow from readings of a ring at places, each with the rows that
/// serve it.
fn forms(rows: &[Lettered<'_>]) -> Option<String> {
    let mut forms: Vec<(String, Vec<String>)> = Vec::new();
    for (letter, row) in rows {
        for (what, interval, _) in &row.limits {
            if !what.is_of_a_ring() {
                continue;
            }
            let words = format!("{what} {}", interval_of(*what, *interval));
            match forms.iter_mut().find(|(known, _)| *known == words) {
                Some((_, letters)) => letters.push(letter.to_string()),
                None => forms.push((words, vec![letter.to_string()])),
            }
        }
    }
    if forms.is_empty() {
        return None;
    }
    let forms = forms.iter();
    let forms: Vec<String> = forms
        .map(|(words, letters)| format!("{words} (from {})", letters.join(", ")))
        .collect();
    Some(format!(
        "What follows from these readings conforms as well: {}.",
        forms.join("; ")
    ))
}

/// The columns that say what to do.
fn columns() -> impl Iterator<Item = Column> {
    [
        Column::new("what", ColumnKind::Head, 1.0),
        Column::new("taken to", ColumnKind::Words, 1.0),
        Column::new("conforms within", ColumnKind::Words, 2.0),
    ]
    .into_iter()
}

fn readings_at_places(rows: &[Lettered<'_>], places: &[PlannedPlace]) -> Grid {
    let room = |place: &PlannedPlace| {
        let head = format!("{} at {}", place.number, place.at);
        Column::new(head, ColumnKind::Room, 1.0)
    };
    let mut grid = Grid {
        caption: "Readings in mm at places, two at each; across, from a place to the one opposite"
            .to_owned(),
        columns: columns().chain(places.iter().map(room)).collect(),
        rows: Vec::new(),
    };
    for lettered in rows {
        let (letter, row) = lettered;
        let cell = |place: &PlannedPlace| {
            let asked = row.places.iter().any(|asked| asked.number == place.number);
            if asked { "" } else { "–" }.to_owned()
        };
        for reading in 1..=AT_A_PLACE {
            let head = if reading == 1 {
                [name(lettered), taken(row), conforms(row)]
            } else {
                [format!("{letter} again"), String::new(), String::new()]
            };
            grid.rows
                .push(Row::of(head.into_iter().chain(places.iter().map(cell))));
        }
    }
    grid
}

fn readings(rows: &[Lettered<'_>]) -> Grid {
    let room = (1..=READING_COLUMNS).map(|n| Column::new(n.to_string(), ColumnKind::Room, 1.0));
    let row = |lettered: &Lettered<'_>| {
        let (_, row) = lettered;
        let cells = [name(lettered), taken(row), conforms(row)].into_iter();
        Row::of(cells.chain(std::iter::repeat_n(String::new(), READING_COLUMNS)))
    };
    Grid {
        caption:
            "Readings in mm; several of each, taken afresh; note another instrument beside its row"
                .to_owned(),
        columns: columns().chain(room).collect(),
        rows: rows.iter().map(row).collect(),
    }
}
