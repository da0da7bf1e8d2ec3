//! What was checked in which file, and what came of it.

use crate::document::{Position, Source, Span};

/// Everything that a run has checked.
#[derive(Clone, Debug, Default)]
pub struct Checks {
    /// The command that checked.
    pub command: &'static str,
    /// Every rule that a check names, each once.
    pub rules: Vec<CheckRule>,
    /// The files, in the order of the run.
    pub files: Vec<CheckedFile>,
}

/// What is checked.
#[derive(Clone, Debug)]
pub struct CheckRule {
    /// Its code.
    pub id: String,
    /// What it asks, in a line.
    pub summary: String,
    /// More about it.
    pub help: String,
    /// How much it counts unless a check says otherwise.
    pub severity: Severity,
}

/// A file with its checks.
#[derive(Clone, Debug)]
pub struct CheckedFile {
    /// The file as the user named it.
    pub name: String,
    /// What was checked in it, in order.
    pub checks: Vec<Check>,
}

/// One check of one file.
#[derive(Clone, Debug)]
pub struct Check {
    /// The rule's code.
    pub rule: String,
    /// What was checked, in a few words that tell it from the file's others.
    pub title: String,
    /// What came of it.
    pub state: State,
    /// What was found, naming values; for a check that passed, too.
    pub message: String,
    /// What to do.
    pub remedy: Option<String>,
    /// Where.
    pub spot: Spot,
    /// Other places that it speaks of.
    pub related: Vec<RelatedSpot>,
    /// Tells it from every other check of the rule in the file, whatever line
    /// it stands on.
    pub key: String,
}

/// What came of a check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum State {
    /// Nothing to say.
    Passed,
    /// Something was found.
    Found(Severity),
    /// The file lacks what the check would need.
    NotMade(Severity),
    /// Something was found that somebody has waived.
    Waived {
        /// How much it would count.
        severity: Severity,
        /// The reason that was given.
        because: String,
        /// Whether the waiver stands in the file itself.
        in_file: bool,
    },
}

/// How much a finding counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Perhaps wrong.
    Warning,
    /// Wrong.
    Error,
}

impl Severity {
    /// The word of SARIF (OASIS SARIF 2.1.0, 3.27.10).
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// A place in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spot {
    /// The file as the user named it.
    pub file: String,
    /// The bytes.
    pub span: Span,
    /// Line and column of the first byte.
    pub from: Position,
    /// Line and column behind the last byte.
    pub to: Position,
}

/// Another place, and what stands there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RelatedSpot {
    /// Where.
    pub spot: Spot,
    /// What.
    pub label: String,
}

impl Spot {
    /// The place of these bytes.
    pub fn new(source: &Source, span: Span) -> Self {
        Self {
            file: source.name().to_owned(),
            span,
            from: source.position(span.start),
            to: source.position(span.end),
        }
    }
}

impl Check {
    /// How much what was found counts; `None` if nothing counts.
    pub const fn severity(&self) -> Option<Severity> {
        match self.state {
            State::Found(severity) | State::NotMade(severity) => Some(severity),
            State::Passed | State::Waived { .. } => None,
        }
    }
}
