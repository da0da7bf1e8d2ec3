//! Findings as data: what was said about a file, and whether it was waived.

use std::sync::Arc;

use jiff::civil::Date;

use crate::document::{Diagnostic, Document, Level, Place, Span};

/// Why a finding does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waived {
    /// The reason that was given.
    pub because: String,
    /// The last day on which the waiver holds, if it has one.
    pub until: Option<Date>,
    /// Where the waiver is written.
    pub by: Place,
}

/// One thing that was found: by a rule, or a fault of structure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What, where, how much it counts and what to do.
    pub diagnostic: Diagnostic,
    /// The waiver that covers it, if any.
    pub waived: Option<Waived>,
}

impl Finding {
    /// Whether it counts against a threshold.
    pub fn counts(&self, threshold: Level) -> bool {
        self.waived.is_none() && self.diagnostic.level >= threshold
    }
}

impl From<Diagnostic> for Finding {
    fn from(diagnostic: Diagnostic) -> Self {
        Self {
            diagnostic,
            waived: None,
        }
    }
}

/// What a rule flags, with places as bytes of the subject's own file. It
/// becomes a [`Finding`] with the rule's code and its level.
#[derive(Clone, Debug)]
pub struct Flagged {
    pub(crate) span: Span,
    pub(crate) message: String,
    pub(crate) remedy: String,
    pub(crate) related: Vec<(Option<Arc<Document>>, Span, String)>,
}

impl Flagged {
    /// Something at one place.
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
