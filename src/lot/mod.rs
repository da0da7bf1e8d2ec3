//! What the boards of a production run say of the process that made them: values
//! and their spread, control charts, beginnings of shifts and drifts, capability.
//!
//! A [`BoardRow`] keeps the few numbers that matter of one judged board, a
//! [`LotBuilder`] gathers them board by board, and a [`Lot`] is what they come to.
//! Pure data, with no file and no sentence in it; the report writers print it.

mod beginning;
mod build;
mod capability;
mod charts;
mod data;
mod ewma;
mod interval;
mod noise;
mod normality;
mod process;
mod row;
mod runs;
mod spread;
mod study;
mod summary;
#[cfg(test)]
mod tests;

pub use beginning::{Beginning, ChangeKind, beginning};
pub use build::{LotBuilder, LotError, Order};
pub use capability::{CONFIDENCE, Capability, Index, Withheld, capability};
pub use charts::{Chart, FALSE_ALARM, FEWEST, NotCharted, Side, Signal, individuals_factor};
pub use data::{Lot, LotBoard, Series, Subject, Tolerance, Unit};
pub use ewma::{WEIGHT, ewma, ewma_alarm, ewma_limit, ewma_share};
pub use interval::cpk_interval;
pub use normality::{DOUBTFUL, Normality, normal_scores};
pub use process::Process;
pub use row::{BoardRow, RowValue};
pub use runs::{longest_run_alarm, shortest_odd_run};
pub use summary::{Extreme, Outside, Summary};
