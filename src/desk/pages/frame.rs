//! What every page has.

use axum::response::{Html, IntoResponse, Response};
use maud::{DOCTYPE, Markup, html};

use crate::desk::State;

/// Cautions at the foot of every page. Those who measure read them last.
const CAUTIONS: [&str; 2] = [
    "Take the darts out and the board down before measuring. Old spiders have sprung wire \
     ends and loose staples: keep eyes and fingers away from what is under tension.",
    "What stands here is a calculation, not an official approval: the governing body's \
     current rules and local practice prevail.",
];

/// Where a page stands among the others.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Room {
    Boards,
    Report,
    Compare,
    /// None of them.
    Other,
}

const ROOMS: [(Room, &str, &str); 3] = [
    (Room::Boards, "/", "Boards"),
    (Room::Report, "/report", "Report"),
    (Room::Compare, "/compare", "Compare"),
];

/// A page of the desk.
pub(super) fn page(state: &State, room: Room, title: &str, content: &Markup) -> Response {
    let folder = state.folder.root().file_name();
    let folder = folder.map_or_else(|| "boards".into(), |name| name.to_string_lossy());
    let foot = html! {
        p.note { "Boards in the folder “" (folder) "”, judged by “" (state.table.title) "”." }
    };
    bare(room, title, &html! { (content) (foot) }).into_response()
}

/// A page that knows nothing of the folder.
pub(super) fn bare(room: Room, title: &str, content: &Markup) -> Html<String> {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Ringrule desk" }
                link rel="stylesheet" href="/desk.css";
                link rel="icon" href="data:,";
                script src="/desk.js" defer {}
            }
            body {
                a.skip href="#content" { "To the content" }
                header.head {
                    p.title { "Ringrule desk" }
                    nav aria-label="Desk" {
                        @for (own, address, name) in ROOMS {
                            @if own == room {
                                a href=(address) aria-current="page" { (name) }
                            } @else {
                                a href=(address) { (name) }
                            }
                        }
                    }
                }
                main #content {
                    h1.page { (title) }
                    (content)
                }
                footer {
                    ul.cautions {
                        @for caution in CAUTIONS { li { (caution) } }
                    }
                }
            }
        }
    };
    Html(page.into_string())
}

/// A field of a form with its name.
pub(super) fn asked(name: &str, label: &str, kind: &str, value: &str, hint: &str) -> Markup {
    html! {
        div.asked {
            label for=(name) { (label) }
            input id=(name) name=(name) type=(kind) value=(value) autocomplete="off"
                aria-describedby=[(!hint.is_empty()).then(|| format!("{name}-hint"))];
            @if !hint.is_empty() {
                p.hint id={ (name) "-hint" } { (hint) }
            }
        }
    }
}

/// The same that must be filled.
pub(super) fn needed(name: &str, label: &str, kind: &str, value: &str, hint: &str) -> Markup {
    html! {
        div.asked {
            label for=(name) { (label) }
            input id=(name) name=(name) type=(kind) value=(value) autocomplete="off" required
                aria-describedby=[(!hint.is_empty()).then(|| format!("{name}-hint"))];
            @if !hint.is_empty() {
                p.hint id={ (name) "-hint" } { (hint) }
            }
        }
    }
}

/// One of a few words.
pub(super) fn one_of(name: &str, label: &str, words: &[(&str, &str)], chosen: &str) -> Markup {
    html! {
        div.asked {
            label for=(name) { (label) }
            select id=(name) name=(name) {
                @for (word, shown) in words {
                    option value=(word) selected[*word == chosen] { (shown) }
                }
            }
        }
    }
}

/// Some of the boards, each with a box to tick.
pub(super) fn some_of(boards: &[(String, String)], ticked: bool) -> Markup {
    html! {
        fieldset.some {
            legend { "Boards" }
            @for (nth, (file, shown)) in boards.iter().enumerate() {
                div {
                    input type="checkbox" name="file" value=(file) id={ "file-" (nth) } checked[ticked];
                    " " label for={ "file-" (nth) } { (shown) }
                }
            }
        }
    }
}
