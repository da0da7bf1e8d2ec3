//! What other programs read: one file for each format that is printed.

pub(in crate::report) mod diagnostic;
pub(in crate::report) mod finding_records;
pub(in crate::report) mod findings;
pub(in crate::report) mod lint_records;
pub(in crate::report) mod place;
