//! Which address leads where.

use std::sync::PoisonError;

use axum::Router;
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State as Of};
use axum::http::header::{self, HeaderMap};
use axum::http::{StatusCode, Uri};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};

use super::keys::{Right, Use};
use super::pages::{begin, boards, compare, look, measure, report, saving, trouble};
use super::{Shared, State, guard};

/// Bytes of what a form may send. House rule: a board has a few hundred readings.
const LARGEST_BODY: usize = 256 * 1024;

/// What a form says, in the order of its fields.
pub(super) type Said = Vec<(String, String)>;

/// The first value of a field.
pub(super) fn said<'s>(form: &'s Said, name: &str) -> &'s str {
    let found = form.iter().find(|(own, _)| own == name);
    found.map_or("", |(_, value)| value.trim())
}

pub(super) fn all(state: Shared) -> Router {
    Router::new()
        .route("/", get(shown(boards::list)))
        .route("/new", get(shown(boards::blank)).post(done(boards::add)))
        .route("/begin", get(shown(begin::page)).post(done(begin::begin)))
        .route("/measure", get(shown(measure::page)))
        .route("/typed", post(done(measure::typed)))
        .route("/fill", post(done(measure::fill)))
        .route("/save", get(shown(saving::page)).post(done(saving::save)))
        .route("/report", get(shown(report::form)))
        .route("/report/page", get(shown(report::html)))
        .route("/report/paper", get(shown(report::pdf)))
        .route("/compare", get(shown(compare::form)))
        .route("/compare/page", get(shown(compare::html)))
        .route("/leg/page", get(shown(compare::leg)))
        .route("/enter/{secret}", get(knock).post(enter))
        .route("/desk.css", get(look::style))
        .route("/desk.js", get(look::script))
        .fallback(nowhere)
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .layer(from_fn_with_state(state.clone(), guard::check))
        .with_state(state)
}

/// What a page is made of: the desk, what was asked, and what whoever asks may do.
pub(super) struct Asked {
    pub(super) said: Said,
    pub(super) right: Right,
}

type Page = fn(&State, &Asked) -> Response;

/// A page that changes nothing. The engine's work keeps no other request waiting.
fn shown(
    page: Page,
) -> impl Fn(Of<Shared>, axum::Extension<Right>, Query<Said>) -> Answer + Clone + Send + 'static {
    move |Of(state), axum::Extension(right), Query(said)| answer(state, page, Asked { said, right })
}

/// What changes something.
fn done(
    page: Page,
) -> impl Fn(Of<Shared>, axum::Extension<Right>, Form<Said>) -> Answer + Clone + Send + 'static {
    move |Of(state), axum::Extension(right), Form(said)| answer(state, page, Asked { said, right })
}

type Answer = std::pin::Pin<Box<dyn Future<Output = Response> + Send>>;

fn answer(state: Shared, page: Page, asked: Asked) -> Answer {
    Box::pin(async move {
        let made = tokio::task::spawn_blocking(move || page(&state, &asked)).await;
        made.unwrap_or_else(|_| {
            trouble::plain(
                StatusCode::INTERNAL_SERVER_ERROR,
                "This page could not be made",
                "what you have typed is kept; go back and try again, and if it happens again, \
                 use the commands on the same files",
            )
        })
    })
}

/// The link for this computer leads straight in; one for the room is good once, so a
/// program that looks at links in advance must not use it up.
async fn knock(Of(state): Of<Shared>, Path(secret): Path<String>, headers: HeaderMap) -> Response {
    let host = guard::text(&headers, &header::HOST).unwrap_or_default();
    let known = {
        let keys = state.keys.lock().unwrap_or_else(PoisonError::into_inner);
        keys.opens(&secret)
    };
    if !known {
        return stale();
    }
    if host.starts_with("127.0.0.1:") || host.starts_with("localhost:") {
        return let_in(&state, &secret, host);
    }
    look::door()
}

async fn enter(Of(state): Of<Shared>, Path(secret): Path<String>, headers: HeaderMap) -> Response {
    let host = guard::text(&headers, &header::HOST).unwrap_or_default();
    let_in(&state, &secret, host)
}

fn let_in(state: &State, secret: &str, host: &str) -> Response {
    let entered = {
        let mut keys = state.keys.lock().unwrap_or_else(PoisonError::into_inner);
        keys.enter(secret)
    };
    let Some((cookie, times)) = entered else {
        return stale();
    };
    if times == Use::Once {
        state.used.notify_one();
    }
    let name = guard::cookie_name(host);
    let cookie = format!("{name}={cookie}; HttpOnly; SameSite=Strict; Path=/");
    ([(header::SET_COOKIE, cookie)], Redirect::to("/")).into_response()
}

fn stale() -> Response {
    trouble::plain(
        StatusCode::FORBIDDEN,
        "This link is not good, or no longer",
        "one for the room is good once: take the newest that the program printed",
    )
}

async fn nowhere(uri: Uri) -> Response {
    trouble::plain(
        StatusCode::NOT_FOUND,
        &format!("There is no page `{}`", uri.path()),
        "begin with the list of boards",
    )
}
