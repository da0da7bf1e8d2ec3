//! What went wrong, and what to do.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;

use super::frame::{Room, bare};

/// A page that says what went wrong and what to do next.
pub(in crate::desk) fn plain(status: StatusCode, what: &str, next: &str) -> Response {
    let mut next = next.to_owned();
    if let Some(first) = next.get(..1).map(str::to_uppercase) {
        next.replace_range(..1, &first);
    }
    let content = html! {
        p.trouble role="alert" { (next) "." }
        p { a href="/" { "The list of boards" } }
    };
    (status, bare(Room::Other, what, &content)).into_response()
}

/// Something in a form cannot be used.
pub(super) fn unusable(what: &str, next: &str) -> Response {
    plain(StatusCode::UNPROCESSABLE_ENTITY, what, next)
}

/// There is no such board.
pub(super) fn no_board(id: &str) -> Response {
    plain(
        StatusCode::NOT_FOUND,
        &format!("There is no board `{id}` in this folder that can be used"),
        "choose one from the list; a file with faults stands below it",
    )
}
