//! One length after the other, in the order in which one goes round the board.

use axum::http::StatusCode;
use axum::response::{Html, IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use ringrule::board::{Board, Edge};
use ringrule::conformity::{Assessment, Judge};
use ringrule::report::{edges_html, glance_html, standing_html, taking_html, write_pooled};

use super::boards::today;
use super::frame::{Room, page as framed};
use super::trouble::{no_board, plain, unusable};
use crate::desk::draft::{Draft, Meanwhile};
use crate::desk::drafts::Round;
use crate::desk::keys::Right;
use crate::desk::live::Live;
use crate::desk::round::{Field, Step};
use crate::desk::routes::{Asked, Said, said};
use crate::desk::{State, Writing, typed as read};

/// A query of names and values.
pub(super) fn query(pairs: &[(&str, &str)]) -> String {
    form_urlencoded::Serializer::new(String::new())
        .extend_pairs(pairs)
        .finish()
}

/// The inspection and the person that a request is about.
struct Work {
    board: Board,
    round: Round,
    draft: Draft,
}

impl Work {
    fn of(state: &State, said: &Said) -> Result<Self, Box<Response>> {
        let id = self::said(said, "board");
        let (_, board) = state
            .folder
            .board(id, &state.table, today())
            .ok_or_else(|| Box::new(no_board(id)))?;
        let begun = self::said(said, "round").parse().ok();
        let found = begun.and_then(|begun| {
            let round = Round {
                board: id.to_owned(),
                begun,
            };
            let draft = state.folder.drafts.one(&round, self::said(said, "by"))?;
            Some((round, draft))
        });
        let (round, draft) = found.ok_or_else(|| {
            Box::new(plain(
                StatusCode::NOT_FOUND,
                "This inspection was not begun",
                "choose the board in the list, and say who measures",
            ))
        })?;
        Ok(Self {
            board,
            round,
            draft,
        })
    }

    /// The same for who changes it: nobody else does until that is over.
    fn to_change<'a>(state: &'a State, said: &Said) -> Result<(Writing<'a>, Self), Box<Response>> {
        let writing = state
            .writing()
            .map_err(|error| Box::new(not_kept(&error)))?;
        Ok((writing, Self::of(state, said)?))
    }

    fn here(&self) -> String {
        let begun = self.round.begun.to_string();
        let by = self.draft.fact("inspector");
        query(&[("board", &self.board.id), ("round", &begun), ("by", by)])
    }
}

pub(in crate::desk) fn page(state: &State, asked: &Asked) -> Response {
    let work = match Work::of(state, &asked.said) {
        Ok(work) => work,
        Err(response) => return *response,
    };
    let live = Live::of(&state.folder, &state.table, &work.round, &work.board);
    let judge = Judge::new(&state.table);
    let assessment = live.assessment(&judge);
    let id = &work.board.id;
    let begun = work.round.begun.to_string();
    let by = work.draft.fact("inspector").to_owned();
    let content = html! {
        p { (by) ", " (work.draft.fact("date"))
            @if !work.draft.fact("instrument").is_empty() { ", with " (work.draft.fact("instrument")) }
            ". Every reading is kept as it is typed." }
        div.bench {
            form #round method="post" action="/fill" data-typed="/typed" {
                input type="hidden" name="board" value=(id);
                input type="hidden" name="round" value=(begun);
                input type="hidden" name="by" value=(by);
                p.hint { "Type a reading and press Enter: the next field follows. "
                    "A bare number is in mm; " code { "8,02" } ", " code { "0.316 in" } " and, of a wire, "
                    code { "16 SWG" } " do as well." }
                @for step in &live.steps {
                    (fieldset(step, &work.draft, &live, assessment.as_ref(), asked.right))
                }
                @let elsewhere = work.draft.elsewhere(&live.steps);
                @if !elsewhere.is_empty() {
                    p { "Typed with another table, kept, and left out here:" }
                    ul { @for words in &elsewhere { li { (words) } } }
                }
                details { summary { "The edges of a wire" } (PreEscaped(edges_html(live.profile))) }
            }
            aside aria-labelledby="so-far" {
                h2.small #so-far { "So far" }
                (so_far(&live, assessment.as_ref()))
                @if asked.right == Right::Measure {
                    p { a.button href={ "/save?" (query(&[("board", id), ("round", &begun)])) } { "Look at it, and save" } }
                }
                (glance(assessment.as_ref()))
                (people(&live))
            }
        }
    };
    framed(state, Room::Boards, &format!("Measure {id}"), &content)
}

/// The verdict so far, always in sight.
fn so_far(live: &Live, of: Option<&Assessment<'_>>) -> Markup {
    html! {
        div #standing role="status" {
            @if let Some(assessment) = of { (PreEscaped(standing_html(assessment))) }
            @else if live.problems.is_empty() { p { "No reading yet." } }
            @for problem in &live.problems { p.trouble { (problem) } }
        }
    }
}

fn glance(of: Option<&Assessment<'_>>) -> Markup {
    html! {
        div #glance { @if let Some(assessment) = of { (PreEscaped(glance_html(assessment))) } }
    }
}

/// What `pool` says, once there are two.
fn people(live: &Live) -> Markup {
    let several = live
        .drafts
        .iter()
        .filter(|draft| draft.filled() > 0)
        .count()
        > 1;
    let text = live.pooled.as_ref().filter(|_| several).map(|pooled| {
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_pooled(&mut text, pooled);
        anstream::adapter::strip_str(&text).to_string()
    });
    html! {
        div #people {
            @if let Some(text) = text {
                h3 { "What people say together" }
                pre tabindex="0" { (text) }
            }
        }
    }
}

fn edge_words(edge: Option<Edge>) -> &'static str {
    match edge {
        Some(Edge::Inside) => ", inside edges",
        Some(Edge::Outside) => ", outside edges",
        Some(Edge::Apex) => ", apex to apex",
        None => "",
    }
}

fn fieldset(
    step: &Step,
    draft: &Draft,
    live: &Live,
    of: Option<&Assessment<'_>>,
    right: Right,
) -> Markup {
    let name = step.item.item.to_string().replace('_', " ");
    let fields = step.fields(draft);
    html! {
        fieldset.step id={ "step-" (step.number) } {
            legend { (step.letter) " " (name) (edge_words(step.item.edge)) }
            p.how { (step.item.how) }
            div.taking {
                div.where { (PreEscaped(taking_html(&step.item, step.letter, live.profile))) }
                div.readings {
                    @for field in &fields { (self::field(step, *field, draft, right)) }
                }
            }
            (remarks(step, of))
            @if right == Right::Measure { button.keep type="submit" { "Keep these readings" } }
        }
    }
}

fn field(step: &Step, field: Field, draft: &Draft, right: Right) -> Markup {
    let (key, id, value) = (field.key(), field.id(), draft.typed(field));
    let problem = read::problem(field.item, step.item.edge, value);
    let place = field.at.map(|at| format!("at {} ", at.at));
    html! {
        span.field id={ "f-" (id) } {
            label for=(id) { (place.unwrap_or_default()) (field.nth + 1) }
            input.reading id=(id) name=(key) value=(value) data-seen=(value) type="text"
                inputmode="decimal" autocomplete="off" spellcheck="false"
                readonly[right == Right::Look]
                aria-invalid=[problem.as_ref().map(|_| "true")]
                aria-describedby={ "r-" (id) };
            @if right == Right::Measure {
                input type="hidden" name={ "seen|" (key) } value=(value);
            }
            (said_of(field, problem.as_deref(), None))
        }
    }
}

/// What has to be said of one reading.
fn said_of(field: Field, problem: Option<&str>, meanwhile: Option<&str>) -> Markup {
    html! {
        span.said id={ "r-" (field.id()) } data-there=[meanwhile] {
            @if let Some(there) = meanwhile {
                "Not kept: another screen has typed “" (there) "” here. Press Enter once more to put yours in its place."
            } @else if let Some(problem) = problem { (problem) }
        }
    }
}

fn remarks(step: &Step, of: Option<&Assessment<'_>>) -> Markup {
    let all = Live::remarks(step, of);
    html! {
        ul.remarks id={ "i-" (step.number) } {
            @for remark in all {
                li.doubtful[remark.doubtful] {
                    @if let Some(at) = remark.at { "At " (at) ": " }
                    (remark.words)
                }
            }
        }
    }
}

/// Keeps one reading, and answers with every piece of the page that may have changed.
pub(in crate::desk) fn typed(state: &State, asked: &Asked) -> Response {
    let said = |name| said(&asked.said, name);
    let (writing, mut work) = match Work::to_change(state, &asked.said) {
        Ok(work) => work,
        Err(response) => return *response,
    };
    let before = Live::of(&state.folder, &state.table, &work.round, &work.board);
    let Some(field) = Field::of_key(&before.steps, said("field")) else {
        return unusable("This was not kept", "open the page of this board anew");
    };
    let step = before
        .steps
        .iter()
        .find(|step| step.item.item == field.item);
    let edge = step.and_then(|step| step.item.edge);
    let text = short(said("text"));
    let put = work.draft.put(field, edge, &text, said("seen"));
    if put.is_ok()
        && let Err(error) = state.folder.drafts.keep(&work.round, &work.draft)
    {
        return not_kept(&error);
    }
    drop(writing);
    let live = Live::of(&state.folder, &state.table, &work.round, &work.board);
    let judge = Judge::new(&state.table);
    let assessment = live.assessment(&judge);
    let of = assessment.as_ref();
    let problem = read::problem(field.item, edge, &text);
    let there = put.as_ref().err().map(|Meanwhile { there }| there.as_str());
    let own = live.steps.iter().find(|step| step.item.item == field.item);
    let more = own.into_iter().flat_map(|step| {
        let fields = step.fields(&work.draft).into_iter();
        fields.map(move |field| (step, field))
    });
    let pieces = html! {
        (said_of(field, problem.as_deref(), there))
        // Room for another reading appears when the last one is filled.
        @for (step, field) in more {
            @if field.nth + 1 == step.fields(&work.draft).iter().filter(|other| other.at == field.at).count() {
                (self::field(step, field, &work.draft, asked.right))
            }
        }
        @for step in &live.steps { (remarks(step, of)) }
        (so_far(&live, of))
        (glance(of))
        (people(&live))
    };
    let status = if put.is_ok() {
        StatusCode::OK
    } else {
        StatusCode::CONFLICT
    };
    (status, Html(pieces.into_string())).into_response()
}

/// Longest text of one reading. House rule: no number and unit need more.
const LONGEST: usize = 60;

fn short(text: &str) -> String {
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    text.chars().map(plain).take(LONGEST).collect()
}

fn not_kept(error: &std::io::Error) -> Response {
    plain(
        StatusCode::INSUFFICIENT_STORAGE,
        "This was not kept",
        &format!(
            "the draft could not be written: {error}; what was kept before is there; see whether \
             the disk is full, and type it again"
        ),
    )
}

/// The whole form at once, from a browser without scripts.
pub(in crate::desk) fn fill(state: &State, asked: &Asked) -> Response {
    let (_writing, mut work) = match Work::to_change(state, &asked.said) {
        Ok(work) => work,
        Err(response) => return *response,
    };
    let live = Live::of(&state.folder, &state.table, &work.round, &work.board);
    let mut meanwhile = Vec::new();
    let mut last = None;
    for (key, text) in &asked.said {
        let Some(field) = Field::of_key(&live.steps, key) else {
            continue;
        };
        let seen = said(&asked.said, &format!("seen|{key}"));
        let text = short(text.trim());
        if text == seen {
            continue;
        }
        let step = live.steps.iter().find(|step| step.item.item == field.item);
        let edge = step.and_then(|step| step.item.edge);
        match work.draft.put(field, edge, &text, seen) {
            Ok(()) => last = step.map(|step| step.number),
            Err(Meanwhile { there }) => meanwhile.push((field, text, there)),
        }
    }
    if let Err(error) = state.folder.drafts.keep(&work.round, &work.draft) {
        return not_kept(&error);
    }
    let here = work.here();
    if meanwhile.is_empty() {
        let step = last.map_or_else(String::new, |number| format!("#step-{number}"));
        return Redirect::to(&format!("/measure?{here}{step}")).into_response();
    }
    let content = html! {
        p.trouble role="alert" { "Another screen has changed these fields meanwhile. Your other readings are kept; these are not: " }
        ul {
            @for (field, yours, there) in &meanwhile {
                li { (field.item) @if let Some(at) = field.at { " at " (at.at) } ", reading " (field.nth + 1)
                    ": you typed “" (yours) "”, there is “" (there) "”" }
            }
        }
        p { a.button href={ "/measure?" (here) } { "Back to the readings" } }
    };
    let page = framed(state, Room::Boards, "Not everything was kept", &content);
    (StatusCode::CONFLICT, page).into_response()
}
