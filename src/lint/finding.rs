//! Findings as data: where, how much, what, what to do, and whether waived.

use std::sync::Arc;

use jiff::civil::Date;

use super::Level;
use crate::document::{Document, Position, Source, Span};

/// A place that needs no tree and no text any more: thousands of files are
/// looked at, and none of them is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FilePlace {
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
}

impl FilePlace {
    /// A place in a text.
    pub fn in_text(source: &Source, span: Span) -> Self {
        // Nothing may point behind the end, whatever a reader made of a text
        // that breaks off.
        let end = span.end.min(source.text().len());
        let span = Span {
            start: span.start.min(end),
            end,
        };
        Self {
            file: Arc::from(source.name()),
            span,
            from: source.position(span.start),
            to: source.position(span.end),
            pointer: None,
        }
    }

    /// A place in a parsed file.
    pub fn in_document(document: &Document, span: Span) -> Self {
        Self {
            pointer: Some(document.pointer(span)),
            ..Self::in_text(&document.source, span)
        }
    }
}

/// A second place that a finding speaks of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RelatedPlace {
    /// Where.
    pub place: FilePlace,
    /// What stands there, in words.
    pub label: String,
}

/// Why a finding does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waived {
    /// The reason that was given.
    pub because: String,
    /// The last day on which the waiver holds, if it has one.
    pub until: Option<Date>,
    /// Where the waiver is written.
    pub by: FilePlace,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule's code, or that of a fault of structure.
    pub code: &'static str,
    /// How much it counts.
    pub level: Level,
    /// Where.
    pub place: FilePlace,
    /// What, naming the value.
    pub message: String,
    /// What to do.
    pub remedy: String,
    /// Other places that the message speaks of.
    pub related: Vec<RelatedPlace>,
    /// The waiver that covers it, if any.
    pub waived: Option<Waived>,
}

impl Finding {
    /// Whether it counts against a threshold.
    pub fn counts(&self, threshold: Level) -> bool {
        self.waived.is_none() && self.level >= threshold
    }
}

/// What a rule says, with places as bytes of the subject's own file.
#[derive(Clone, Debug)]
pub struct Note {
    pub(crate) span: Span,
    pub(crate) message: String,
    pub(crate) remedy: String,
    pub(crate) related: Vec<(Option<Arc<Document>>, Span, String)>,
}

impl Note {
    /// A note at one place.
    pub(crate) fn new(span: Span, message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self {
            span,
            message: message.into(),
            remedy: remedy.into(),
            related: Vec::new(),
        }
    }

    /// Points at a second place in the same file too.
    #[must_use]
    pub(crate) fn and(mut self, span: Span, label: impl Into<String>) -> Self {
        self.related.push((None, span, label.into()));
        self
    }

    /// Points at a second place in a file of its own.
    #[must_use]
    pub(crate) fn and_in(
        mut self,
        document: &Arc<Document>,
        span: Span,
        label: impl Into<String>,
    ) -> Self {
        let document = Some(Arc::clone(document));
        self.related.push((document, span, label.into()));
        self
    }
}
