//! A number of inches in a file of millimetres, or the reverse.

use crate::lint::usual::{Misreading, misreading};
use crate::lint::written::in_mm;
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "unit-implausible",
    summary: "a length that would be usual in the other unit",
    flags: "A radius, diameter, width or wire that no usual board has, but would have if its number were inches instead of millimetres or the reverse.",
    matters: "A file read in the wrong unit is wrong by a factor of 25.4, and what is left of it may still look like a board.",
    source: "usual lengths: common practice; within 10 % of them, and the ranges of widths and wires: house rule",
    level: Level::Fault,
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
wires: { rings: 16 SWG, sectors: 0.064 }
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
wires: { rings: 16 SWG, sectors: 1.63 }
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
    for input in &board.construction.inputs {
        let (message, remedy) = match misreading(input) {
            Some(Misreading::Inches) => (
                format!(
                    "{} as the {} is far from usual, but the same number of inches is not",
                    in_mm(input.value),
                    input.quantity
                ),
                "write the unit behind the number (`0.064 in`), or correct `units`",
            ),
            Some(Misreading::Millimetres) => (
                format!(
                    "{} as the {} is far from usual, but the same number of millimetres is not",
                    in_mm(input.value),
                    input.quantity
                ),
                "write the unit behind the number (`107.0 mm`), or correct `units`",
            ),
            _ => continue,
        };
        notes.push(Note::new(input.span, message, remedy));
    }
}
