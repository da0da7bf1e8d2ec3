//! Where something stands in a file: the same fields in every format.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::Of;
use crate::document::{Document, Place, Span};

/// A place in a file. Lines and columns count from 1, columns in code points;
/// `end_line` and `end_column` are those behind the last character; `start` and
/// `end` are bytes; `pointer` is a JSON Pointer (RFC 6901), where the file has a
/// tree.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct PlaceRecord {
    pub(in crate::report) file: String,
    pub(in crate::report) line: usize,
    pub(in crate::report) column: usize,
    pub(in crate::report) end_line: usize,
    pub(in crate::report) end_column: usize,
    pub(in crate::report) start: usize,
    pub(in crate::report) end: usize,
    pub(in crate::report) pointer: Option<String>,
}

impl PlaceRecord {
    /// A place in a parsed file.
    pub(in crate::report) fn in_document(document: &Document, span: Span) -> Self {
        Self::of(&Place::in_document(document, span))
    }
}

impl Of<Place> for PlaceRecord {
    fn of(place: &Place) -> Self {
        Self {
            file: place.file.to_string(),
            line: place.from.line,
            column: place.from.column,
            end_line: place.to.line,
            end_column: place.to.column,
            start: place.span.start,
            end: place.span.end,
            pointer: place.pointer.clone(),
        }
    }
}
