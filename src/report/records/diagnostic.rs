//! What is wrong, where, and what to do: the same fields in every format.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::Of;
use super::words::LevelRecord;
use crate::document::{Diagnostic, Document, Place, Related, Span};

records! {
    /// What is wrong with a file.
    DiagnosticRecord of Diagnostic {
        /// The code of the rule, or of the fault of structure.
        code: String,
        level: LevelRecord,
        /// What is wrong, with the value.
        message: String,
        /// What to do about it.
        remedy: Option<String>,
        place: PlaceRecord,
        /// Other places that the message names.
        related: Vec<RelatedRecord>,
    }

    /// Another place that a message names.
    RelatedRecord of Related {
        /// What stands there.
        label: String,
        place: PlaceRecord,
    }
}

impl DiagnosticRecord {
    pub(super) fn message(&self) -> &str {
        &self.message
    }
}

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
