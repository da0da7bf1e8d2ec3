//! Nobody says with what.

use crate::lint::subject::Content;
use crate::lint::written::record_place;
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "missing-instrument",
    summary: "a record of measurements that names no instrument",
    flags: "A board file without `instrument: { name: … }`, or a sheet whose row `instrument` is empty.",
    matters: "When an instrument turns out to be off, one must know which boards it measured.",
    source: "no numbers",
    level: Level::Remark,
    kinds: &[Kind::Board, Kind::Sheet],
    failing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: staples
units: mm
inspection: { by: A. Ashdown, date: \"2026-11-14\" }
instrument: { resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\" }
wires: { rings: 16 SWG, sectors: 16 SWG }
rings:
  treble_inner: { radius: 97.41, edge: outside }
  treble_outer: { radius: 107.05, edge: outside }
  double_outer: { radius: 169.93, edge: outside }
",
    ),
    passing: Example::alone(
        "fl-03.yaml",
        "\
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
",
    ),
    check: Check::File(check),
};

fn check(subject: &Subject, notes: &mut Vec<Note>) {
    let unnamed = |name: Option<&String>| name.is_none_or(|name| name.trim().is_empty());
    match &subject.content {
        Content::Board(board)
            if unnamed(board.instrument.as_ref().and_then(|i| i.name.as_ref())) =>
        {
            notes.push(Note::new(
                record_place(subject, &["instrument", "name"]),
                "no instrument is named with which this board was measured",
                "add `instrument: { name: … }`",
            ));
        }
        Content::Sheet(sheet) if unnamed(sheet.instrument.name.as_ref()) => notes.push(Note::new(
            sheet.head(),
            "no instrument is named on this sheet",
            "fill in the row `instrument`, in the first column for readings",
        )),
        _ => {}
    }
}
