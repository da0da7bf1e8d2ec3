//! Who is let in, and what every answer says to browsers.

use axum::extract::{Request, State as Of};
use axum::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::Response;

use super::Shared;
use super::keys::Right;
use super::pages::trouble;

/// What a page may load: our own style, script and requests, and nothing from elsewhere.
/// Drawings set colours in attributes.
const POLICY: &str = "default-src 'none'; style-src 'self'; style-src-attr 'unsafe-inline'; \
    script-src 'self'; connect-src 'self'; img-src 'self' data:; form-action 'self'; \
    base-uri 'none'; frame-ancestors 'none'";

/// The same for a report, which carries its style within and has no script.
pub(super) const REPORT_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; \
    base-uri 'none'; frame-ancestors 'none'";

const HEADERS: [(HeaderName, &str); 6] = [
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::REFERRER_POLICY, "same-origin"),
    (header::CACHE_CONTROL, "no-store"),
    (
        HeaderName::from_static("cross-origin-opener-policy"),
        "same-origin",
    ),
    (
        HeaderName::from_static("cross-origin-resource-policy"),
        "same-origin",
    ),
];

/// Lets a request through, or says why not.
pub(super) async fn check(Of(state): Of<Shared>, mut request: Request, next: Next) -> Response {
    let refused = refused(&state, &mut request);
    let mut response = match refused {
        Some(response) => response,
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    let policy = headers.entry(header::CONTENT_SECURITY_POLICY);
    policy.or_insert(HeaderValue::from_static(POLICY));
    response
}

fn refused(state: &Shared, request: &mut Request) -> Option<Response> {
    let headers = request.headers();
    let host = text(headers, &header::HOST);
    // A page from elsewhere that gave its name our address would be heard otherwise.
    if !host.is_some_and(|host| state.hosts.iter().any(|known| known == host)) {
        return Some(trouble::plain(
            StatusCode::MISDIRECTED_REQUEST,
            "This desk is not known by that name",
            "open the address that the program printed",
        ));
    }
    let changes = !matches!(*request.method(), Method::GET | Method::HEAD);
    if changes && !is_own(headers, host.unwrap_or_default()) {
        return Some(trouble::plain(
            StatusCode::FORBIDDEN,
            "This did not come from a page of this desk",
            "nothing was changed; go back to the desk's own page, and try again there",
        ));
    }
    let path = request.uri().path();
    if path.starts_with("/enter/") || path == "/desk.css" || path == "/desk.js" {
        return None;
    }
    let right = cookie(headers, &cookie_name(host.unwrap_or_default())).and_then(|cookie| {
        let keys = state.keys.lock().ok()?;
        keys.right(cookie)
    });
    let Some(right) = right else {
        return Some(trouble::plain(
            StatusCode::UNAUTHORIZED,
            "This browser has not been let in",
            "open the link that the program printed; one for the room is good once, and the \
             program prints the next one",
        ));
    };
    if changes && right == Right::Look {
        return Some(trouble::plain(
            StatusCode::FORBIDDEN,
            "This browser may look and not change anything",
            "whoever opened the desk can share it with `--share measure`",
        ));
    }
    request.extensions_mut().insert(right);
    None
}

/// Whether a request that changes something comes from a page of ours.
fn is_own(headers: &HeaderMap, host: &str) -> bool {
    if headers.contains_key(header::ORIGIN) {
        let origin = text(headers, &header::ORIGIN);
        return origin.and_then(|origin| origin.strip_prefix("http://")) == Some(host);
    }
    let site = HeaderName::from_static("sec-fetch-site");
    text(headers, &site) == Some("same-origin")
}

/// Cookies know no ports: desks side by side must not take each other's.
pub(super) fn cookie_name(host: &str) -> String {
    let port = host.rsplit(':').next().unwrap_or_default();
    format!("ringrule-desk-{port}")
}

fn cookie<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    let all = text(headers, &header::COOKIE)?.split(';');
    let mut pairs = all.filter_map(|pair| pair.trim().split_once('='));
    pairs.find(|(own, _)| *own == name).map(|(_, value)| value)
}

pub(super) fn text<'h>(headers: &'h HeaderMap, name: &HeaderName) -> Option<&'h str> {
    let mut all = headers.get_all(name).iter();
    let first = all.next()?.to_str().ok();
    // Said twice, it says nothing.
    first.filter(|_| all.next().is_none())
}
