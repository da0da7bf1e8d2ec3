//! A width and two radii that cannot all be right.

use crate::board::{Band, Board};
use crate::conformity::{contradiction, measure};
use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::table::Measurand;

pub(super) const RULE: Rule = Rule {
    code: "width-against-radii",
    summary: "a direct width that contradicts the radii",
    flags: "A ring's width taken directly that differs from the difference of its radii by more than the expanded uncertainty of that difference, or by more than 0.1 mm where none is known.",
    matters: "One of three measurements is wrong, and nothing in the file says which.",
    source: "expanded at the usual 95.45 % (JCGM 100, from memory); 0.1 mm: house rule, as in `validate`",
    level: Level::Error,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("  double_outer: { radius: 169.93, edge: outside }", "  double_outer: { radius: 169.93, edge: outside }\nwidths:\n  treble: { width: 7.60, edge: inside }")]),
    passing: Example::board("fl-03.yaml").with(&[("  double_outer: { radius: 169.93, edge: outside }", "  double_outer: { radius: 169.93, edge: outside }\nwidths:\n  treble: { width: 8.01, edge: inside }")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let construction = &board.construction;
    for (band, measurand) in [
        (Band::Treble, Measurand::TrebleWidth),
        (Band::Double, Measurand::DoubleWidth),
    ] {
        let Some(direct) = construction.widths[band] else {
            continue;
        };
        for part in measure(construction, measurand, direct.edge).parts {
            let (Some(found), Some(input)) = (
                contradiction(&part, construction),
                construction.input(direct.input),
            ) else {
                continue;
            };
            let note = Flagged::new(
                input.span,
                format!(
                    "the {band} is {} wide as measured, but its radii leave {}; they may differ \
                     by {}",
                    in_mm(input.value),
                    in_mm(found.other),
                    in_mm(found.allowed)
                ),
                "measure the width and both radii again, and look at their edges",
            );
            let inputs = found.inputs.iter();
            let inputs = inputs.filter_map(|&id| construction.input(id));
            flagged.push(inputs.fold(note, |note, input| {
                note.and(input.span, input.quantity.to_string())
            }));
        }
    }
}
