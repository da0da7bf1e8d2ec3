//! A number of inches in a file of millimetres, or the reverse.

use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::usual::{Misreading, misreading};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "unit-implausible",
    summary: "a length that would be usual in the other unit",
    flags: "A radius, diameter, width or wire that no usual board has, but would have if its number were inches instead of millimetres or the reverse.",
    matters: "A file read in the wrong unit is wrong by a factor of 25.4, and what is left of it may still look like a board.",
    source: "usual lengths: common practice; within 10 % of them, and the ranges of widths and wires: house rule",
    level: Level::Error,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("sectors: 16 SWG", "sectors: 0.064")]),
    passing: Example::board("fl-03.yaml").with(&[("sectors: 16 SWG", "sectors: 1.63")]),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
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
                "write the unit after the number (`0.064 in`), or correct `units`",
            ),
            Some(Misreading::Millimetres) => (
                format!(
                    "{} as the {} is far from usual, but the same number of millimetres is not",
                    in_mm(input.value),
                    input.quantity
                ),
                "write the unit after the number (`107.0 mm`), or correct `units`",
            ),
            _ => continue,
        };
        flagged.push(Flagged::new(input.span, message, remedy));
    }
}
