//! x
pub mod board;
pub mod conformity;
pub mod document;
pub mod geometry;
pub mod report;
pub mod table;
pub mod units;
