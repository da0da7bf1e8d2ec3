//! A compliance report, `ringrule/report/2`.
//!
//! Written piece by piece: the boards stand last, so that what is before them is
//! a document with an empty list of boards whose end is cut off.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::board::{BoardRecord, TableRecord};
use super::findings::InvalidFileRecord;
use super::history::SinceRecord;
use super::words::DueRecord;
use super::{DayRecord, Of};
use crate::board::Due;
use crate::conformity::{Assessment, Verdict};
use crate::document::{InvalidFile, Shape};
use crate::event::{Event, Person};
use crate::report::escape;
use crate::table::Table;

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<ReportRecord>("A compliance report, from Ringrule"));
    &SHAPE
}

/// A compliance report. Lengths are in mm, areas in mm², deviations in percent,
/// probabilities from 0 to 1. Keys without a value are left out.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ReportRecord {
    /// `ringrule/report/2`.
    format: String,
    event: EventRecord,
    table: TableRecord,
    /// What the decision rule means, in plain words.
    decision_rule_explained: String,
    /// The method, in plain words.
    method: Vec<String>,
    summary: SummaryRecord,
    /// Files that could not be used, and whose boards were not judged.
    invalid_files: Vec<InvalidFileRecord>,
    /// What the report is and is not, and cautions.
    statements: Vec<String>,
    boards: Vec<ReportedBoardRecord>,
}

records! {
    EventRecord of Event {
        report_number: Option<String>,
        name: Option<String>,
        place: Option<String>,
        inspected: Option<DayRecord>,
        issued: Option<DayRecord>,
        ordered_by: Option<PersonRecord>,
        inspected_by: Option<PersonRecord>,
        authorised_by: Option<PersonRecord>,
        conditions: Option<String>,
        departures: Option<String>,
        remarks: Option<String>,
    }

    PersonRecord of Person {
        name: String,
        role: Option<String>,
        contact: Option<String>,
    }
}

/// How many boards came out which way.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SummaryRecord {
    boards: usize,
    conform: usize,
    do_not_conform: usize,
    inconclusive: usize,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ReportedBoardRecord {
    report_number: Option<String>,
    /// Where its inspection stands on the day of the report, where settings say how
    /// long one is valid.
    due: Option<DueRecord>,
    valid_until: Option<DayRecord>,
    /// The inspection before this one, and what has changed since.
    since: Option<SinceRecord>,
    #[serde(flatten)]
    board: BoardRecord,
}

/// What a report says of itself, in plain words.
pub(in crate::report) struct Said {
    /// What the decision rule means.
    pub(in crate::report) decision: String,
    pub(in crate::report) method: Vec<String>,
    pub(in crate::report) statements: Vec<String>,
}

const END: &str = "\n}";
const NO_BOARDS: &str = "[]";

pub(in crate::report) fn opening(
    event: &Event,
    table: &Table,
    said: Said,
    verdicts: &[Verdict],
    invalid_files: &[InvalidFile],
) -> String {
    let count = |verdict| verdicts.iter().filter(|&&v| v == verdict).count();
    let record = ReportRecord {
        format: "ringrule/report/2".to_owned(),
        event: Of::of(event),
        table: table.into(),
        decision_rule_explained: said.decision,
        method: said.method,
        summary: SummaryRecord {
            boards: verdicts.len(),
            conform: count(Verdict::Conforms),
            do_not_conform: count(Verdict::DoesNotConform),
            inconclusive: count(Verdict::Inconclusive),
        },
        invalid_files: invalid_files.iter().map(Into::into).collect(),
        statements: said.statements,
        boards: Vec::new(),
    };
    let text = pretty(&record);
    let cut = text.strip_suffix(END).unwrap_or(&text);
    let cut = cut.strip_suffix(NO_BOARDS).unwrap_or(cut);
    escape::json(cut).into_owned() + "["
}

/// What is known of the inspections of a board beside the one that is reported.
pub(in crate::report) struct Past {
    pub(in crate::report) due: Option<Due>,
    pub(in crate::report) since: Option<SinceRecord>,
}

/// One board; `first` is the one after which the others follow.
pub(in crate::report) fn board(
    number: Option<&str>,
    assessment: &Assessment<'_>,
    past: Past,
    first: bool,
) -> String {
    let record = ReportedBoardRecord {
        report_number: number.map(str::to_owned),
        due: past.due.map(|due| due.state.into()),
        valid_until: Of::of(&past.due.map(|due| due.until)),
        since: past.since,
        board: assessment.into(),
    };
    // The list is two steps in.
    let text = pretty(&record).replace('\n', "\n    ");
    let comma = if first { "" } else { "," };
    format!("{comma}\n    {}", escape::json(&text))
}

pub(in crate::report) fn closing(has_boards: bool) -> String {
    let end = if has_boards { "\n  ]" } else { "]" };
    format!("{end}{END}\n")
}

/// Records of numbers and texts always have a JSON form.
fn pretty(record: &impl Serialize) -> String {
    serde_json::to_string_pretty(record).unwrap_or_default()
}
