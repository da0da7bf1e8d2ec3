//! A decimal point one place off.

use crate::board::Board;
use crate::board::usual::Misreading;
use crate::document::{FileKind, Level};
use crate::lint::notation::{in_mm, misread};
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
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    flagged.extend(misread(board, |input, misreading| {
        let factor = match misreading {
            Misreading::PointTooFarLeft => 10.0,
            Misreading::PointTooFarRight => 0.1,
            _ => return None,
        };
        let moved = in_mm(Length::mm(input.value.as_mm() * factor));
        Some((format!("{moved} is not"), "look at the decimal point"))
    }));
}
