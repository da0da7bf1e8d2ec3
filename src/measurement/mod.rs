//! What repeated readings of several people say of a length: how well one
//! person repeats, which reading stands apart, whether people agree, and what
//! value they give together.
//!
//! Pure statistics, all lengths in mm, with no file and no sentence in it. A
//! sheet is a list of [`Cell`]s; [`repeatability()`] pools their scatter,
//! [`standing_apart`] finds slips, [`Contribution::of`] joins a cell with its
//! repeatability, [`agreement()`] tests the rows and [`combine()`] gives a row's
//! value; [`evaluate`] does all of that for a whole sheet.

mod agreement;
mod basis;
mod between_people;
mod cell;
mod combine;
mod components;
mod composition;
mod contribution;
mod copies;
mod equal_scatter;
mod evaluation;
mod least_squares;
#[cfg(test)]
mod odd_input;
mod outlier;
mod probability;
mod repeatability;
#[cfg(test)]
mod simulation;

pub use agreement::{Pair, RowAgreement, SHEET_LEVEL, agreement};
pub use basis::{Apart, Basis};
pub use cell::Cell;
pub use combine::combine;
pub use components::{Between, Combined, Components, InstrumentPart};
pub use contribution::Contribution;
pub use copies::{CopiedSheet, copies};
pub use evaluation::{EvaluatedRow, Evaluation, Measured, evaluate, standing_apart_by};
pub use outlier::{JudgedBy, StandsApart, standing_apart};
pub use repeatability::{Repeatability, SheetRepeatability, repeatability};
