//! A diameter written as a radius, or the reverse.

use crate::lint::usual::{Misreading, misreading};
use crate::lint::written::in_mm;
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "diameter-for-radius",
    summary: "a radius that is usual as a diameter, or the reverse",
    flags: "A ring wire's radius of twice, or a diameter of half, what any usual board has.",
    matters: "The wire then lies at twice or half its distance, and every area between it and its neighbours is wrong.",
    source: "usual lengths: common practice; within 10 % of them: house rule",
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
wires: { rings: 16 SWG, sectors: 16 SWG }
rings:
  outer_bull: { radius: 31.8, edge: inside }
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
  outer_bull: { diameter: 31.8, edge: inside }
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
            Some(Misreading::Diameter) => (
                format!(
                    "{} as the {} is far from usual, but as a diameter it is not",
                    in_mm(input.value),
                    input.quantity
                ),
                "write `diameter:` in place of `radius:` if it was taken across the board",
            ),
            Some(Misreading::Radius) => (
                format!(
                    "{} as the {} is far from usual, but as a radius it is not",
                    in_mm(input.value),
                    input.quantity
                ),
                "write `radius:` in place of `diameter:` if it was taken from the centre",
            ),
            _ => continue,
        };
        notes.push(Note::new(input.span, message, remedy));
    }
}
