//! What is read, as neutral blocks, and its writers.
//!
//! What a report, a comparison, a worksheet or a rule says is put together once, as
//! [parts](Part) made of [blocks](Block). One writer a format turns a part into
//! text or pages; none of them knows what a limit is.

mod contents;
mod html;
mod markdown;
mod model;
#[cfg(feature = "pdf")]
mod pdf;
mod text;

pub(in crate::report) use contents::contents as html_contents;
pub(in crate::report) use html::{
    blocks as html_blocks, closing as html_closing, document as html, opening as html_opening,
    part as html_part, style as html_style,
};
pub(in crate::report) use markdown::{document as markdown, part as markdown_part};
pub(in crate::report) use model::{
    Block, Cell, Column, ColumnKind, Entry, Fact, Grid, Listed, Part, Row,
};
#[cfg(all(test, feature = "pdf"))]
pub(in crate::report) use pdf::printed;
#[cfg(feature = "pdf")]
pub use pdf::{PaperSize, Pdf, PdfError, is_font};
#[cfg(feature = "pdf")]
pub(in crate::report) use pdf::{PdfHead, write as pdf};
pub use text::TextLayout;
pub(in crate::report) use text::{page as text_page, part as text_part};
