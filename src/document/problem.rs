//! What readers find wrong, collected while they read.

use super::{Diagnostic, Fault, Level, Place, Span};

/// One thing that is wrong, as bytes of the file that is being read. It becomes
/// a [`Diagnostic`] of the file when reading ends.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Problem {
    fault: Fault,
    message: String,
    remedy: String,
    span: Span,
    /// Another place that the message refers to, such as a key's first use.
    related: Option<(Span, String)>,
}

impl Problem {
    /// A problem at one place: what is wrong, naming the value, and what to
    /// write or do instead.
    pub fn new(
        fault: Fault,
        span: Span,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            fault,
            message: shortened(message.into()),
            remedy: shortened(remedy.into()),
            span,
            related: None,
        }
    }

    /// Points at a second place too.
    #[must_use]
    pub fn and(mut self, span: Span, label: impl Into<String>) -> Self {
        self.related = Some((span, label.into()));
        self
    }

    pub(super) fn into_diagnostic(self, place: impl Fn(Span) -> Place) -> Diagnostic {
        let code = self.fault.code();
        let found = Diagnostic::new(code, Level::Error, place(self.span), self.message);
        let found = found.with_remedy(self.remedy);
        match self.related {
            Some((span, label)) => found.and(place(span), label),
            None => found,
        }
    }
}

/// Characters of a message that are worth reading. House rule: some five lines.
const LONGEST_MESSAGE: usize = 400;

/// A message that quotes a very long value is cut.
fn shortened(message: String) -> String {
    match message.char_indices().nth(LONGEST_MESSAGE) {
        Some((cut, _)) => format!("{}…", message.get(..cut).unwrap_or_default()),
        None => message,
    }
}

/// Problems of one file that are listed; the rest is counted. House rule: more
/// than a person mends in one go.
const MOST_LISTED: usize = 100;

/// A collection that every reading step adds to.
#[derive(Clone, Debug, Default)]
pub struct Problems {
    found: Vec<Problem>,
    /// Values in whose group of keys another one could not be read and was left out.
    beside: Vec<Span>,
}

impl Problems {
    /// Adds one.
    pub fn add(&mut self, problem: Problem) {
        self.found.push(problem);
    }

    /// Adds all of another reader's.
    pub fn extend(&mut self, others: Self) {
        self.found.extend(others.found);
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Whether there is one of this kind.
    pub fn has(&self, fault: Fault) -> bool {
        self.found.iter().any(|problem| problem.fault == fault)
    }

    /// Whether there is one in this place.
    pub(crate) fn has_within(&self, place: Span) -> bool {
        self.found
            .iter()
            .any(|problem| place.contains(problem.span))
    }

    /// Notes that this value has lost one beside it, which is reported already.
    pub(super) fn lost_beside(&mut self, value: Span) {
        self.beside.push(value);
    }

    /// Whether one beside this value was left out: what seems to be missing there may be it.
    pub(crate) fn is_lost_beside(&self, value: Span) -> bool {
        self.beside.contains(&value)
    }

    /// Forgets problems of every other kind.
    pub fn keep_only(&mut self, fault: Fault) {
        self.found.retain(|problem| problem.fault == fault);
    }

    /// Those that are listed, in the order of the file, and how many are not.
    pub(super) fn listed(mut self) -> (Vec<Problem>, usize) {
        self.found
            .sort_by(|a, b| (a.span, a.fault, &a.message).cmp(&(b.span, b.fault, &b.message)));
        self.found.dedup();
        let unlisted = self.found.len().saturating_sub(MOST_LISTED);
        self.found.truncate(MOST_LISTED);
        (self.found, unlisted)
    }
}
