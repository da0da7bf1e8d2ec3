//! Findings on files for other programs, `ringrule/lint/1`. The doc comments
//! here become the descriptions in its schema.

use std::sync::LazyLock;

use jiff::civil::Date;
use schemars::JsonSchema;
use serde::Serialize;

use crate::document::Shape;
use crate::lint::{FilePlace, Finding, Level, Linted};
use crate::report::escape;

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
    /// `ringrule/lint/1`.
    format: String,
    /// The day by which waivers expired, as `2026-11-25`.
    on: String,
    /// The least level that counts against the exit code.
    fail_at: Level,
    /// Every file that was looked at, in the order of the run.
    files: Vec<FileRecord>,
    /// Every finding, waived ones too, in the order of the files.
    findings: Vec<FindingRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FileRecord {
    file: String,
    /// `board`, `table`, `sheet`, `event` or `settings`; left out where the file
    /// could not be read.
    #[serde(skip_serializing_if = "Option::is_none")]
    kind: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FindingRecord {
    /// The code of the rule, or of the fault of structure.
    rule: String,
    level: Level,
    message: String,
    /// What to do about it.
    remedy: String,
    place: PlaceRecord,
    /// Other places that the message speaks of.
    related: Vec<RelatedRecord>,
    /// Why the finding does not count, where it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    waived: Option<WaivedRecord>,
}

/// A place in a file. Lines and columns count from 1, columns in code points;
/// `end_line` and `end_column` are those behind the last character; `start` and
/// `end` are bytes; `pointer` is a JSON Pointer (RFC 6901).
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PlaceRecord {
    file: String,
    line: usize,
    column: usize,
    end_line: usize,
    end_column: usize,
    start: usize,
    end: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pointer: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct RelatedRecord {
    /// What stands there.
    label: String,
    place: PlaceRecord,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WaivedRecord {
    because: String,
    /// The last day on which the waiver holds, if it has one.
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<String>,
    /// Where the waiver is written.
    by: PlaceRecord,
}

/// The report as one JSON document.
pub fn lint_json(linted: &Linted, head: &LintHead) -> Result<String, serde_json::Error> {
    let report = LintReport {
        format: "ringrule/lint/1".to_owned(),
        on: head.on.to_string(),
        fail_at: head.threshold,
        files: linted
            .files
            .iter()
            .map(|file| FileRecord {
                file: file.file.clone(),
                kind: file.kind.map(|kind| kind.word().to_owned()),
            })
            .collect(),
        findings: linted.findings().map(finding).collect(),
    };
    let mut text = escape::json(&serde_json::to_string_pretty(&report)?).into_owned();
    text.push('\n');
    Ok(text)
}

fn finding(finding: &Finding) -> FindingRecord {
    FindingRecord {
        rule: finding.code.to_owned(),
        level: finding.level,
        message: finding.message.clone(),
        remedy: finding.remedy.clone(),
        place: place(&finding.place),
        related: finding
            .related
            .iter()
            .map(|related| RelatedRecord {
                label: related.label.clone(),
                place: place(&related.place),
            })
            .collect(),
        waived: finding.waived.as_ref().map(|waived| WaivedRecord {
            because: waived.because.clone(),
            until: waived.until.map(|until| until.to_string()),
            by: place(&waived.by),
        }),
    }
}

fn place(place: &FilePlace) -> PlaceRecord {
    PlaceRecord {
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
