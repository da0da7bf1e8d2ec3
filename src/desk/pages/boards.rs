//! The boards of the folder.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use ringrule::board::{Board, BoardBuilder, Mounting, Profile};
use ringrule::readings::to_yaml;
use ringrule::report::problems_of;

use super::frame::{Room, asked, needed, one_of, page};
use super::trouble::{plain, unusable};
use crate::desk::State;
use crate::desk::folder::{All, Listed};
use crate::desk::names;
use crate::desk::routes::{Asked, said};
use crate::desk::whole_file::{self, Existing};

/// The day of this computer.
pub(super) use crate::cli::values::today;

pub(in crate::desk) fn list(state: &State, asked: &Asked) -> Response {
    let sought = said(&asked.said, "q");
    let All {
        mut boards,
        unusable,
    } = state.folder.all(&state.table, today());
    boards.retain(|one| !one.superseded);
    let total = boards.len();
    let lower = sought.to_lowercase();
    boards.retain(|one| {
        let words = [
            Some(one.id.as_str()),
            one.usage.venue(),
            one.usage.position(),
        ];
        words
            .into_iter()
            .flatten()
            .any(|word| word.to_lowercase().contains(&lower))
    });
    boards.sort_by(|a, b| {
        let venue = |one: &Listed| {
            one.usage
                .venue()
                .map_or((true, String::new()), |venue| (false, venue.to_owned()))
        };
        (venue(a), &a.id).cmp(&(venue(b), &b.id))
    });
    let content = html! {
        form.search role="search" {
            label for="q" { "Find a board" } " "
            input type="search" id="q" name="q" value=(sought);
            " " button type="submit" { "Find" }
        }
        @if total == 0 {
            p { "There is no board in this folder yet." }
        } @else if boards.is_empty() {
            p { "No board has “" (sought) "” in its id, venue or place. " a href="/" { "Show all" } }
        } @else {
            (table(&boards))
        }
        p { a.button href="/new" { "New board" } }
        @if !unusable.is_empty() {
            h2.small { "Files that cannot be used" }
            dl.faults {
                @for (name, why) in &unusable {
                    dt { (name) }
                    @for problem in problems_of(why) { dd { (problem) } }
                }
            }
        }
    };
    page(state, Room::Boards, "Boards", &content)
}

fn table(boards: &[Listed]) -> Markup {
    html! {
        div.wide tabindex="0" role="group" aria-label="table: boards" {
            table.cards {
                caption { "By venue; whether each may be used, as far as the table goes." }
                thead {
                    tr {
                        th scope="col" { "board" }
                        th scope="col" { "venue" }
                        th scope="col" { "use" }
                        th scope="col" { "why" }
                        th scope="col" { "inspected" }
                        th scope="col" { "measure" }
                    }
                }
                tbody {
                    @for one in boards { (row(one)) }
                }
            }
        }
    }
}

fn row(one: &Listed) -> Markup {
    let venue = match (one.usage.venue(), one.usage.position()) {
        (Some(venue), Some(position)) => format!("{venue}, {position}"),
        (venue, position) => venue.or(position).unwrap_or_default().to_owned(),
    };
    let day = one
        .day
        .map_or_else(|| "no day".to_owned(), |day| day.to_string());
    html! {
        tr {
            th scope="row" { (one.id) }
            td data-head="venue" { (venue) }
            td data-head="use" { strong { (one.usage.words()) } }
            td data-head="why" { (one.usage.remarks().unwrap_or_default()) }
            td data-head="inspected" { (day) }
            td.act {
                form action="/begin" {
                    input type="hidden" name="board" value=(one.id);
                    button type="submit" aria-label={ "Measure " (one.id) } { "Measure" }
                }
            }
        }
    }
}

pub(in crate::desk) fn blank(state: &State, _: &Asked) -> Response {
    let content = html! {
        form method="post" action="/new" {
            (needed("id", "Id on the board", "text", "", "as it is written on the board, such as FL-17"))
            (asked("name", "What people call it", "text", "", ""))
            (asked("venue", "Venue", "text", "", "the house in which it hangs"))
            (asked("position", "Place in the venue", "text", "", "such as: back bar, left"))
            (one_of("mounting", "Mounting", &[("staples", "staples: wires are held by staples"),
                ("embedded", "embedded: wires or strips are set into the board")], "staples"))
            (one_of("profile", "Wires", &[("", "as usual for the mounting"), ("round", "round"),
                ("strip", "strip")], ""))
            button type="submit" { "Add this board" }
        }
    };
    page(state, Room::Boards, "New board", &content)
}

/// Characters of an id. House rule: what fits on a board.
const LONGEST_ID: usize = 60;

/// Whether a character does something instead of being seen: ends a line, or turns the
/// direction of what follows (Unicode, bidirectional formatting).
fn acts(c: char) -> bool {
    c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

pub(in crate::desk) fn add(state: &State, asked: &Asked) -> Response {
    let said = |name| said(&asked.said, name);
    let id = said("id");
    if id.is_empty() || id.chars().count() > LONGEST_ID || id.chars().any(acts) {
        return unusable(
            "This is no id",
            "go back and write it as it is on the board: letters, digits and marks, on one line",
        );
    }
    let mounting = match said("mounting") {
        "embedded" => Mounting::Embedded,
        _ => Mounting::Staples,
    };
    let mut builder = BoardBuilder::new(id, mounting);
    builder = match said("profile") {
        "round" => builder.profile(Profile::Round),
        "strip" => builder.profile(Profile::Strip),
        _ => builder,
    };
    if !said("name").is_empty() {
        builder = builder.name(said("name"));
    }
    let position = Some(said("position").to_owned()).filter(|words| !words.is_empty());
    if !said("venue").is_empty() {
        builder = builder.venue(said("venue"), position);
    }
    let made = to_yaml(&builder.clone().into_file(), "Made at the desk.");
    let (Some(yaml), Ok(Board { .. })) = (made, builder.build()) else {
        return unusable(
            "This board cannot be added",
            "go back and give it an id: letters, digits and marks, on one line",
        );
    };
    let _writing = match state.writing() {
        Ok(writing) => writing,
        Err(error) => return unusable("This board cannot be added", &error.to_string()),
    };
    let all = state.folder.all(&state.table, today());
    if all.boards.iter().any(|one| one.id == id) {
        return unusable(
            &format!("There is a board `{id}` already"),
            "measure that one, or go back and choose another id",
        );
    }
    let path = state.folder.free(&names::plain(id));
    match whole_file::write(&path, yaml.as_bytes(), Existing::Refuse) {
        Ok(()) => {
            let query = super::measure::query(&[("board", id)]);
            Redirect::to(&format!("/begin?{query}")).into_response()
        }
        Err(error) => plain(
            StatusCode::CONFLICT,
            "This board was not added",
            &format!(
                "`{}` could not be written: {error}; choose another id, or see whether you may \
                 write there",
                state.folder.name(&path)
            ),
        ),
    }
}
