//! A comparison by areas as a page: for terminals, Markdown, HTML and PDF from one set of
//! blocks, as JSON and CSV from the data itself.

mod tables;
mod words;

use crate::comparison::AreaComparison;
use crate::report::page::{self, Block, Part, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};

/// As text for a terminal.
///
/// ```
/// use ringrule::comparison::{CompareOptions, GivenRatios, compare_by_area};
/// use ringrule::report::{TextLayout, areas_compared_text};
///
/// let ratios = GivenRatios::new(["treble=1.16±0.01".parse()?])?;
/// let comparison = compare_by_area(&[], Some(&ratios), &CompareOptions::default())?;
/// let text = areas_compared_text(&comparison, TextLayout::new(72));
/// assert!(text.lines().all(|line| line.chars().count() <= 72));
/// assert!(text.contains("perfect leg of 501"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn areas_compared_text(comparison: &AreaComparison, layout: TextLayout) -> String {
    page::text_part(&part(comparison), layout)
}

/// As a Markdown document.
pub fn areas_compared_markdown(comparison: &AreaComparison) -> String {
    page::markdown(&part(comparison))
}

/// As one self-contained HTML page.
pub fn areas_compared_html(comparison: &AreaComparison) -> String {
    let part = part(comparison);
    let title = format!("{}: {}", part.kicker, part.foot);
    page::html(&title, &part, false)
}

/// As a PDF; `fonts` are font files for characters that our own font does not have.
/// Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn areas_compared_pdf(
    comparison: &AreaComparison,
    paper: PaperSize,
    fonts: Vec<Vec<u8>>,
) -> Result<Pdf, PdfError> {
    let part = part(comparison);
    page::pdf(&PdfHead::of(&part, paper, fonts), [part].into_iter())
}

/// All that is said.
fn part(comparison: &AreaComparison) -> Part {
    let labels: Vec<&str> = comparison.boards.iter().map(|b| b.label.as_str()).collect();
    let (first, others) = labels.split_first().unwrap_or((&"", &[]));
    let pair = format!("{} against {first}", others.join(", "));
    let mut blocks = vec![
        Block::heading("What is known"),
        Block::Points(words::known(comparison)),
    ];
    blocks.extend(tables::areas(comparison));
    let boards = comparison.boards.iter();
    let boards = boards.map(|own| (own.label.as_str(), &own.filled[..], &own.beside[..]));
    blocks.extend(super::beside::section(boards));
    blocks.extend(tables::targets(comparison));
    blocks.extend(tables::routes(comparison));
    blocks.extend(tables::averages(comparison));
    blocks.push(Block::heading("What this leaves out"));
    blocks.push(Block::Points(words::left_out(comparison)));
    blocks.push(Block::Cautions(words::CAUTIONS.map(str::to_owned).into()));
    Part {
        anchor: "areas".to_owned(),
        title: format!("What the areas say of the difference: {pair}"),
        kicker: "Comparison of dartboards by areas".to_owned(),
        foot: pair,
        on_one_page: false,
        listed: None,
        blocks,
    }
}
