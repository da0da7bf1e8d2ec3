//! The classic mistake: a radius taken to one edge and declared as another.

use crate::board::usual::{TOLERANCE, radius};
use crate::board::{Board, Edge, Quantity};
use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

/// How near, in mm, a radius must come to the usual one of another edge. House
/// rule: half the usual tolerance.
const NEAR: f64 = TOLERANCE / 2.0;

pub(super) const RULE: Rule = Rule {
    code: "edge-mistaken",
    summary: "a radius that is usual for another edge of its wire",
    flags: "A ring wire more than the usual tolerance from its usual place, which would be within half of that if it had been taken to another edge.",
    matters: "A radius at the wrong edge moves the wire by half its thickness or all of it: more than any tolerance.",
    source: "usual radii and the tolerance of 0.2 mm: common practice; half of it: house rule",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("radius: 97.41", "radius: 96.56")]),
    passing: Example::board("fl-03.yaml")
        .with(&[("radius: 97.41, edge: outside", "radius: 96.56, edge: apex")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let construction = &board.construction;
    for input in &construction.inputs {
        let (Quantity::Ring(ring, is_diameter), Some(edge)) = (input.quantity, input.edge) else {
            continue;
        };
        let own = input.value.as_mm() * if is_diameter { 0.5 } else { 1.0 };
        let off = |edge| Some((own - radius(construction, ring, edge)?).abs());
        if off(edge).is_none_or(|off| off <= TOLERANCE) {
            continue;
        }
        let mut others = Edge::ALL.into_iter().filter(|&other| other != edge);
        let Some(fitting) = others.find(|&other| off(other).is_some_and(|off| off <= NEAR)) else {
            continue;
        };
        flagged.push(Flagged::new(
            input.span,
            format!(
                "{} to the {edge} of the {ring} is not usual, but to its {fitting} it is",
                in_mm(input.value)
            ),
            format!("measure it again, or write `edge: {fitting}` if it was taken there"),
        ));
    }
}
