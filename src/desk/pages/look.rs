//! Style, script and the door.

use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::html;
use ringrule::report::desk_style;

use super::frame::{Room, bare};

const STYLE: &str = include_str!("desk.css");
const SCRIPT: &str = include_str!("desk.js");

pub(in crate::desk) async fn style() -> Response {
    let style = desk_style() + STYLE;
    ([(header::CONTENT_TYPE, "text/css; charset=utf-8")], style).into_response()
}

pub(in crate::desk) async fn script() -> Response {
    (
        [(header::CONTENT_TYPE, "text/javascript; charset=utf-8")],
        SCRIPT,
    )
        .into_response()
}

/// Where somebody in the room comes in.
pub(in crate::desk) fn door() -> Response {
    let content = html! {
        p { "This link is good once, for one browser." }
        p.trouble {
            "What goes over the air in this room is not encrypted: whoever listens can read it. \
             Use it for readings, and in a network that you trust."
        }
        form method="post" {
            button type="submit" { "Come in" }
        }
    };
    bare(Room::Other, "The desk in the next room", &content).into_response()
}
