//! A decimal point one place off.

use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::usual::{Misreading, misreading};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::units::Length;

pub(super) const RULE: Rule = Rule {
    code: "decimal-slipped",
    summary: "a length that would be usual with its decimal point one place on",
    flags: "A length that no usual board has, but would have at ten times or a tenth of its value.",
    matters: "A slipped point survives every check of range that is wide enough for unusual boards.",
    source: "usual lengths: common practice; within 10 % of them, and the ranges of widths and wires: house rule",
    level: Level::Error,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("sectors: 16 SWG", "sectors: 0.16")]),
    passing: Example::board("fl-03.yaml").with(&[("sectors: 16 SWG", "sectors: 1.6")]),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
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
        flagged.push(Flagged::new(input.span, message, remedy));
    }
}
