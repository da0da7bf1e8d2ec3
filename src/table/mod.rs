//! What a rulebook says: limits, the board it describes, and on whose word.
//!
//! A table may extend another in the same folder tree; limits of the same name
//! are replaced. Every limit keeps the place that it was written at and the
//! source that it was taken from, so that a finding can show both.

mod built_in;
mod decision;
mod extends;
mod file;
mod forms;
mod limit;
mod limit_of_beds;
mod limit_reader;
mod measurand;
mod read;
mod reader;
mod shares;
mod source;

pub use built_in::{BuiltIn, TableName};
pub use decision::{Decision, DecisionScope};
pub use extends::{Shelf, ShelfError, shelf_of, shelf_through};
pub use file::{TableFile, TableFormat};
pub use limit::{BandLimit, Demand, Extent, Interval, Limit, When};
pub use measurand::Measurand;
pub use read::{GaugeUncertainty, Nominal, Table, shape};
pub use source::{Citation, Provenance};
