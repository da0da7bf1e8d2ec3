//! A rule as data.

use super::{Flagged, Subject};
use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::table::Table;

/// A whole small file, and what lies beside it. Invented, like every example.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// The file's name.
    pub name: &'static str,
    /// Its text before the changes.
    pub(super) base: &'static str,
    /// What stands there, and what takes its place: the pattern itself.
    pub(super) changes: &'static [(&'static str, &'static str)],
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

/// What a rule looks at.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub enum Scope {
    /// One file at a time.
    File(fn(&Subject, &mut Vec<Flagged>)),
    /// One board at a time; the subject has the places of its keys.
    Board(fn(&Board, &Subject, &mut Vec<Flagged>)),
    /// One table at a time.
    Table(fn(&Table, &Subject, &mut Vec<Flagged>)),
    /// The ids of all boards of a run.
    Ids,
    /// Waivers, once it is known which of them were needed.
    Waivers,
}

/// A rule.
///
/// ```
/// use ringrule::document::Level;
/// use ringrule::lint::Rule;
///
/// let rule = Rule::find("edge-mistaken").ok_or("no such rule")?;
/// assert_eq!(rule.level, Level::Warning);
/// assert!(rule.failing.text().starts_with("format: ringrule/board/1"));
/// # Ok::<(), &str>(())
/// ```
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
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
    pub kinds: &'static [FileKind],
    /// A file that it flags.
    pub failing: Example,
    /// The same file without the pattern.
    pub passing: Example,
    /// What it looks at.
    pub scope: Scope,
}
