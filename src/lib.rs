//! Ringrule says whether a dartboard is built to rule, and by how much its
//! rings, wires and beds deviate.
//!
//! Everything flows one way. A [`document`] is YAML text as a located tree; a
//! [`board`] is what it says of rings and wires; a [`table`] is what a rulebook
//! says of limits. [`geometry`] turns a board into the free region of every
//! bed, [`conformity`] judges lengths and areas into findings, and [`report`]
//! turns findings into text. Only `report` knows how anything looks, and only
//! the program prints.
//!
//! ```
//! use ringrule::board::Board;
//! use ringrule::conformity::{Judge, Verdict};
//! use ringrule::document::Source;
//! use ringrule::table::Table;
//!
//! let table = Table::read(
//!     Source::new(
//!         "house.yaml",
//!         "format: ringrule/table/1
//! title: House rules
//! source: { document: House rules, provenance: invented }
//! limits:
//!   treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
//! ",
//!     ),
//!     &(),
//! )?;
//! let board = Board::read(Source::new(
//!     "board.yaml",
//!     "format: ringrule/board/1
//! board: { id: FL-99 }
//! mounting: staples
//! units: mm
//! widths: { treble: { width: 7.7, edge: inside } }
//! ",
//! ))?;
//! let judge = Judge::new(&table);
//! assert_eq!(judge.judge(&board).verdict, Verdict::DoesNotConform);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! A result is a calculation, not an official approval: the governing body's
//! current rules prevail.

// Beside the lints of Cargo.toml: a test may stop at an index, a program may not.
#![cfg_attr(not(test), warn(clippy::indexing_slicing, clippy::string_slice))]

#[macro_use]
mod words;

pub mod board;
pub mod comparison;
pub mod conformity;
pub mod document;
pub mod event;
#[cfg(test)]
mod fixtures;
pub mod geometry;
pub mod history;
pub mod lint;
pub mod lot;
pub mod measurement;
pub mod play;
pub mod points;
mod random;
pub mod readings;
pub mod report;
pub mod table;
pub mod units;
#[cfg(feature = "workbook")]
pub mod workbook;
