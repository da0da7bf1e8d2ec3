//! A production run as a page: for terminals, Markdown, HTML and PDF from one set of
//! blocks, as JSON and CSV from the data itself.

mod figures;
mod method;
mod tables;
pub(in crate::report) mod words;

use crate::lot::Lot;
use crate::report::page::{self, Block, Part, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
use crate::report::says::phrases::count;

/// As text for a terminal.
///
/// ```
/// # use ringrule::{board::{Board, Mounting}, document::Source, table::{BuiltIn, Table}};
/// use ringrule::conformity::Judge;
/// use ringrule::lot::{BoardRow, LotBuilder, Order};
/// use ringrule::report::{TextLayout, lot_text};
///
/// # let text = "format: ringrule/table/1
/// # title: House rules
/// # source: { document: House rules, provenance: invented }
/// # limits:
/// #   treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
/// # ";
/// # let board = |at: usize| Board::read(Source::new("b.yaml", format!("format: ringrule/board/1
/// # board: {{ id: B-{at} }}
/// # mounting: staples
/// # units: mm
/// # widths: {{ treble: {{ width: {}, edge: inside }} }}
/// # ", 7.9 + 0.01 * (at % 7) as f64)));
/// let table = Table::read(Source::new("house.yaml", text), &())?;
/// let judge = Judge::new(&table);
/// let mut lot = LotBuilder::new(&table);
/// for at in 0..40 {
///     lot.add(BoardRow::of(&judge.judge(&board(at)?)));
/// }
/// let lot = lot.finish(Order::File).expect("a run");
/// let text = lot_text(&lot, TextLayout::new(80));
/// assert!(text.starts_with("A production run of 40 boards"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn lot_text(lot: &Lot<'_>, layout: TextLayout) -> String {
    page::text_part(&part(lot, false), layout)
}

/// As a Markdown document, without drawings.
pub fn lot_markdown(lot: &Lot<'_>) -> String {
    page::markdown(&part(lot, false))
}

/// As one self-contained HTML page with charts.
pub fn lot_html(lot: &Lot<'_>) -> String {
    let part = part(lot, true);
    page::html(&part.title, &part, false)
}

/// As a PDF with charts; `fonts` are font files for characters that our own font does
/// not have. Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn lot_pdf(lot: &Lot<'_>, paper: PaperSize, fonts: Vec<Vec<u8>>) -> Result<Pdf, PdfError> {
    let part = part(lot, true);
    page::pdf(&PdfHead::of(&part, paper, fonts), [part].into_iter())
}

/// All that is said of a run.
fn part(lot: &Lot<'_>, drawn: bool) -> Part {
    let title = format!(
        "A production run of {}",
        count(lot.boards.len(), "board", "boards")
    );
    let mut blocks = vec![Block::Text(words::state(lot))];
    blocks.extend(Block::section(
        "What the charts name",
        Block::points(words::named(lot)),
    ));
    blocks.push(Block::heading("The values"));
    blocks.push(Block::Grid(tables::values(lot)));
    blocks.push(Block::heading("The process"));
    blocks.push(Block::Grid(tables::process(lot)));
    blocks.extend(Block::section(
        "Remarks",
        Block::points(words::remarks(lot)),
    ));
    if drawn {
        blocks.extend(figures::blocks(lot));
    }
    blocks.push(Block::heading("How it was worked out"));
    blocks.push(Block::Points(method::method(lot)));
    blocks.push(Block::Cautions(method::CAUTIONS.map(str::to_owned).into()));
    Part {
        anchor: "run".to_owned(),
        title,
        kicker: "Production run".to_owned(),
        foot: lot.table.title.clone(),
        on_one_page: false,
        listed: None,
        blocks,
    }
}
