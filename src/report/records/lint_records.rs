//! Findings on files for other programs, `ringrule/lint/2`. The doc comments
//! here become the descriptions in its schema.

use std::sync::LazyLock;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use super::diagnostic::DiagnosticRecord;
use super::diagnostic::PlaceRecord;
use super::words::{FileKindRecord, LevelRecord};
use super::{DayRecord, Of, to_text};
use crate::document::{Level, Shape};
use crate::lint::{FileFindings, Finding, Linted, Waived};

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of_report::<LintReport>("Findings on files, from Ringrule"));
    &SHAPE
}

/// What a report says beside its findings.
#[derive(Clone, Copy, Debug)]
pub struct LintHead {
    /// The day by which waivers expired.
    pub on: Date,
    /// The least level that counts against the exit code.
    pub threshold: Level,
}

/// Findings on files. Keys without a value are left out; lists are there even
/// when empty.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LintReport {
    /// `ringrule/lint/2`.
    format: String,
    /// The day by which waivers expired, as `2026-11-25`.
    on: String,
    /// The least level that counts against the exit code.
    fail_at: LevelRecord,
    /// Every file that was looked at, in the order of the run.
    files: Vec<FileRecord>,
    /// Every finding, waived ones too, in the order of the files.
    findings: Vec<FindingRecord>,
}

records! {
    FileRecord of FileFindings {
        file: String,
        /// Left out where the file could not be read.
        kind: Option<FileKindRecord>,
    }

    FindingRecord of Finding {
        #[serde(flatten)]
        diagnostic: DiagnosticRecord,
        /// Why the finding does not count, where it does not.
        waived: Option<WaivedRecord>,
    }

    WaivedRecord of Waived {
        because: String,
        /// The last day on which the waiver holds, if it has one.
        until: Option<DayRecord>,
        /// Where the waiver is written.
        by: PlaceRecord,
    }
}

/// The report as one JSON document.
pub fn lint_json(linted: &Linted, head: &LintHead) -> Result<String, serde_json::Error> {
    to_text(&LintReport {
        format: "ringrule/lint/2".to_owned(),
        on: head.on.to_string(),
        fail_at: head.threshold.into(),
        files: Of::of(&linted.files),
        findings: linted.findings().map(Of::of).collect(),
    })
}
