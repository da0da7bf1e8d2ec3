//! x
pub mod board;
pub mod document;
pub mod units;
