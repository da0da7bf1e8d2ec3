//! What was checked in which file, and what came of it.

use crate::document::{Diagnostic, InvalidFile, Level};

/// Everything that a run has checked.
#[derive(Clone, Debug, Default)]
pub struct Checks {
    /// The command that checked.
    pub command: &'static str,
    /// Every rule that an outcome names, each once.
    pub rules: Vec<CheckRule>,
    /// The least level that fails the run; `None` where everything that counts does.
    pub fails_at: Option<Level>,
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
    /// How much it counts unless a diagnostic says otherwise.
    pub level: Level,
}

/// A file with what was checked in it, in order.
#[derive(Clone, Debug)]
pub struct CheckedFile {
    /// The file as the user named it.
    pub name: String,
    /// What came of each check.
    pub outcomes: Vec<CheckOutcome>,
}

/// What came of one check of one file.
#[derive(Clone, Debug)]
pub enum CheckOutcome {
    /// Nothing to say.
    Passed {
        /// The rule's code.
        code: String,
        /// What was checked, in a few words that tell it from the file's others.
        title: String,
    },
    /// Something was found.
    Found(Box<Found>),
}

/// What a check found.
#[derive(Clone, Debug)]
pub struct Found {
    /// All that there is to say.
    pub diagnostic: Diagnostic,
    /// What was checked, in a few words that tell it from the file's others.
    pub title: String,
    /// Tells it from everything else that the rule finds in the file, whatever
    /// line it is on.
    pub key: String,
    /// Whether it counts.
    pub standing: Standing,
}

/// Whether what was found counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It does.
    Counts,
    /// The file lacks what the check would need.
    NotMade,
    /// Somebody has waived it.
    Waived {
        /// The reason that was given.
        because: String,
        /// Whether the waiver is in the file itself.
        in_file: bool,
    },
}

impl Checks {
    /// Everything that was found.
    pub fn found(&self) -> impl Iterator<Item = &Found> {
        let outcomes = self.files.iter().flat_map(|file| &file.outcomes);
        outcomes.filter_map(|outcome| match outcome {
            CheckOutcome::Passed { .. } => None,
            CheckOutcome::Found(found) => Some(&**found),
        })
    }

    /// Lists a rule, once.
    pub fn know(&mut self, id: &str, rule: impl FnOnce() -> CheckRule) {
        if !self.rules.iter().any(|known| known.id == id) {
            self.rules.push(rule());
        }
    }

    /// Adds a file that could not be used: an outcome for each of its problems.
    pub fn leave_out(&mut self, invalid_file: &InvalidFile) {
        for fault in invalid_file.faults() {
            self.know(fault.code(), || CheckRule::of_fault(fault));
        }
        let problems = invalid_file.diagnostics.iter().enumerate();
        let outcomes = problems.map(|(index, diagnostic)| {
            CheckOutcome::Found(Box::new(Found {
                title: format!("{} ({})", diagnostic.message, index + 1),
                key: diagnostic.message.clone(),
                diagnostic: diagnostic.clone(),
                standing: Standing::Counts,
            }))
        });
        self.files.push(CheckedFile {
            name: invalid_file.file.name().to_owned(),
            outcomes: outcomes.collect(),
        });
    }
}

impl CheckRule {
    /// What a fault of structure breaks.
    pub(super) fn of_fault(fault: crate::document::Fault) -> Self {
        Self {
            id: fault.code().to_owned(),
            summary: fault.meaning().to_owned(),
            help: "The file cannot be read as what it says it is.".to_owned(),
            level: Level::Error,
        }
    }
}
