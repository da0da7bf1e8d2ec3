//! A report on paper or on a page, as neutral blocks, and its writers.
//!
//! What a report says is put together once, as [parts](Part) made of
//! [blocks](Block). One writer a format turns a part into text or pages; none of
//! them knows what a limit is.

mod html;
mod markdown;
mod model;
mod pdf;
mod style;

pub(in crate::report) use html::{
    closing as html_closing, opening as html_opening, part as html_part,
};
pub(in crate::report) use markdown::part as markdown_part;
pub(in crate::report) use model::{Block, Cell, Column, ColumnKind, Fact, Part, Row, Table};
#[cfg(test)]
pub(in crate::report) use pdf::printed;
pub use pdf::{PaperSize, Pdf, PdfError};
pub(in crate::report) use pdf::{PdfHead, write as pdf};
