//! What saving would write, and saving.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use ringrule::conformity::Judge;
use ringrule::report::{glance_html, standing_html, write_pooled};
use similar::TextDiff;

use super::boards::today;
use super::frame::{Room, page as framed};
use super::measure::query;
use super::trouble::{no_board, plain, unusable};
use crate::desk::State;
use crate::desk::drafts::Round;
use crate::desk::keys::Right;
use crate::desk::live::Live;
use crate::desk::routes::{Asked, said};
use crate::desk::save::{Plan, plan};

/// What a request is about, and what saving it would do.
struct Wanted {
    round: Round,
    live: Live,
    plan: Option<Plan>,
    problem: Option<String>,
}

fn wanted(state: &State, asked: &Asked) -> Result<Wanted, Box<Response>> {
    let id = said(&asked.said, "board");
    let current = state.folder.board(id, &state.table, today());
    let Some((_, board)) = &current else {
        return Err(Box::new(no_board(id)));
    };
    let Ok(begun) = said(&asked.said, "round").parse() else {
        return Err(Box::new(unusable(
            "There is no such inspection",
            "choose the board in the list",
        )));
    };
    let round = Round {
        board: id.to_owned(),
        begun,
    };
    let live = Live::of(&state.folder, &state.table, &round, board);
    let (plan, problem) = match &live.pooled {
        // Who has measured is not left out.
        _ if !live.problems.is_empty() => (
            None,
            Some("Nothing is saved until that is mended.".to_owned()),
        ),
        None => (
            None,
            Some("There is no reading that could be saved.".to_owned()),
        ),
        Some(pooled) => match plan(&state.folder, &round, pooled, current) {
            Ok(plan) => (Some(plan), None),
            Err(why) => (None, Some(why.to_string())),
        },
    };
    Ok(Wanted {
        round,
        live,
        plan,
        problem,
    })
}

pub(in crate::desk) fn page(state: &State, asked: &Asked) -> Response {
    match wanted(state, asked) {
        Ok(wanted) => shown(state, asked, &wanted, None),
        Err(response) => *response,
    }
}

fn shown(state: &State, asked: &Asked, wanted: &Wanted, trouble: Option<&str>) -> Response {
    let id = &wanted.round.board;
    let begun = wanted.round.begun.to_string();
    let disputed = wanted
        .live
        .pooled
        .as_ref()
        .is_some_and(|pooled| pooled.disputed().next().is_some());
    let content = html! {
        @if let Some(trouble) = trouble { p.trouble role="alert" { (trouble) } }
        @for problem in wanted.live.problems.iter().chain(&wanted.problem) {
            p.trouble role="alert" { (problem) }
        }
        (back(state, &wanted.round))
        @if let Some(pooled) = &wanted.live.pooled {
            h2.small { "What people say together" }
            pre tabindex="0" { (text_of(pooled)) }
        }
        @if let Some(plan) = &wanted.plan {
            @let disputes = disputed;
            @if disputes {
                p.trouble { "People disagree by more than their uncertainties: measure again together, or save it with \
                    the larger uncertainty that follows. Every report on this board will say so." }
            }
            @if let Some(board) = plan.board() {
                @let judge = Judge::new(&state.table);
                @let assessment = judge.judge(&board);
                (PreEscaped(standing_html(&assessment)))
                @if asked.right == Right::Measure && plan.before != plan.after {
                    form method="post" action="/save" {
                        input type="hidden" name="board" value=(id);
                        input type="hidden" name="round" value=(begun);
                        input type="hidden" name="seen" value=(plan.seen);
                        button type="submit" { "Save as " (plan.file) }
                    }
                }
                @if plan.before == plan.after { p { "Saved: " (plan.file) " says just this." } }
                @if let Some(why) = plan.beside {
                    p.note { "A file of its own, since " (why) ". It takes over what the board is and how it is \
                        built, and no length: offsets, bearings and areas that were recorded stay in the other one." }
                }
                (difference(plan))
                (PreEscaped(glance_html(&assessment)))
            } @else {
                p.trouble { "What would be written is no board that can be read: nothing can be saved." }
            }
        }
    };
    framed(state, Room::Boards, &format!("Save {id}"), &content)
}

fn text_of(pooled: &ringrule::readings::Pooled) -> String {
    let mut text = String::new();
    // Writing into a string cannot fail.
    let _ = write_pooled(&mut text, pooled);
    anstream::adapter::strip_str(&text).to_string()
}

fn back(state: &State, round: &Round) -> Markup {
    let begun = round.begun.to_string();
    html! {
        p {
            @for draft in state.folder.drafts.of(round).0 {
                @let by = draft.fact("inspector");
                a href={ "/measure?" (query(&[("board", &round.board), ("round", &begun), ("by", by)])) } {
                    "Back to the readings of " (by)
                }
                " "
            }
        }
    }
}

/// What would change in the file.
fn difference(plan: &Plan) -> Markup {
    if plan.before.is_empty() {
        return html! {
            details { summary { "The new file" } pre tabindex="0" { (plan.after) } }
        };
    }
    if plan.before == plan.after {
        return html! {};
    }
    let changes = TextDiff::from_lines(plan.before.as_str(), plan.after.as_str());
    let changes = changes.unified_diff().context_radius(2).to_string();
    html! {
        details { summary { "What changes in " (plan.file) } pre tabindex="0" { (changes) } }
    }
}

pub(in crate::desk) fn save(state: &State, asked: &Asked) -> Response {
    let _writing = match state.writing() {
        Ok(writing) => writing,
        Err(error) => return unusable("Nothing was saved", &error.to_string()),
    };
    let wanted = match wanted(state, asked) {
        Ok(wanted) => wanted,
        Err(response) => return *response,
    };
    let Some(plan) = &wanted.plan else {
        return shown(state, asked, &wanted, None);
    };
    if plan.board().is_none() {
        return plain(
            StatusCode::UNPROCESSABLE_ENTITY,
            "Nothing was saved",
            "what would be written is no board that can be read; look at the readings again",
        );
    }
    match plan.carry_out(said(&asked.said, "seen")) {
        Ok(()) => {
            if let Err(error) = state.folder.drafts.remember(&wanted.round, &plan.file) {
                return unusable(
                    &format!("{} is saved, and that cannot be noted", plan.file),
                    &format!("{error}; saving again would ask for another file"),
                );
            }
            let content = html! {
                p { "Saved as " strong { (plan.file) } "." }
                p { a.button href="/" { "The list of boards" } " "
                    a href="/report" { "Write a report" } }
            };
            framed(
                state,
                Room::Boards,
                &format!("{} is saved", wanted.round.board),
                &content,
            )
        }
        Err(why) => {
            let why = format!("Nothing was saved: {why}.");
            let page = shown(state, asked, &wanted, Some(&why));
            (StatusCode::CONFLICT, page).into_response()
        }
    }
}
