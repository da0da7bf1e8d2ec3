//! A whole leg as a page: for terminals, Markdown, HTML and PDF from one set of blocks,
//! as JSON and CSV from the data itself.

mod finishes;
mod plots;
mod tables;
mod translated;
mod wires;
mod words;

pub(in crate::report) use wires::name as wire_name;

use crate::comparison::WholeLegs;
use crate::report::draw::Figure;
use crate::report::page::{self, Block, Part, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
use crate::report::says::comparison::beside;

/// As text for a terminal.
///
/// ```
/// use ringrule::board::Mounting;
/// use ringrule::comparison::{Subject, WholeLegOptions, whole_legs};
/// use ringrule::{document::Source, play::LegOptions, table::Table};
/// use ringrule::report::{TextLayout, leg_text};
///
/// # let path = std::path::Path::new("tolerances/wdf.yaml");
/// # let text = std::fs::read_to_string(path)?;
/// # let source = Source::new("wdf.yaml", text);
/// # let table = Table::read(source, &ringrule::table::shelf_of(path))?;
/// let board = Subject::of_nominal(&table, Mounting::Staples)?;
/// let mut options = WholeLegOptions::default();
/// options.leg = LegOptions::from(40);
/// let legs = whole_legs(&[board], &options)?;
/// let text = leg_text(&legs, TextLayout::new(72));
/// assert!(text.contains("match average"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn leg_text(legs: &WholeLegs, layout: TextLayout) -> String {
    page::text_part(&whole(legs, false), layout)
}

/// As a Markdown document.
pub fn leg_markdown(legs: &WholeLegs) -> String {
    page::markdown(&whole(legs, false))
}

/// As one self-contained HTML page.
pub fn leg_html(legs: &WholeLegs) -> String {
    let part = whole(legs, true);
    page::html(&part.title, &part, false)
}

/// As a PDF; `fonts` are font files for characters that our own font does not have.
/// Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn leg_pdf(legs: &WholeLegs, paper: PaperSize, fonts: Vec<Vec<u8>>) -> Result<Pdf, PdfError> {
    let first = part(legs, true);
    let finishes = legs.boards.iter().enumerate().map(|(index, board)| {
        let blocks = vec![
            Block::Grid(finishes::side_by_side(board)),
            Block::Note(words::SHORT.to_owned()),
        ];
        Part {
            anchor: format!("finishes-{index}"),
            title: format!("Where to aim on {}", board.label),
            foot: board.label.clone(),
            on_one_page: true,
            blocks,
            ..first.clone()
        }
    });
    let finishes: Vec<Part> = finishes.collect();
    let head = PdfHead::of(&first, paper, fonts);
    page::pdf(&head, [first].into_iter().chain(finishes))
}

/// All of it in one part.
fn whole(legs: &WholeLegs, page: bool) -> Part {
    let mut part = part(legs, page);
    // Cautions stand last.
    let cautions = part.blocks.pop();
    for board in &legs.boards {
        let heading = format!("Where to aim on {}", board.label);
        part.blocks.push(Block::heading(heading));
        part.blocks.push(Block::Grid(if page {
            finishes::side_by_side(board)
        } else {
            finishes::one_below_the_other(legs, board)
        }));
    }
    let note = if page { words::SHORT } else { words::FINISHES };
    part.blocks.push(Block::Note(note.to_owned()));
    part.blocks.extend(cautions);
    part
}

/// All but where to aim; with drawings, and tables as a printed page has room for, if
/// it is for one.
fn part(legs: &WholeLegs, page: bool) -> Part {
    let start = legs.leg.start;
    let drawn = |figures: fn(&WholeLegs) -> Vec<Figure>| {
        let figures = if page { figures(legs) } else { Vec::new() };
        figures.into_iter().map(Block::Figure)
    };
    let mut blocks = Vec::new();
    if let Some(first) = legs.boards.first() {
        blocks.push(words::answer(legs, first));
    }
    blocks.push(Block::heading("What was assumed"));
    blocks.push(Block::Points(words::assumptions(legs)));
    let boards = legs.boards.iter();
    blocks.extend(beside::section(
        boards.map(|own| (own.label.as_str(), &own.filled[..], &[][..])),
    ));
    blocks.push(Block::heading("The leg"));
    blocks.push(Block::Grid(tables::figures(legs)));
    blocks.push(Block::Note(words::sure(legs)));
    blocks.push(Block::heading("How long it takes"));
    blocks.push(Block::Grid(tables::lengths(legs)));
    blocks.extend(drawn(plots::lengths));
    blocks.push(Block::heading("The perfect leg"));
    blocks.push(Block::Grid(tables::perfect(legs)));
    if legs.against.is_some() {
        blocks.push(Block::heading("Against the other player"));
        blocks.push(Block::Grid(tables::against(legs)));
        blocks.push(Block::Note(words::AGAINST.to_owned()));
    }
    blocks.extend(translated::blocks(legs));
    blocks.extend(drawn(plots::translated));
    blocks.extend(wires::blocks(legs));
    blocks.extend(drawn(plots::wires));
    for board in legs.boards.iter().skip(1) {
        blocks.extend(tables::differences(legs, board));
    }
    blocks.push(Block::Cautions(words::CAUTIONS.map(str::to_owned).into()));
    let labels: Vec<&str> = legs
        .boards
        .iter()
        .map(|board| board.label.as_str())
        .collect();
    let labels = labels.join(", ");
    Part {
        anchor: "leg".to_owned(),
        title: format!("A leg of {start} on {labels}"),
        kicker: "A whole leg, dart by dart".to_owned(),
        foot: labels,
        on_one_page: false,
        listed: None,
        blocks,
    }
}
