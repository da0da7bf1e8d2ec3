//! Drawings as SVG: pieces and look, shared by every report.

pub(in crate::report) mod amounts;
mod apart;
mod bars;
mod board;
pub(in crate::report) mod control;
pub(in crate::report) mod curves;
mod deviations;
mod edges;
pub(in crate::report) mod face;
mod frame;
pub(in crate::report) mod hatch;
mod key;
pub(in crate::report) mod labels;
mod lens;
mod places;
mod residuals;
mod section;
mod section_rows;
mod section_wires;
mod sheet_places;
mod sheet_section;
mod spots;
pub(in crate::report) mod style;
pub(in crate::report) mod svg;
pub(in crate::report) mod trend;
mod words;

pub(in crate::report) use board::board;
pub(in crate::report) use deviations::deviations;
pub(in crate::report) use edges::edges;
pub use residuals::draw_residuals;
pub(in crate::report) use section::sections;
pub(in crate::report) use sheet_places::sheet_places;
pub(in crate::report) use sheet_section::sheet_section;
pub(in crate::report) use svg::Figure;

#[cfg(feature = "draw")]
use resvg::{
    tiny_skia::{Color, Pixmap, Transform},
    usvg::{Options, Tree},
};
use thiserror::Error;

use crate::conformity::Assessment;
#[cfg(feature = "draw")]
use crate::report::fonts;

/// What a drawing shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The board to scale, each bed by how far its free area deviates, and what is wrong
    /// magnified.
    Board,
    /// Sections through the treble and the double ring.
    Section,
    /// All of it, one below the other; the board alone where there is no section.
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
        What::Board => board(assessment, "b").into(),
        What::Section => {
            let sections = sections(assessment);
            if sections.is_empty() {
                return Err(DrawingError::NoSection);
            }
            sections
        }
        What::Both => {
            let sections = sections(assessment);
            board(assessment, "b").into_iter().chain(sections).collect()
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

/// A drawing that stands alone, as a picture so many pixels wide. Needs the feature
/// `draw`.
#[cfg(feature = "draw")]
pub fn picture(svg: &str, width: u32) -> Result<Vec<u8>, DrawingError> {
    let options = Options {
        font_family: "sans-serif".to_owned(),
        fontdb: fonts::database(),
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options)?;
    let scale = f64::from(width) / f64::from(tree.size().width());
    let height = (f64::from(tree.size().height()) * scale).ceil();
    // A float too large for the type becomes its largest value.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let height = height as u32;
    let too_large = DrawingError::TooLarge(width, height);
    let mut picture = Pixmap::new(width, height).ok_or(too_large)?;
    picture.fill(Color::WHITE);
    #[allow(clippy::cast_possible_truncation)]
    let scale = scale as f32;
    let transform = Transform::from_scale(scale, scale);
    resvg::render(&tree, transform, &mut picture.as_mut());
    let written = picture.encode_png();
    written.map_err(|error| DrawingError::Png(error.to_string()))
}
