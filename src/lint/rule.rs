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

/// A whole small file, and what lies beside it. Invented, like every example.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The file's name.
    pub name: &'static str,
    /// Its text before the changes.
    base: &'static str,
    /// What stands there, and what takes its place: the pattern itself.
    changes: &'static [(&'static str, &'static str)],
    /// Other files that it needs.
    pub beside: &'static [Self],
}

/// A small board file that no rule finds anything in.
const BOARD: &str = "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: staples
units: mm
inspection: { by: A. Ashdown, date: \"2026-11-14\" }
instrument: { name: calliper 2, resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\" }
wires: { rings: 16 SWG, sectors: 16 SWG }
rings:
  treble_inner: { radius: 97.41, edge: outside }
  treble_outer: { radius: 107.05, edge: outside }
  double_outer: { radius: 169.93, edge: outside }
";

impl Example {
    /// A file of its own.
    pub const fn alone(name: &'static str, text: &'static str) -> Self {
        Self {
            name,
            base: text,
            changes: &[],
            beside: &[],
        }
    }

    /// A small board file that no rule finds anything in.
    pub const fn board(name: &'static str) -> Self {
        Self::alone(name, BOARD)
    }

    /// The same file with these places changed, each of which it has once.
    #[must_use]
    pub const fn with(self, changes: &'static [(&'static str, &'static str)]) -> Self {
        Self { changes, ..self }
    }

    /// The same file with others beside it.
    #[must_use]
    pub const fn beside(self, beside: &'static [Self]) -> Self {
        Self { beside, ..self }
    }

    /// The whole text.
    pub fn text(&self) -> String {
        let changes = self.changes.iter();
        changes.fold(self.base.to_owned(), |text, (from, to)| {
            text.replacen(from, to, 1)
        })
    }

    /// The file itself, then those beside it.
    pub fn files(&self) -> impl Iterator<Item = &Self> {
        std::iter::once(self).chain(self.beside)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_change_of_an_example_has_its_one_place() {
        for rule in Rule::ALL {
            let examples = rule.failing.files().chain(rule.passing.files());
            for example in examples {
                for (from, _) in example.changes {
                    let places = example.base.matches(from).count();
                    assert_eq!(places, 1, "{}: {from:?} in {}", rule.code, example.base);
                }
            }
            assert_ne!(
                (
                    rule.failing.name,
                    rule.failing.files().map(Example::text).collect::<Vec<_>>()
                ),
                (
                    rule.passing.name,
                    rule.passing.files().map(Example::text).collect::<Vec<_>>()
                ),
                "{}",
                rule.code
            );
        }
    }
}
