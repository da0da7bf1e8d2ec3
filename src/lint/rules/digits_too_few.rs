//! Fewer digits than a limit of 0.2 mm needs.

use crate::lint::usual::TOLERANCE;
use crate::lint::written::{fine_lengths, once, step};
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "digits-too-few",
    summary: "lengths written coarser than the usual tolerance",
    flags: "A radius, diameter or width whose last decimal place is more than 0.2 mm; fractions of an inch are left out.",
    matters: "A value rounded to whole millimetres cannot say whether a limit of a few tenths is met.",
    source: "the tolerance of 0.2 mm: common practice",
    level: Level::Remark,
    kinds: &[Kind::Board],
    failing: Example::alone(
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
  double_outer: { radius: 170, edge: outside }
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
    let Some(board) = subject.board() else {
        return;
    };
    let coarse =
        fine_lengths(board).filter(|input| step(board, input).is_some_and(|step| step > TOLERANCE));
    let coarse = coarse.map(|input| (input.span, input.quantity.to_string()));
    notes.extend(once(coarse.collect(), |span, count| {
        let text = board.document.source.slice(span);
        let more = match count {
            1 => String::new(),
            more => format!("; so do {} more lengths", more - 1),
        };
        Note::new(
            span,
            format!("{text} stops short of the usual tolerance of {TOLERANCE} mm{more}"),
            "write what was read, noughts included, such as `170.0`",
        )
    }));
}
