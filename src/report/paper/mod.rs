//! A report on paper or on a page, as neutral blocks, and its writers.
//!
//! What a report says is put together once, as [parts](Part) made of
//! [blocks](Block). One writer a format turns a part into text or pages; none of
//! them knows what a limit is.

mod model;

pub(super) use model::{Block, Cell, Column, ColumnKind, Fact, Mark, Part, Row, Table};
