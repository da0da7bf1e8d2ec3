//! Data put into words: one file for each thing that is said.

#[cfg(feature = "workbook")]
pub(in crate::report) mod blank_workbook;
pub(in crate::report) mod board_rows;
pub(in crate::report) mod board_text;
pub(in crate::report) mod budget;
pub(in crate::report) mod comparison;
pub(in crate::report) mod compliance;
pub(in crate::report) mod desk;
pub(in crate::report) mod digitised_text;
pub(in crate::report) mod history;
pub(in crate::report) mod judged;
pub(in crate::report) mod leg;
#[cfg(feature = "cli")]
pub(in crate::report) mod lint_text;
pub(in crate::report) mod lot;
pub(in crate::report) mod people;
pub(in crate::report) mod phrases;
pub(in crate::report) mod pool_text;
pub(in crate::report) mod reasons;
pub(in crate::report) mod rule_pages;
pub(in crate::report) mod simulation_text;
pub(in crate::report) mod summary_text;
pub(in crate::report) mod uneven;
pub(in crate::report) mod usage;
mod warmth;
pub(in crate::report) mod worksheet;
pub(in crate::report) mod worksheet_page;
