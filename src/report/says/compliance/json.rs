//! The report for other programs, `ringrule/report/1`.
//!
//! Written piece by piece: the boards stand last, so that what is before them is
//! a document with an empty list of boards whose end is cut off.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use super::{BoardLine, Compliance, statements};
use crate::conformity::{Assessment, Verdict};
use crate::document::Shape;
use crate::event::{Event, Person};
use crate::report::escape;
use crate::report::records::finding_records::{BoardRecord, TableRecord};
use crate::report::records::findings;

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
    /// `ringrule/report/1`.
    format: String,
    event: EventRecord,
    table: TableRecord,
    /// What the decision rule means, in plain words.
    decision_rule_explained: String,
    /// The method, in plain words.
    method: Vec<String>,
    summary: SummaryRecord,
    /// What the report is and is not, and cautions.
    statements: Vec<String>,
    boards: Vec<ReportedBoardRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct EventRecord {
    #[serde(skip_serializing_if = "Option::is_none")]
    report_number: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<String>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    inspected: Option<String>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    issued: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ordered_by: Option<PersonRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    inspected_by: Option<PersonRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    authorised_by: Option<PersonRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    conditions: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    departures: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    remarks: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct PersonRecord {
    name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    role: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    contact: Option<String>,
}

/// How many boards came out which way.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SummaryRecord {
    boards: usize,
    conform: usize,
    do_not_conform: usize,
    inconclusive: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ReportedBoardRecord {
    #[serde(skip_serializing_if = "Option::is_none")]
    report_number: Option<String>,
    #[serde(flatten)]
    board: BoardRecord,
}

fn person(person: Option<&Person>) -> Option<PersonRecord> {
    person.map(|person| PersonRecord {
        name: person.name.clone(),
        role: person.role.clone(),
        contact: person.contact.clone(),
    })
}

fn event(event: &Event) -> EventRecord {
    EventRecord {
        report_number: event.report_number.clone(),
        name: event.name.clone(),
        place: event.place.clone(),
        inspected: event.inspected.map(|day| day.to_string()),
        issued: event.issued.map(|day| day.to_string()),
        ordered_by: person(event.ordered_by.as_ref()),
        inspected_by: person(event.inspected_by.as_ref()),
        authorised_by: person(event.authorised_by.as_ref()),
        conditions: event.conditions.clone(),
        departures: event.departures.clone(),
        remarks: event.remarks.clone(),
    }
}

const END: &str = "\n}";
const NO_BOARDS: &str = "[]";

pub(super) fn opening(report: &Compliance<'_>) -> String {
    let count = |verdict| {
        let lines = report.lines.iter();
        lines.filter(|line| line.verdict == verdict).count()
    };
    let statements = super::board::cautions();
    let record = ReportRecord {
        format: "ringrule/report/1".to_owned(),
        event: event(report.event),
        table: findings::table(report.table),
        decision_rule_explained: statements::decision(report.table.decision),
        method: statements::METHOD.map(str::to_owned).into(),
        summary: SummaryRecord {
            boards: report.lines.len(),
            conform: count(Verdict::Conforms),
            do_not_conform: count(Verdict::DoesNotConform),
            inconclusive: count(Verdict::Inconclusive),
        },
        statements,
        boards: Vec::new(),
    };
    let text = pretty(&record);
    let cut = text.strip_suffix(END).unwrap_or(&text);
    let cut = cut.strip_suffix(NO_BOARDS).unwrap_or(cut);
    escape::json(cut).into_owned() + "["
}

pub(super) fn board(line: &BoardLine, assessment: &Assessment<'_>, first: bool) -> String {
    let record = ReportedBoardRecord {
        report_number: line.number.clone(),
        board: findings::board(assessment),
    };
    // The list is two steps in.
    let text = pretty(&record).replace('\n', "\n    ");
    let comma = if first { "" } else { "," };
    format!("{comma}\n    {}", escape::json(&text))
}

pub(super) fn closing(report: &Compliance<'_>) -> String {
    let end = if report.lines.is_empty() {
        "]"
    } else {
        "\n  ]"
    };
    format!("{end}{END}\n")
}

/// Records of numbers and texts always have a JSON form.
fn pretty(record: &impl Serialize) -> String {
    serde_json::to_string_pretty(record).unwrap_or_default()
}
