//! Nobody says with what.

use crate::document::{FileKind, Level};
use crate::lint::notation::record_place;
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "missing-instrument",
    summary: "a record of measurements that names no instrument",
    flags: "A board file without `instrument: { name: … }`, or a sheet whose row `instrument` is empty.",
    matters: "When an instrument turns out to be off, one must know which boards it measured.",
    source: "no numbers",
    level: Level::Note,
    kinds: &[FileKind::Board, FileKind::Sheet],
    failing: Example::board("fl-03.yaml")
        .with(&[("name: calliper 2, resolution: 0.01", "resolution: 0.01")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let unnamed = |name: Option<&String>| name.is_none_or(|name| name.trim().is_empty());
    match &subject.content {
        Content::Board(board) if board.instruments.iter().all(|i| unnamed(i.name.as_ref())) => {
            flagged.push(Flagged::new(
                record_place(subject, &["instrument", "name"]),
                "no instrument is named with which this board was measured",
                "add `instrument: { name: … }`",
            ));
        }
        Content::Sheet(sheet) => {
            let instruments = sheet.instruments();
            let without = instruments.iter().filter(|i| unnamed(i.name.as_ref()));
            let message = match without.count() {
                0 => return,
                all if all == instruments.len() => "no instrument is named on this sheet",
                _ => "some rows of this sheet have no named instrument",
            };
            let remedy = "fill in the row `instrument`, in the first column for readings";
            flagged.push(Flagged::new(sheet.head, message, remedy));
        }
        _ => {}
    }
}
