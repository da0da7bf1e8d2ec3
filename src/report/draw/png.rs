//! Drawings as pictures.

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};

use super::DrawingError;
use crate::report::fonts;

/// A drawing that stands alone, as a picture so many pixels wide. Needs the feature
/// `draw`.
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
    picture.fill(resvg::tiny_skia::Color::WHITE);
    #[allow(clippy::cast_possible_truncation)]
    let scale = scale as f32;
    let transform = Transform::from_scale(scale, scale);
    resvg::render(&tree, transform, &mut picture.as_mut());
    let written = picture.encode_png();
    written.map_err(|error| DrawingError::Png(error.to_string()))
}
