//! A place in a file, in every way in which programs and people name one.

use std::fmt;
use std::sync::Arc;

use super::{Document, Position, Source, Span};

/// Lines of a place that are kept to be shown. House rule: the beginning of a
/// longer group is enough to know it by.
const MOST_LINES: usize = 3;

/// Bytes of them. House rule: some five lines of a terminal; longer ones were
/// not written to be read.
const MOST_BYTES: usize = 400;

/// A place that needs no tree and no text any more: thousands of files are
/// looked at, and none of them is kept. Only the lines of the place itself are,
/// so that a diagnostic can show them long after the file was let go.
///
/// ```
/// use ringrule::document::{Place, Source, Span};
///
/// let source = Source::new("fl-03.yaml", "units: mm\nmounting: glued\n");
/// let place = Place::in_text(&source, Span { start: 20, end: 25 });
/// assert_eq!(place.to_string(), "fl-03.yaml:2:11");
/// assert_eq!(place.to.column, 16);
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Place {
    /// The file as the user named it.
    pub file: Arc<str>,
    /// The bytes.
    pub span: Span,
    /// Line and column of the first byte.
    pub from: Position,
    /// Line and column behind the last byte.
    pub to: Position,
    /// The JSON Pointer (RFC 6901) of the value, where there is a tree.
    pub pointer: Option<String>,
    shown: Option<Box<Shown>>,
}

/// By what a place is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Shown {
    /// Its lines.
    Lines(Excerpt),
    /// The name of a cell, such as `Sheet1!F7`: no line of a workbook is one that
    /// people know.
    Cell(Arc<str>),
}

/// Whole lines of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Excerpt {
    /// The byte of the file at which they begin.
    pub start: usize,
    /// The lines, without the last one's end.
    pub text: Box<str>,
}

impl Place {
    /// A place in a text.
    pub fn in_text(source: &Source, span: Span) -> Self {
        // Nothing may point behind the end, whatever a reader made of a text
        // that breaks off.
        let end = span.end.min(source.text().len());
        let start = span.start.min(end);
        let (from, to) = (source.position(start), source.position(end));
        let shown = match source.cell(span) {
            Some(name) => Some(Box::new(Shown::Cell(name))),
            None => excerpt(source, from.line, last_shown(from, to)),
        };
        Self {
            file: source.shared_name(),
            span: Span { start, end },
            from,
            to,
            pointer: None,
            shown,
        }
    }

    /// A place in a parsed file.
    pub fn in_document(document: &Document, span: Span) -> Self {
        Self {
            pointer: Some(document.pointer(span)),
            ..Self::in_text(&document.source, span)
        }
    }

    /// The start of a file of which only the name matters.
    pub fn start_of(file: impl Into<Arc<str>>) -> Self {
        let start = Position { line: 1, column: 1 };
        Self {
            file: file.into(),
            span: Span::default(),
            from: start,
            to: start,
            pointer: None,
            shown: None,
        }
    }

    /// Keeps the line before it too: where a structure is wrong, the cause is
    /// often found there.
    #[must_use]
    pub(super) fn with_line_before(mut self, source: &Source) -> Self {
        if self.excerpt().is_some() && self.from.line > 1 {
            let last = last_shown(self.from, self.to);
            let wider = excerpt(source, self.from.line - 1, last);
            self.shown = wider.or(self.shown);
        }
        self
    }

    /// Its lines: the first few, if they are not too long to be read.
    pub fn excerpt(&self) -> Option<&Excerpt> {
        match self.shown.as_deref()? {
            Shown::Lines(excerpt) => Some(excerpt),
            Shown::Cell(_) => None,
        }
    }

    /// The name of its cell, such as `Sheet1!F7`, in a workbook.
    pub fn cell(&self) -> Option<&str> {
        match self.shown.as_deref()? {
            Shown::Lines(_) => None,
            Shown::Cell(name) => Some(name),
        }
    }
}

impl fmt::Display for Place {
    /// `file:line:column`, as editors and terminals make links of; of a workbook
    /// `file:Sheet1!F7`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(cell) = self.cell() {
            return write!(f, "{}:{cell}", self.file);
        }
        write!(f, "{}:{}:{}", self.file, self.from.line, self.from.column)
    }
}

fn last_shown(from: Position, to: Position) -> usize {
    to.line.min(from.line.saturating_add(MOST_LINES - 1))
}

fn excerpt(source: &Source, first: usize, last: usize) -> Option<Box<Shown>> {
    let lines = source.line_span(first).to(source.line_span(last));
    let text = source.slice(lines).trim_end_matches(['\n', '\r']);
    (!text.is_empty() && text.len() <= MOST_BYTES).then(|| {
        Box::new(Shown::Lines(Excerpt {
            start: lines.start,
            text: Box::from(text),
        }))
    })
}

/// A part of a parsed file that is still at hand: its [`Place`] is worked out
/// when somebody asks.
#[derive(Clone, Debug)]
pub struct Passage {
    /// The file.
    pub document: Arc<Document>,
    /// The bytes.
    pub span: Span,
}

impl Passage {
    /// Where it is.
    pub fn place(&self) -> Place {
        Place::in_document(&self.document, self.span)
    }
}

impl fmt::Display for Passage {
    /// As [`Place`] prints it.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let source = &self.document.source;
        let Position { line, column } = source.position(self.span.start);
        write!(f, "{}:{line}:{column}", source.name())
    }
}
