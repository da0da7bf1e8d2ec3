//! Nobody says when.

use crate::document::{FileKind, Level};
use crate::lint::notation::record_place;
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "missing-date",
    summary: "a record of measurements without a date",
    flags: "A board file without `inspection: { date: … }`, or a sheet whose row `date` is empty.",
    matters: "Wires move. A measurement without its day cannot be set beside an earlier or a later one.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board, FileKind::Sheet],
    failing: Example::board("fl-03.yaml")
        .with(&[("by: A. Ashdown, date: \"2026-11-14\"", "by: A. Ashdown")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    match &subject.content {
        Content::Board(board) if board.inspection.as_ref().is_none_or(|i| i.date.is_none()) => {
            flagged.push(Flagged::new(
                record_place(subject, &["inspection", "date"]),
                "no day is given on which this board was measured",
                "add `inspection: { date: \"2026-11-14\" }`",
            ));
        }
        Content::Sheet(sheet) if sheet.date.is_none() => flagged.push(Flagged::new(
            sheet.head,
            "no day is given on which this sheet was filled in",
            "fill in the row `date`, in the first column for readings",
        )),
        _ => {}
    }
}
