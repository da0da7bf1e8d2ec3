//! Nobody says who measured.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::notation::record_place;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "missing-inspector",
    summary: "a board file that does not say who measured it",
    flags: "A board file without `inspection: { by: … }`.",
    matters: "A reading that is doubted can only be taken up with whoever took it.",
    source: "no numbers",
    level: Level::Note,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[(
        "by: A. Ashdown, date: \"2026-11-14\"",
        "date: \"2026-11-14\"",
    )]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, subject: &Subject, flagged: &mut Vec<Flagged>) {
    let by = board.inspection.as_ref().and_then(|i| i.by.as_deref());
    if by.is_none_or(|by| by.trim().is_empty()) {
        flagged.push(Flagged::new(
            record_place(subject, &["inspection", "by"]),
            "nobody is named who measured this board",
            "add `inspection: { by: … }`",
        ));
    }
}
