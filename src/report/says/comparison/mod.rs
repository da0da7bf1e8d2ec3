//! A comparison as a page: for terminals, Markdown and HTML from one set of
//! tables, as JSON from the data itself, and as plots alone.

mod boards;
mod html;
mod legs;
mod markdown;
mod page;
mod plots;
mod scores;
mod style;
mod text;
mod words;

use crate::comparison::{Comparison, Subject};
use crate::report::draw::{Figure, svg};

/// What a plot file shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// As text for a terminal.
pub fn comparison_text(comparison: &Comparison) -> String {
    text::write(&words::page(comparison))
}

/// As a Markdown document.
pub fn comparison_markdown(comparison: &Comparison) -> String {
    markdown::write(&words::page(comparison))
}

/// As one self-contained HTML page. `subjects` are the boards that were
/// compared, in the same order.
pub fn comparison_html(comparison: &Comparison, subjects: &[Subject]) -> String {
    let figures = [Plot::Boards, Plot::Odds, Plot::Averages, Plot::Scores]
        .into_iter()
        .flat_map(|plot| figures(plot, comparison, subjects))
        .collect::<Vec<_>>();
    html::write(&words::page(comparison), &figures)
}

/// One plot as an SVG file of its own.
pub fn comparison_plot(plot: Plot, comparison: &Comparison, subjects: &[Subject]) -> String {
    svg::file(&figures(plot, comparison, subjects))
}

fn figures(plot: Plot, comparison: &Comparison, subjects: &[Subject]) -> Vec<Figure> {
    match plot {
        Plot::Boards => boards::figures(comparison, subjects),
        Plot::Odds => plots::odds(comparison),
        Plot::Averages => plots::averages(comparison),
        Plot::Scores => scores::figures(comparison, subjects),
    }
}
