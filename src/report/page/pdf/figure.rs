//! Drawings: their place on a page, and their SVG made ready for print.

use std::collections::BTreeSet;
use std::sync::Arc;

use krilla::tagging::Tag;
use resvg::usvg::{Options, Tree, fontdb::Source};

use super::PdfError;
use super::face::Faces;
use super::flow::Strips;
use super::layout::Layout;
use super::list::{Item, NodeId};
use super::look;
use super::look::MARGIN;
use crate::report::draw::{Figure, style, svg::number};
use crate::report::fonts;

/// The share of a page's height that a drawing may take, so that a board and the
/// section through its rings stand on one page. House rule.
const TALLEST: f32 = 0.5;

impl Layout<'_> {
    /// Drawings side by side, each with its caption under it.
    pub(super) fn figures(&mut self, figures: Vec<Figure>, parent: NodeId) {
        let count = figures.len().max(1) as f32;
        let column = (self.width() - look::BETWEEN * (count - 1.0)) / count;
        let tallest = self.scale * TALLEST * self.flow.measure.text_height();
        let mut x = 0.0;
        let mut placed = Vec::new();
        let mut captions: Vec<Strips> = Vec::new();
        for figure in figures {
            let (width, height) = size(&figure, column, tallest);
            let holder = self.tree.add(parent, Tag::Div);
            let alt = alternative(&figure);
            let alt = self.clean(&alt);
            let node = self.tree.add(holder, Tag::Figure(Some(alt)));
            let caption = self.tree.add(holder, Tag::P);
            let lines = self.set(&figure.title, look::CAPTION, column);
            let mut strips = Strips::default();
            strips.lines(x, lines, look::CAPTION, Some(caption));
            captions.push(strips);
            // One alone stands in the middle.
            let aside = if count > 1.0 {
                0.0
            } else {
                0.5 * (column - width)
            };
            placed.push((x + aside, width, height, figure, node));
            x += column + look::BETWEEN;
        }
        let height = placed.iter().map(|p| p.2).fold(0.0, f32::max);
        let below = captions.iter().map(Strips::height).fold(0.0, f32::max);
        self.flow.begin(height + 4.0 + below);
        let top = self.flow.y;
        for (x, width, own, figure, node) in placed {
            self.flow.put(Item::Drawing {
                x: MARGIN + x,
                // Drawings of one row stand on one line, just above their words.
                y: top + height - own,
                width,
                height: own,
                figure,
                node,
            });
        }
        let top = top + height + 4.0;
        let mut end = top;
        let page = self.flow.pages.len();
        for strips in captions {
            if self.flow.pages.len() == page {
                self.flow.y = top;
            }
            for strip in strips.0 {
                self.flow.strip(strip);
            }
            // A caption of many pages leaves the figure's page.
            end = if self.flow.pages.len() == page {
                end.max(self.flow.y)
            } else {
                self.flow.y
            };
        }
        self.flow.y = end;
        self.flow.gap(look::GAP);
    }
}

/// A drawing's size on paper: its own, or smaller.
fn size(figure: &Figure, widest: f32, tallest: f32) -> (f32, f32) {
    #[expect(clippy::cast_possible_truncation, reason = "pixels of a drawing")]
    let (width, height) = (figure.width as f32, figure.height as f32);
    if !(width > 0.0 && height > 0.0 && width.is_finite() && height.is_finite()) {
        // Drawing it will fail with a reason; the layout must stay finite.
        return (0.0, 0.0);
    }
    let scale = look::PIXEL.min(widest / width).min(tallest / height);
    (width * scale, height * scale)
}

/// What a drawing shows, never empty.
fn alternative(figure: &Figure) -> String {
    let words = [figure.description.trim(), figure.title.trim()];
    let found = words.into_iter().find(|words| !words.is_empty());
    found.unwrap_or("Drawing").to_owned()
}

/// A drawing as an SVG file of its own.
pub(super) fn file(figure: &Figure, faces: &Faces<'_>, missing: &mut BTreeSet<char>) -> String {
    let body = faces.cover(&figure.body, missing);
    style::printed(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" width=\"{w}\" \
         height=\"{h}\"><style>{}</style>{body}</svg>",
        style::file(),
        w = number(figure.width),
        h = number(figure.height),
    ))
}

/// How SVG is read: with our fonts, then the caller's, and nothing from outside.
pub(super) fn options(more: &[Vec<u8>]) -> Options<'static> {
    let mut fonts = fonts::database();
    for data in more {
        let data = Arc::new(data.clone());
        Arc::make_mut(&mut fonts).load_font_source(Source::Binary(data));
    }
    Options {
        fontdb: fonts,
        ..Options::default()
    }
}

pub(super) fn read(svg: &str, figure: &Figure, options: &Options<'_>) -> Result<Tree, PdfError> {
    Tree::from_str(svg, options).map_err(|error| PdfError::Drawing {
        title: figure.title.clone(),
        why: error.to_string(),
    })
}
