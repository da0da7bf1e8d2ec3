//! A comparison as a page: for terminals, Markdown, HTML and PDF from one set of
//! blocks, as JSON from the data itself, and as plots alone.

pub(in crate::report) mod beside;
mod boards;
pub(in crate::report) mod by_area;
mod contours;
mod plots;
mod scores;
pub(in crate::report) mod sure;
mod tables;
pub(in crate::report) mod thrown;
pub(in crate::report) mod words;

use crate::comparison::{Comparison, Subject};
use crate::report::draw::{Figure, svg};
use crate::report::page::{self, Block, Part, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};

/// What a plot file shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Plot {
    /// The boards, with the beds that shrank.
    Boards,
    /// How many times harder against spread.
    Odds,
    /// Average against average.
    Averages,
    /// The expected score over each board.
    Scores,
}

impl Plot {
    /// The heading above it on a page.
    const fn heading(self) -> &'static str {
        match self {
            Self::Boards => "The boards",
            Self::Odds => "Times harder, against spread",
            Self::Averages => "Averages, gained or lost",
            Self::Scores => "Expected scores",
        }
    }
}

/// As text for a terminal.
///
/// ```
/// # use ringrule::comparison::{CompareOptions, Subject, compare};
/// # use ringrule::{board::Mounting, document::Source, table::Table};
/// use ringrule::report::{TextLayout, comparison_markdown, comparison_text};
///
/// # let path = std::path::Path::new("tolerances/wdf.yaml");
/// # let text = std::fs::read_to_string(path)?;
/// # let source = Source::new("wdf.yaml", text);
/// # let table = Table::read(source, &ringrule::table::shelf_of(path))?;
/// let boards = [
///     Subject::of_nominal(&table, Mounting::Embedded)?,
///     Subject::of_nominal(&table, Mounting::Staples)?,
/// ];
/// let comparison = compare(&boards, &CompareOptions::default())?;
/// let text = comparison_text(&comparison, TextLayout::new(72));
/// assert!(text.lines().all(|line| line.chars().count() <= 72));
/// assert!(text.contains("perfect leg of 501"));
/// assert!(comparison_markdown(&comparison).starts_with("# "));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn comparison_text(comparison: &Comparison, layout: TextLayout) -> String {
    page::text_part(&part(comparison, &[]), layout)
}

/// As a Markdown document, without drawings.
pub fn comparison_markdown(comparison: &Comparison) -> String {
    page::markdown(&part(comparison, &[]))
}

/// As one self-contained HTML page. `subjects` are the boards that were
/// compared, in the same order.
pub fn comparison_html(comparison: &Comparison, subjects: &[Subject]) -> String {
    let part = part(comparison, subjects);
    let title = format!("{}: {}", part.kicker, part.foot);
    page::html(&title, &part, false)
}

/// As a PDF; `fonts` are font files for characters that our own font does not
/// have. Needs the feature `pdf`.
#[cfg(feature = "pdf")]
pub fn comparison_pdf(
    comparison: &Comparison,
    subjects: &[Subject],
    paper: PaperSize,
    fonts: Vec<Vec<u8>>,
) -> Result<Pdf, PdfError> {
    let part = part(comparison, subjects);
    page::pdf(&PdfHead::of(&part, paper, fonts), [part].into_iter())
}

/// One plot as an SVG file of its own.
pub fn comparison_plot(plot: Plot, comparison: &Comparison, subjects: &[Subject]) -> String {
    svg::side_by_side(&figures(plot, comparison, subjects))
}

fn figures(plot: Plot, comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    match plot {
        Plot::Boards => boards::figures(comparison, subjects),
        Plot::Odds => plots::odds(comparison),
        Plot::Averages => plots::averages(comparison),
        Plot::Scores => scores::figures(comparison, subjects),
    }
}

/// All that is said of a comparison; with drawings where the boards are at hand.
fn part(comparison: &Comparison, subjects: &[Subject]) -> Part {
    let labels: Vec<&str> = comparison.boards.iter().map(|b| b.label.as_str()).collect();
    let (first, others) = labels.split_first().unwrap_or((&"", &[]));
    let pair = format!("{} against {first}", others.join(", "));
    let drawn = |plot: Plot| {
        let figures = if subjects.is_empty() {
            Vec::new()
        } else {
            figures(plot, comparison, subjects)
        };
        Block::section(plot.heading(), figures.into_iter().map(Block::Figure))
    };
    let mut blocks = vec![
        Block::heading("What was assumed"),
        Block::Points(words::assumptions(comparison)),
    ];
    let boards = comparison.boards.iter();
    let boards = boards.map(|own| (own.label.as_str(), &own.filled[..], &own.beside[..]));
    blocks.extend(beside::section(boards));
    blocks.extend(drawn(Plot::Boards));
    blocks.extend(tables::differences(comparison));
    blocks.extend(tables::legs(&comparison.legs, &comparison.boards));
    for plot in [Plot::Odds, Plot::Averages, Plot::Scores] {
        blocks.extend(drawn(plot));
    }
    blocks.push(Block::Cautions(words::CAUTIONS.map(str::to_owned).into()));
    Part {
        anchor: "comparison".to_owned(),
        title: format!("What the difference does to the game: {pair}"),
        kicker: "Comparison of dartboards".to_owned(),
        foot: pair,
        on_one_page: false,
        listed: None,
        blocks,
    }
}
