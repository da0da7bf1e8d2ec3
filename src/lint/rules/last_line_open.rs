//! A file that ends within a line.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "last-line-open",
    summary: "a file that ends within a line",
    flags: "A file whose last line has no new line after it.",
    matters: "What was cut short in sending or saving mostly ends within a line, and may read as if it were whole: 1.5 is a number, and so is the 1.564 that it was.",
    source: "house rule; a text file consists of lines that each end with a new line (POSIX, from memory)",
    level: Level::Note,
    kinds: &[
        FileKind::Board,
        FileKind::Table,
        FileKind::Sheet,
        FileKind::Points,
        FileKind::Event,
        FileKind::Settings,
    ],
    failing: Example::board("fl-03.yaml")
        .with(&[("169.93, edge: outside }\n", "169.9, edge: outside }")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let last = subject.source().and_then(|source| source.open_line());
    flagged.extend(last.map(|last| {
        Flagged::new(
            last,
            "the file ends within this line",
            "see whether the line is whole and nothing is missing after it, and end it with a new line",
        )
    }));
}
