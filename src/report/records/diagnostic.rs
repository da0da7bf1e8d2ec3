//! What is wrong, where, and what to do: the same fields in every format.

use schemars::JsonSchema;
use serde::Serialize;

use super::place::PlaceRecord;
use crate::document::{Diagnostic, Level};

/// What is wrong with a file.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DiagnosticRecord {
    /// The code of the rule, or of the fault of structure.
    pub(in crate::report) code: String,
    pub(in crate::report) level: LevelRecord,
    /// What is wrong, with the value.
    pub(in crate::report) message: String,
    /// What to do about it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) remedy: Option<String>,
    pub(in crate::report) place: PlaceRecord,
    /// Other places that the message names.
    pub(in crate::report) related: Vec<RelatedRecord>,
}

/// Another place that a message names.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct RelatedRecord {
    /// What stands there.
    pub(in crate::report) label: String,
    pub(in crate::report) place: PlaceRecord,
}

/// How much a diagnostic counts: the levels of SARIF 2.1.0.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::report) enum LevelRecord {
    Note,
    Warning,
    Error,
}

impl From<Level> for LevelRecord {
    fn from(level: Level) -> Self {
        match level {
            Level::Note => Self::Note,
            Level::Warning => Self::Warning,
            Level::Error => Self::Error,
        }
    }
}

impl From<&Diagnostic> for DiagnosticRecord {
    fn from(found: &Diagnostic) -> Self {
        let related = found.related.iter();
        Self {
            code: found.code.to_string(),
            level: found.level.into(),
            message: found.message.clone(),
            remedy: found.remedy.clone(),
            place: (&found.place).into(),
            related: related
                .map(|related| RelatedRecord {
                    label: related.label.clone(),
                    place: (&related.place).into(),
                })
                .collect(),
        }
    }
}
