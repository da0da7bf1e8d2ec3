//! A width and two radii that cannot all be right.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

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
    let Some(adjustment) = construction.adjustment.as_deref() else {
        return;
    };
    if !adjustment.contradicts {
        return;
    }
    for condition in &adjustment.conditions {
        let direct = construction.widths[condition.band].as_ref();
        let first = direct.and_then(|direct| direct.width.terms().first());
        let input = first.and_then(|&(id, _)| construction.input(id));
        let beyond = condition.misfit.abs() > condition.allowed;
        let Some(input) = input.filter(|_| beyond) else {
            continue;
        };
        let note = Flagged::new(
            input.span,
            format!(
                "the {} is {} wide as measured, but its radii leave {}; they may differ by {}",
                condition.band,
                in_mm(input.value),
                in_mm(input.value - condition.misfit),
                in_mm(condition.allowed)
            ),
            "measure the width and both radii again, and look at their edges",
        );
        let inputs = condition.form.terms().iter();
        let inputs = inputs.filter_map(|&(id, _)| construction.input(id));
        let others = inputs.filter(|other| other.quantity != input.quantity);
        flagged.push(others.fold(note, |note, other| {
            note.and(other.span, other.quantity.to_string())
        }));
    }
}
