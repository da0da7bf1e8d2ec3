//! A rule as data.

use super::{Level, Note, Subject};

/// What a file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// A board as measured.
    Board,
    /// A tolerance table.
    Table,
    /// One person's filled sheet.
    Sheet,
    /// The occasion of an inspection.
    Event,
    /// What a project asks of its files.
    Settings,
}

impl Kind {
    /// The word in sentences and in reports.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Board => "board",
            Self::Table => "table",
            Self::Sheet => "sheet",
            Self::Event => "event",
            Self::Settings => "settings",
        }
    }
}

/// A whole small file, and what lies beside it.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The file's name.
    pub name: &'static str,
    /// Its text. Invented, like every example.
    pub text: &'static str,
    /// Other files that it needs: name and text.
    pub beside: &'static [(&'static str, &'static str)],
}

impl Example {
    /// A file that needs no other.
    pub const fn alone(name: &'static str, text: &'static str) -> Self {
        Self {
            name,
            text,
            beside: &[],
        }
    }
}

/// How a rule looks.
#[derive(Clone, Copy, Debug)]
pub enum Check {
    /// At one file.
    File(fn(&Subject, &mut Vec<Note>)),
    /// At the ids of all boards of a run.
    Ids,
    /// At waivers, once it is known which of them were needed.
    Waivers,
}

/// A rule.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// The code: the pattern that it flags.
    pub code: &'static str,
    /// In one line.
    pub summary: &'static str,
    /// What it flags, exactly.
    pub flags: &'static str,
    /// Why that matters.
    pub matters: &'static str,
    /// Where its numbers come from.
    pub source: &'static str,
    /// How much a finding counts unless the settings say otherwise.
    pub level: Level,
    /// The kinds of file that it is for.
    pub kinds: &'static [Kind],
    /// A file that it flags.
    pub failing: Example,
    /// The same file without the pattern.
    pub passing: Example,
    /// How it looks.
    pub check: Check,
}

impl Rule {
    /// Every rule, in the order of the documentation.
    pub const ALL: &'static [&'static Self] = super::rules::ALL;

    /// The rule with this code.
    pub fn find(code: &str) -> Option<&'static Self> {
        Self::ALL.iter().find(|rule| rule.code == code).copied()
    }
}
