//! A number of inches in a file of millimetres, or the reverse.

use crate::board::Board;
use crate::board::usual::Misreading;
use crate::document::{FileKind, Level};
use crate::lint::notation::misread;
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
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    flagged.extend(misread(board, |_, misreading| {
        let (unit, example) = match misreading {
            Misreading::Inches => ("inches", "`0.064 in`"),
            Misreading::Millimetres => ("millimetres", "`107.0 mm`"),
            _ => return None,
        };
        Some((
            format!("the same number of {unit} is not"),
            format!("write the unit after the number ({example}), or correct `units`"),
        ))
    }));
}
