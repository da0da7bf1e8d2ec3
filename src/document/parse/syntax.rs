//! Where a text is no YAML, and what helps.

use granit_parser::ScanError;

use crate::document::{Fault, Problem, Source, Span};

/// What helps against what the parser says, by words of it.
const REMEDIES: [(&str, &str); 8] = [
    (
        "unknown anchor",
        "write the value out, or name an anchor (`&name`) that stands above",
    ),
    (
        "directives",
        "remove the line that begins with `%`: these files need none",
    ),
    (
        "handle wasn't declared",
        "remove the tag; the format decides what each value is",
    ),
    ("escape", ESCAPES),
    ("hexadecimal", ESCAPES),
    ("surrogate", ESCAPES),
    ("BOM", "remove the mark of byte order (U+FEFF) from here"),
    (
        "unexpected character",
        "put the whole value into quotation marks: it cannot begin with this character",
    ),
];

const ESCAPES: &str = "write `\\\\` for a backslash in double quotes, or use single quotes, in which \
                       it stands for itself";

const CONTROL: &str = "remove this character, which no text needs; if the file is full of them, \
                       save it as UTF-8";

const OTHERWISE: &str = "check the indentation, the quotes and the brackets on this line and the \
                         one before; nothing after it could be read";

/// The problem that the parser stopped at.
pub(super) fn syntax(source: &Source, error: &ScanError) -> Problem {
    let text = source.text();
    let at = error.marker().byte_offset().unwrap_or(0).min(text.len());
    // An error at the very end is easier to see on the last character.
    let at = if at == text.len() {
        text.trim_end().len()
    } else {
        at
    };
    let width = text
        .get(at..)
        .and_then(|rest| rest.chars().next())
        .map_or(0, char::len_utf8);
    let span = Span {
        start: at,
        end: at + width,
    };
    let info = error.info();
    Problem::new(
        Fault::Syntax,
        span,
        format!("this is not well-formed YAML: {info}"),
        remedy(&info),
    )
}

fn remedy(info: &str) -> &'static str {
    // The parser names a character that nobody sees by its number.
    if info.starts_with("unexpected character") && info.contains("\\u{") {
        return CONTROL;
    }
    let mut known = REMEDIES.iter();
    known
        .find(|(words, _)| info.contains(words))
        .map_or(OTHERWISE, |(_, remedy)| remedy)
}
