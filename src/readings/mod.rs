//! From what people wrote down at a board to a value with its uncertainty.
//!
//! [`plan()`] says what a table needs measured, in the order in which a person
//! goes round a board; [`Sheet`] reads a filled sheet; [`pool()`] brings several
//! people's sheets together in a board file, whose reader tests whether they
//! agree and says what they come to. [`PointTable`] reads points of a scan or a coordinate
//! table, and [`digitise()`] makes a board file of them.

mod board_file;
mod digitise;
#[cfg(feature = "workbook")]
mod intake;
mod item;
mod length_cell;
mod plan;
mod plan_places;
mod pool;
mod pooled;
mod sheet;
mod sheet_columns;
mod sheet_facts;
mod sheet_places;
mod sheet_reader;

pub use board_file::to_yaml;
pub use digitise::{
    Digitised, DigitisedCircle, DigitisedWire, Feature, NoSuchFeature, Origin, OutlyingPoint,
    PointTable, Scale, ScaleBasis, digitise,
};
#[cfg(feature = "workbook")]
pub use intake::{FactColumn, Intake, IntakeOptions, TakenBoard, head_of, take_in};
pub use item::{Item, NoSuchItem};
pub use plan::{COLUMNS, FACTS, PlannedItem, READING_COLUMNS, plan};
pub use plan_places::PlannedPlace;
pub use pool::{PoolFault, pool};
pub use pooled::{Pooled, PooledItem, PooledValue};
pub(crate) use sheet::name;
pub use sheet::{Entry, EntryValue, Sheet};
