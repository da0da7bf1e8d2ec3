//! What is declared of workbooks.

use crate::document::{DayOrder, DecimalMark};
use crate::table::Table;

/// How workbooks are written, as far as they do not say so themselves.
#[derive(Clone, Copy, Debug, Default)]
pub struct IntakeOptions<'t> {
    /// What stands before the decimals of numbers that are written as text.
    pub decimal: DecimalMark,
    /// Which number of a date such as `03/10/2026` is the day.
    pub days: Option<DayOrder>,
    /// Whether numbers in columns of days are days where the file does not say so.
    pub serial_days: bool,
    /// The table whose edges hold for columns that name none.
    pub table: Option<&'t Table>,
    /// What a comment at the head of each board file says, such as where it is from.
    pub note: &'t str,
    /// Whether what the rows of every board come to is kept, and not only where people
    /// disagree.
    pub keeps_all: bool,
}
