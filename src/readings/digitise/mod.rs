//! From points of a scan or a coordinate table to a board file.

mod board_file;
mod digitised;
mod feature;
mod frame;
mod make;
mod point_columns;
mod point_facts;
mod point_reader;
mod point_table;
mod ruler;
mod scale;

pub use digitised::{Digitised, DigitisedCircle, DigitisedWire, Origin, OutlyingPoint};
pub use feature::{Feature, NoSuchFeature};
pub use make::digitise;
pub use point_table::PointTable;
pub use scale::{Scale, ScaleBasis};
