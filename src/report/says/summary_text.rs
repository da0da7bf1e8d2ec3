//! What a whole run came to.

use std::fmt::{self, Write};

use super::phrases;
use crate::conformity::{Assessment, Verdict};
use crate::report::fit::lines;
use crate::report::page::TextLayout;
use crate::report::style::Style;
use crate::table::Table;

/// Boards counted by verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Boards that conform.
    pub conform: usize,
    /// Boards that do not.
    pub do_not_conform: usize,
    /// Boards of which neither can be said.
    pub inconclusive: usize,
    /// Files that could not be used.
    pub invalid_files: usize,
}

impl Counts {
    /// Counts a board.
    pub fn add(&mut self, assessment: &Assessment<'_>) {
        match assessment.verdict {
            Verdict::Conforms => self.conform += 1,
            Verdict::DoesNotConform => self.do_not_conform += 1,
            Verdict::Inconclusive => self.inconclusive += 1,
        }
    }

    /// Boards that could be judged.
    pub const fn boards(&self) -> usize {
        self.conform + self.do_not_conform + self.inconclusive
    }
}

/// The end of a run: how many boards, which table, which rule.
pub fn summary_text(counts: &Counts, table: &Table, layout: TextLayout) -> String {
    let mut out = String::new();
    // Writing into a string cannot fail.
    let _ = write_summary(&mut out, counts, table, layout);
    out
}

fn write_summary(
    out: &mut String,
    counts: &Counts,
    table: &Table,
    layout: TextLayout,
) -> fmt::Result {
    let boards = phrases::count(counts.boards(), "board", "boards");
    let columns = layout.columns();
    for line in lines(&format!("{boards} against {}", table.title), columns) {
        writeln!(out, "{}", Style::Strong.paint(line))?;
    }
    writeln!(out, "decision rule: {}", table.decision)?;
    let mut parts = Vec::new();
    for (count, verdict) in [
        (counts.conform, Verdict::Conforms),
        (counts.do_not_conform, Verdict::DoesNotConform),
        (counts.inconclusive, Verdict::Inconclusive),
    ] {
        let (one, more) = match verdict {
            Verdict::Conforms => ("conforms", "conform"),
            Verdict::DoesNotConform => ("does not conform", "do not conform"),
            Verdict::Inconclusive => ("inconclusive", "inconclusive"),
        };
        let words = phrases::count(count, one, more);
        parts.push(Style::Verdict(verdict).paint(words).to_string());
    }
    if counts.invalid_files > 0 {
        let files = phrases::count(counts.invalid_files, "file", "files");
        let words = format!("{files} could not be used");
        parts.push(Style::Caution.paint(words).to_string());
    }
    writeln!(out, "{}", parts.join(", "))?;
    let notice = "This is a calculation, not an official approval: the governing body's current \
                  rules prevail.";
    for line in lines(notice, columns) {
        writeln!(out, "{}", Style::Faint.paint(line))?;
    }
    Ok(())
}
