//! Spreadsheets as people have them: XLSX and ODS files, and CSV, as cells with
//! their places.
//!
//! What a cell holds is read, never guessed: a number is a number and a day a
//! day, a formula is its value as the spreadsheet program last worked it out, and
//! what has no value that can be read is kept as such, for whoever needs that cell
//! to refuse it. Needs the feature `workbook`.

mod grid;
mod guard;
mod nesting;
mod open;
mod open_document;
mod text;

pub use grid::{EPOCH_1900, Grid, GridCell, GridRow, Value, Workbook, column_name};
