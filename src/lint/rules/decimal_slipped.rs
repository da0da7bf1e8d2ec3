//! A decimal point one place off.

use crate::lint::usual::{Misreading, misreading};
use crate::lint::written::in_mm;
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};
use crate::units::Length;

pub(super) const RULE: Rule = Rule {
    code: "decimal-slipped",
    summary: "a length that would be usual with its decimal point one place on",
    flags: "A length that no usual board has, but would have at ten times or a tenth of its value.",
    matters: "A slipped point survives every check of range that is wide enough for unusual boards.",
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
wires: { rings: 16 SWG, sectors: 0.16 }
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
wires: { rings: 16 SWG, sectors: 1.6 }
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
            Some(slip @ (Misreading::PointTooFarLeft | Misreading::PointTooFarRight)) => {
                let factor = match slip {
                    Misreading::PointTooFarLeft => 10.0,
                    _ => 0.1,
                };
                let moved = in_mm(Length::mm(input.value.as_mm() * factor));
                (
                    format!(
                        "{} as the {} is far from usual, but {moved} is not",
                        in_mm(input.value),
                        input.quantity
                    ),
                    "look at the decimal point",
                )
            }
            _ => continue,
        };
        notes.push(Note::new(input.span, message, remedy));
    }
}
