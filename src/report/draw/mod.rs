//! Drawings as SVG: pieces and look, shared by every report.

mod board;
pub(in crate::report) mod face;
pub(in crate::report) mod hatch;
mod key;
pub(in crate::report) mod labels;
mod places;
#[cfg(feature = "draw")]
mod png;
mod section;
mod section_rows;
mod section_wires;
pub(in crate::report) mod style;
pub(in crate::report) mod svg;
mod words;

pub(in crate::report) use board::board;
#[cfg(feature = "draw")]
pub use png::picture;
pub(in crate::report) use section::section;
pub(in crate::report) use svg::Figure;

use thiserror::Error;

use crate::conformity::Assessment;

/// What a drawing shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The board to scale, each band by how far its free area deviates.
    Board,
    /// A section through the treble and the double ring.
    Section,
    /// Both, one below the other; the board alone where there is no section.
    Both,
}

/// Why a drawing could not be made.
#[derive(Debug, Error)]
pub enum DrawingError {
    /// There is nothing that a section could show.
    #[error(
        "no wire of the treble or the double ring has a recorded place, so there is no section to draw"
    )]
    NoSection,
    /// The drawing is not sound SVG. Needs the feature `draw`.
    #[cfg(feature = "draw")]
    #[error("the drawing cannot be turned into a picture: {0}")]
    Svg(#[from] resvg::usvg::Error),
    /// So many pixels do not fit. Needs the feature `draw`.
    #[cfg(feature = "draw")]
    #[error("a picture of {0} × {1} pixels is too large")]
    TooLarge(u32, u32),
    /// The picture could not be written as PNG. Needs the feature `draw`.
    #[cfg(feature = "draw")]
    #[error("the picture cannot be written as PNG: {0}")]
    Png(String),
}

/// A drawing of a judged board as an SVG file of its own.
pub fn draw_svg(assessment: &Assessment<'_>, what: What) -> Result<String, DrawingError> {
    let figures: Vec<Figure> = match what {
        What::Board => vec![board(assessment, "b")],
        What::Section => vec![section(assessment).ok_or(DrawingError::NoSection)?],
        What::Both => {
            let section = section(assessment);
            [board(assessment, "b")]
                .into_iter()
                .chain(section)
                .collect()
        }
    };
    Ok(svg::file(&figures))
}

/// The same as PNG, so many pixels wide, the same bytes on every machine. Needs
/// the feature `draw`.
#[cfg(feature = "draw")]
pub fn draw_png(
    assessment: &Assessment<'_>,
    what: What,
    width: u32,
) -> Result<Vec<u8>, DrawingError> {
    picture(&draw_svg(assessment, what)?, width)
}
