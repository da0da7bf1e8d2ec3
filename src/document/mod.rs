//! YAML text as a located tree: every value knows its bytes in the file.
//!
//! A file is parsed once, under [budgets](budget) against hostile input. The
//! tree is checked against a JSON Schema for structure, and the typed rooms
//! read from the same tree. Each step collects its problems instead of
//! stopping at the first, so that one run shows everything that is wrong.

pub mod budget;
mod csv;
mod day;
mod de;
mod diagnostic;
mod encoding;
mod fault;
pub(crate) mod for_editors;
mod group_names;
mod invalid_file;
mod kind;
mod lines;
mod located;
mod named;
mod nearest;
mod node;
mod open;
mod parse;
mod place;
mod problem;
mod recognised;
mod rule_words;
mod scalar;
mod schema;
mod sniff;
mod source;
mod translate;

#[cfg(feature = "workbook")]
pub(crate) use csv::wrong_length;
pub(crate) use csv::{Cell, Row, csv_rows};
pub use csv::{CsvFormat, DecimalMark, Separator};
pub(crate) use day::is_iso_day;
pub use day::{DayOrder, day, local_day};
pub use de::ShapeError;
pub use diagnostic::{Diagnostic, Level, Related, UnknownLevel};
pub use encoding::Encoding;
pub use fault::Fault;
pub use for_editors::EXTRA_KEYWORDS;
pub use invalid_file::{InvalidFile, InvalidFiles};
pub use kind::FileKind;
pub use lines::next_line;
pub use located::{Located, PlainOr};
pub use named::Named;
pub use nearest::nearest;
pub use node::{Entry, Node, Value};
pub use open::{Disk, Files, is_special};
pub use parse::parse;
pub use place::{Excerpt, Passage, Place};
pub use problem::{Problem, Problems};
pub(crate) use recognised::Recognised;
pub use schema::Shape;
pub(crate) use sniff::{points_format, sheet_format};
pub use source::{Position, Source, Span, sha256};

use std::sync::Arc;

/// A parsed file: its text and its tree.
///
/// ```
/// use ringrule::document::{Source, parse};
///
/// let document = parse(Source::new("fl-03.yaml", "board: { id: FL-03 }\n"))?;
/// let id = document.root.get("board").and_then(|board| board.get("id"));
/// let span = id.map(|id| id.span).unwrap_or_default();
/// assert_eq!(document.source.slice(span), "FL-03");
/// assert_eq!(document.pointer(span), "/board/id");
/// # Ok::<(), ringrule::document::InvalidFile>(())
/// ```
#[derive(Clone, Debug)]
pub struct Document {
    /// Where the text came from, and the text.
    pub source: Arc<Source>,
    /// The tree.
    pub root: Node,
}

impl Document {
    /// The JSON Pointer (RFC 6901) of the value at `span`, or of the smallest
    /// value that contains it.
    pub fn pointer(&self, span: Span) -> String {
        let mut pointer = String::new();
        let mut node = &self.root;
        loop {
            let step = match &node.value {
                Value::Map(entries) => entries.iter().find_map(|entry| {
                    let inside = entry.value.span.contains(span) || entry.key_span.contains(span);
                    inside.then(|| {
                        (
                            entry.key.replace('~', "~0").replace('/', "~1"),
                            &entry.value,
                        )
                    })
                }),
                Value::List(items) => items.iter().enumerate().find_map(|(index, item)| {
                    item.span.contains(span).then(|| (index.to_string(), item))
                }),
                _ => None,
            };
            let Some((name, child)) = step else {
                return pointer;
            };
            pointer.push('/');
            pointer.push_str(&name);
            node = child;
        }
    }
}
