//! The report that an organiser signs.

use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::html;
use ringrule::board::Board;
use ringrule::conformity::{Assessment, Judge};
use ringrule::document::Source;
use ringrule::event::Event;
use ringrule::report::{Compliance, PaperSize, ReportDetail, ReportFormat};

use super::boards::today;
use super::frame::{Room, asked as may, needed, one_of, page, some_of};
use super::trouble::unusable;
use crate::desk::State;
use crate::desk::guard::REPORT_POLICY;
use crate::desk::routes::{Asked, Said, said};
use crate::desk::typed::words_of;

/// Facts of an event in the form, each with its key in an event file.
const FACTS: [(&str, &str, &str); 9] = [
    ("name", "What it is for", "text"),
    ("place", "Where", "text"),
    (
        "inspected",
        "Inspected on, where a file does not say",
        "date",
    ),
    (
        "inspected_by",
        "Inspected by, where a file does not say",
        "text",
    ),
    ("report_number", "Number of the report", "text"),
    ("issued", "Issued on", "date"),
    ("ordered_by", "Ordered by", "text"),
    ("authorised_by", "Authorised by, who signs it", "text"),
    ("remarks", "Remarks", "text"),
];

/// The boards that can be chosen: their files, and what they are called.
pub(super) fn choices(state: &State) -> Vec<(String, String)> {
    let all = state.folder.all(&state.table, today());
    let decide = all.boards.into_iter().filter(|one| !one.superseded);
    let named = decide.map(|one| {
        let hangs = one.usage.venue().map(|venue| format!(", {venue}"));
        (one.file, format!("{}{}", one.id, hangs.unwrap_or_default()))
    });
    let mut all: Vec<(String, String)> = named.collect();
    all.sort_by(|a, b| a.1.cmp(&b.1));
    all
}

pub(in crate::desk) fn form(state: &State, _: &Asked) -> Response {
    let boards = choices(state);
    let content = html! {
        form action="/report/page" {
            @for (name, label, kind) in FACTS {
                @let value = if name == "issued" { today().to_string() } else { String::new() };
                @if name == "name" { (needed(name, label, kind, &value, "such as: autumn inspection")) }
                @else { (may(name, label, kind, &value, "")) }
            }
            (one_of("detail", "How much", &[("summary", "one or two pages: which boards may be used"),
                ("boards", "also a page for each board"), ("full", "also every check and budget")], "boards"))
            (some_of(&boards, true))
            button type="submit" { "Show the report" }
            " "
            button type="submit" formaction="/report/paper" { "As a PDF" }
        }
        p.note { "Facts that nobody stated are printed as not stated. To print the page, use the browser." }
    };
    page(state, Room::Report, "Report", &content)
}

/// The event file that the form amounts to, read as every event file is.
fn event(form: &Said) -> Result<Event, Vec<String>> {
    if said(form, "name").is_empty() {
        return Err(vec!["say what it is for".to_owned()]);
    }
    let mut file = serde_json::Map::new();
    file.insert("format".to_owned(), "ringrule/event/1".into());
    for (name, ..) in FACTS {
        let value = said(form, name);
        if !value.is_empty() {
            let plain = serde_json::Value::from(value);
            let person = matches!(name, "inspected_by" | "ordered_by" | "authorised_by");
            let value = if person {
                serde_json::json!({ "name": plain })
            } else {
                plain
            };
            file.insert(name.to_owned(), value);
        }
    }
    let text = serde_json::Value::Object(file).to_string();
    Event::read(Source::new("the form", text)).map_err(|why| words_of(&why))
}

/// What was asked for, or what to say instead.
fn wanted(
    state: &State,
    asked: &Asked,
) -> Result<(Event, Vec<Board>, ReportDetail), Box<Response>> {
    let event = event(&asked.said).map_err(|problems| {
        let problems = problems.join("; ");
        Box::new(unusable(
            "The report cannot be made",
            &format!("go back and mend this: {problems}"),
        ))
    })?;
    let boards = state
        .folder
        .boards(&files(&asked.said), &state.table, today());
    if boards.is_empty() {
        return Err(Box::new(unusable(
            "The report cannot be made",
            "go back and choose at least one board",
        )));
    }
    let detail = match said(&asked.said, "detail") {
        "summary" => ReportDetail::Summary,
        "full" => ReportDetail::Full,
        _ => ReportDetail::Boards,
    };
    Ok((event, boards, detail))
}

/// The files that were ticked.
pub(super) fn files(form: &Said) -> Vec<String> {
    let ticked = form.iter().filter(|(name, _)| name == "file");
    ticked.map(|(_, file)| file.clone()).collect()
}

/// Judges the boards that were chosen, and makes of their report what is wanted.
fn made(
    state: &State,
    asked: &Asked,
    make: impl FnOnce(&Compliance<'_>, Vec<Assessment<'_>>) -> Response,
) -> Response {
    let (event, boards, detail) = match wanted(state, asked) {
        Ok(wanted) => wanted,
        Err(response) => return *response,
    };
    let judge = Judge::new(&state.table);
    let assessments: Vec<_> = boards.iter().map(|board| judge.judge(board)).collect();
    let mut report = Compliance::new(&event, &state.table).in_detail(detail);
    for assessment in &assessments {
        report.add(assessment);
    }
    make(&report, assessments)
}

pub(in crate::desk) fn html(state: &State, asked: &Asked) -> Response {
    made(state, asked, |report, assessments| {
        let format = ReportFormat::Html;
        let mut page = report.opening(format);
        for (line, assessment) in report.lines().iter().zip(&assessments) {
            page += &report.board(format, line, assessment);
        }
        page += &report.closing(format);
        document(page)
    })
}

/// A page that the engine has written whole.
pub(super) fn document(page: String) -> Response {
    let kind = (header::CONTENT_TYPE, "text/html; charset=utf-8");
    let policy = (header::CONTENT_SECURITY_POLICY, REPORT_POLICY);
    ([kind, policy], page).into_response()
}

pub(in crate::desk) fn pdf(state: &State, asked: &Asked) -> Response {
    made(state, asked, |report, assessments| {
        match report.pdf(assessments.into_iter(), PaperSize::A4, Vec::new()) {
            Ok(pdf) => {
                let kind = (header::CONTENT_TYPE, "application/pdf");
                let name = "inline; filename=\"report.pdf\"";
                ([kind, (header::CONTENT_DISPOSITION, name)], pdf.bytes).into_response()
            }
            Err(why) => unusable(
                "The PDF cannot be made",
                &format!("{why}; the page can be printed instead"),
            ),
        }
    })
}
