//! Who measures, with what, and on which day.

use axum::response::{IntoResponse, Redirect, Response};
use jiff::civil::Date;
use maud::{Markup, html};
use ringrule::board::Board;
use ringrule::units::Instrument;

use super::boards::today;
use super::frame::{Room, asked as may, needed, page as framed};
use super::measure::query;
use super::trouble::{no_board, unusable};
use crate::desk::State;
use crate::desk::draft::Draft;
use crate::desk::drafts::Round;
use crate::desk::live::kind;
use crate::desk::routes::{Asked, said};
use crate::desk::typed::tidy;

/// An inspection that was begun longer ago is not offered first. House rule: two visits.
const RECENT_DAYS: i32 = 14;

fn page_of(state: &State, board: &Board, wrong: &[String]) -> Response {
    let id = &board.id;
    let rounds = state.folder.drafts.rounds(id);
    let known = board.instruments.first();
    let content = html! {
        @if !wrong.is_empty() {
            ul.trouble role="alert" { @for one in wrong { li { (one) } } }
        }
        @if let Some(hangs) = board.hangs() { p { (hangs) } }
        @for round in &rounds { (going_on(state, round)) }
        @if !rounds.is_empty() { h2.small { "Somebody else, or a new inspection" } }
        form method="post" action="/begin" {
            input type="hidden" name="board" value=(id);
            (needed("by", "Who measures", "text", "", "as it shall stand in the report"))
            (needed("date", "Day", "date", &today().to_string(), ""))
            (which(&rounds))
            (instrument(known))
            button type="submit" { "Begin" }
        }
    };
    framed(state, Room::Boards, &format!("Measure {id}"), &content)
}

pub(in crate::desk) fn page(state: &State, asked: &Asked) -> Response {
    let id = said(&asked.said, "board");
    match state.folder.board(id, &state.table, today()) {
        Some((_, board)) => page_of(state, &board, &[]),
        None => no_board(id),
    }
}

fn going_on(state: &State, round: &Round) -> Markup {
    let (drafts, unreadable) = state.folder.drafts.of(round);
    let saved = state.folder.drafts.saved(round);
    let begun = round.begun.to_string();
    html! {
        @for name in &unreadable {
            p.trouble { (name) " cannot be read as a draft, and is left as it is." }
        }
        @if !drafts.is_empty() {
            section.begun {
                h2.small { "Inspection begun on " (begun)
                    @if let Some(saved) = &saved { ", saved as " (saved) } }
                ul {
                    @for draft in &drafts {
                        @let by = draft.fact("inspector");
                        li {
                            a href={ "/measure?" (query(&[("board", &round.board), ("round", &begun), ("by", by)])) } {
                                "Go on as " (by)
                            }
                            " (" (draft.filled()) " readings)"
                        }
                    }
                }
                p { a href={ "/save?" (query(&[("board", &round.board), ("round", &begun)])) } {
                    "Look at it, and save"
                } }
            }
        }
    }
}

/// Which inspection it belongs to, where one was begun lately.
fn which(rounds: &[Round]) -> Markup {
    let recent = |round: &&Round| {
        let days = round.begun.until(today()).map(|span| span.get_days());
        days.is_ok_and(|days| (0..=RECENT_DAYS).contains(&days))
    };
    let last = rounds
        .first()
        .filter(recent)
        .filter(|round| round.begun != today());
    html! {
        @if let Some(last) = last {
            div.asked {
                label for="round" { "Inspection" }
                select id="round" name="round" {
                    option value=(last.begun) { "the one begun on " (last.begun) }
                    option value="" { "a new one" }
                }
            }
        }
    }
}

fn instrument(known: Option<&Instrument>) -> Markup {
    let length = |of: Option<ringrule::units::Length>| {
        of.map_or_else(String::new, |of| format!("{} mm", of.as_mm()))
    };
    let name = known
        .and_then(|known| known.name.clone())
        .unwrap_or_default();
    let resolution = length(known.and_then(|known| known.resolution));
    let error = length(known.and_then(|known| known.max_error));
    let calibrated = known.and_then(|known| known.calibrated);
    let calibrated = calibrated.map_or_else(String::new, |day| day.to_string());
    html! {
        fieldset {
            legend { "The calliper" }
            (may("instrument", "Which one", "text", &name, "its name or number"))
            (may("resolution", "Step of its display", "text", &resolution, "such as 0.01 mm"))
            (may("max_error", "Permissible error", "text", &error,
                "from its papers, such as 0.03 mm; without it no uncertainty can be stated"))
            (may("calibrated", "Calibrated on", "date", &calibrated, ""))
        }
    }
}

/// Begins a draft, or goes on with the one that this person has.
pub(in crate::desk) fn begin(state: &State, asked: &Asked) -> Response {
    let said = |name| said(&asked.said, name);
    let id = said("board");
    let Some((_, board)) = state.folder.board(id, &state.table, today()) else {
        return no_board(id);
    };
    let mut wrong = Vec::new();
    let by = said("by");
    if by.is_empty() || by.chars().any(char::is_control) {
        wrong.push("Say who measures.".to_owned());
    }
    let day: Result<Date, _> = said("date").parse();
    match &day {
        Err(_) => {
            wrong.push("Write the day as year, month and day, such as 2026-11-25.".to_owned());
        }
        // Clocks in the east are a day ahead of UTC.
        Ok(day) if today().until(*day).is_ok_and(|span| span.get_days() > 1) => {
            wrong.push(format!(
                "{day} is still to come: write the day of the measurement."
            ));
        }
        Ok(_) => {}
    }
    for name in ["resolution", "max_error"] {
        let text = tidy(said(name));
        if !text.is_empty() && ringrule::units::parse_length(&with_unit(&text)).is_err() {
            wrong.push(format!(
                "`{text}` is no length: write it with its unit, such as 0.01 mm."
            ));
        }
    }
    let (mounting, profile) = kind(&board);
    let length = |name| with_unit(&tidy(said(name)));
    let draft = Draft::new([
        ("board", id.to_owned()),
        ("mounting", mounting.to_string()),
        ("profile", profile.to_string()),
        ("inspector", by.to_owned()),
        ("date", said("date").to_owned()),
        ("instrument", said("instrument").to_owned()),
        ("resolution", length("resolution")),
        ("max error", length("max_error")),
        ("calibrated", said("calibrated").to_owned()),
    ]);
    if wrong.is_empty() {
        wrong.extend(draft.wrong_facts());
    }
    let (Ok(day), true) = (day, wrong.is_empty()) else {
        return page_of(state, &board, &wrong);
    };
    let begun = said("round").parse().unwrap_or(day);
    let round = Round {
        board: id.to_owned(),
        begun,
    };
    let not_begun = |error: &std::io::Error| {
        let next = format!("the draft could not be written: {error}");
        unusable("Nothing was begun", &next)
    };
    let _writing = match state.writing() {
        Ok(writing) => writing,
        Err(error) => return not_begun(&error),
    };
    // Whoever begins again keeps the readings, and may have another calliper.
    let draft = match state.folder.drafts.one(&round, by) {
        Some(before) => before.under(draft),
        None if state.folder.drafts.is_there(&round, by) => {
            return unusable(
                "There is a draft of yours that cannot be read",
                "it is left as it is: look at it in the folder `.desk`, or begin under another name",
            );
        }
        None => draft,
    };
    if let Err(error) = state.folder.drafts.keep(&round, &draft) {
        return not_begun(&error);
    }
    let begun = begun.to_string();
    let query = query(&[("board", id), ("round", &begun), ("by", by)]);
    Redirect::to(&format!("/measure?{query}")).into_response()
}

/// A bare number is in mm.
fn with_unit(text: &str) -> String {
    if text.parse::<f64>().is_ok() {
        format!("{text} mm")
    } else {
        text.to_owned()
    }
}
