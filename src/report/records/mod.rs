//! What other programs read: one file for each format that is printed, and the
//! pieces that several of them share. No type of the engine is part of a format:
//! a record is made from it here.

/// Records whose fields are those of one of the engine's types, each in its own
/// record. What there is none of is left out, unless it is `serialize_always`.
macro_rules! records {
    ($(
        $(#[$attribute:meta])*
        $record:ident of $engine:ty { $($(#[$key:meta])* $field:ident: $type:ty),+ $(,)? }
    )+) => {$(
        #[serde_with::skip_serializing_none]
        #[derive(Clone, Debug, Serialize, JsonSchema)]
        $(#[$attribute])*
        pub(in crate::report) struct $record { $($(#[$key])* $field: $type),+ }

        impl Of<$engine> for $record {
            fn of(data: &$engine) -> Self {
                Self { $($field: Of::of(&data.$field)),+ }
            }
        }
    )+};
}

pub(in crate::report) mod areas_compared;
pub(in crate::report) mod areas_compared_rows;
mod band;
mod beside;
mod best_aim;
pub(in crate::report) mod board;
mod by_metal;
mod certainty;
pub(in crate::report) mod comparison;
pub(in crate::report) mod comparison_rows;
pub(in crate::report) mod diagnostic;
mod figure_row;
pub(in crate::report) mod findings;
pub(in crate::report) mod history;
pub(in crate::report) mod leg;
pub(in crate::report) mod leg_rows;
mod limit;
pub(in crate::report) mod lint_records;
pub(in crate::report) mod lot;
pub(in crate::report) mod lot_rows;
mod lot_signal;
mod match_averages;
mod people;
pub(in crate::report) mod report;
pub(in crate::report) mod rows;
pub(in crate::report) mod streamed;
mod thrown;
pub(in crate::report) mod use_rows;
mod wires;
mod words;
#[cfg(feature = "workbook")]
pub(in crate::report) mod workbook;

use std::borrow::Cow;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::report::escape;
use crate::units::Length;

/// A record as one document: indented, escaped, with one final newline.
pub(in crate::report) fn to_text(record: &impl Serialize) -> Result<String, serde_json::Error> {
    let text = serde_json::to_string_pretty(record)?;
    Ok(escape::json(&text).into_owned() + "\n")
}

/// How a record is made from data.
trait Of<E> {
    fn of(data: &E) -> Self;
}

/// Numbers and texts are their own records.
macro_rules! as_it_is {
    ($($type:ty),+) => {$(
        impl Of<$type> for $type {
            fn of(data: &$type) -> Self {
                data.clone()
            }
        }
    )+};
}

as_it_is!(bool, f64, u32, usize, String, [f64; 3]);

impl Of<Cow<'static, str>> for String {
    fn of(text: &Cow<'static, str>) -> Self {
        text.to_string()
    }
}

/// Lengths are in mm.
impl Of<Length> for f64 {
    fn of(length: &Length) -> Self {
        length.as_mm()
    }
}

impl<E, R: Of<E>> Of<Option<E>> for Option<R> {
    fn of(data: &Option<E>) -> Self {
        data.as_ref().map(R::of)
    }
}

impl<E, R: Of<E>> Of<Vec<E>> for Vec<R> {
    fn of(data: &Vec<E>) -> Self {
        data.iter().map(R::of).collect()
    }
}

/// Year-month-day.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DayRecord(pub(in crate::report) String);

impl Of<Date> for DayRecord {
    fn of(day: &Date) -> Self {
        Self(day.to_string())
    }
}
