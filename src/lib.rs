//! x
pub mod board;
pub mod document;
pub mod geometry;
pub mod table;
pub mod units;
