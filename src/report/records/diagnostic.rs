//! What is wrong, where, and what to do: the same fields in every format.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use super::place::PlaceRecord;
use super::words::LevelRecord;
use crate::document::{Diagnostic, Related};

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
