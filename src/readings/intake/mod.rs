//! A spreadsheet of many boards: one row a board, or one for each person who
//! measured it.
//!
//! The first row that has a column `board` says what the columns are. Rows of one
//! board become sheets of that board, which are brought together as those of
//! several people are. Needs the feature `workbook`.

mod boards;
mod columns;
mod facts;
mod instruments;
mod options;
mod rows;
mod take_in;

pub use boards::TakenBoard;
pub use columns::{FactColumn, head_of};
pub use options::IntakeOptions;
pub use take_in::{Intake, take_in};
