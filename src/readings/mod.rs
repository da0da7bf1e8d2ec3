//! From what people wrote down at a board to a value with its uncertainty.
//!
//! [`plan()`] says what a table needs measured, in the order in which a person
//! goes round a board; [`Sheet`] reads a filled sheet; [`pool()`] brings several
//! people's sheets together, tests whether they agree, and makes a board file
//! of them.

mod agreement;
mod board_file;
mod plan;
mod pool;
mod pool_value;
mod sheet;
mod sheet_columns;
mod sheet_facts;
mod sheet_reader;

pub use agreement::{
    Agreement, Measurement, MeasurementError, Shared, agreement, shared_agreement, weighted_mean,
};
pub use board_file::{board_file, to_yaml};
pub use plan::{COLUMNS, FACTS, Item, NoSuchItem, PlannedItem, READING_COLUMNS, plan};
pub use pool::{PoolFault, Pooled, PooledItem, pool};
pub use pool_value::{OnDisagreement, PooledValue, Reading};
pub use sheet::{Entry, EntryValue, Sheet};
