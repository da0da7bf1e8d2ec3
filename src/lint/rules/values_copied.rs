//! A board that is too good to have been measured.

use crate::board::usual;
use crate::board::{Board, Quantity};
use crate::document::{FileKind, Level};
use crate::lint::notation::step;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

/// Lengths below which equality may be probability. House rule: of three, one may be
/// derived from the other two.
const FEWEST: usize = 4;

pub(super) const RULE: Rule = Rule {
    code: "values-copied",
    summary: "every length exactly as in the rules",
    flags: "A board of four lengths or more (ring wires, widths, overall diameter) that all equal the usual ones to the last written digit.",
    matters: "No board is exact to a hundredth everywhere. Such a file was copied from a rule book, not from a board.",
    source: "usual lengths: common practice; four: house rule",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("  treble_inner: { radius: 97.41, edge: outside }\n  treble_outer: { radius: 107.05, edge: outside }\n  double_outer: { radius: 169.93, edge: outside }", "  outer_bull: { diameter: 31.80, edge: inside }\n  treble_inner: { radius: 97.374, edge: outside }\n  treble_outer: { radius: 107.00, edge: outside }\n  double_outer: { radius: 170.00, edge: outside }")]),
    passing: Example::board("fl-03.yaml").with(&[("  treble_inner: { radius: 97.41, edge: outside }", "  outer_bull: { diameter: 31.80, edge: inside }\n  treble_inner: { radius: 97.41, edge: outside }")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, subject: &Subject, flagged: &mut Vec<Flagged>) {
    let construction = &board.construction;
    let lengths: Vec<_> = construction
        .inputs
        .iter()
        .filter(|input| {
            matches!(
                input.quantity,
                Quantity::Ring(..) | Quantity::Width(_) | Quantity::Overall
            )
        })
        .collect();
    let copied = |input: &&crate::board::Input| {
        let usual = usual::value(construction, input);
        let step = step(board, input);
        usual.zip(step).is_some_and(|(usual, step)| {
            // Half the last written place, and a hair for rounding.
            (input.value.as_mm() - usual).abs() <= 0.5 * step + 1e-9
        })
    };
    // The overall diameter is the rule book's roughest number: one that was
    // really measured there does not vouch for the rest.
    let copies = lengths.iter().filter(|input| copied(input));
    let rest = lengths.iter().filter(|input| !copied(input));
    let mut rest = rest.filter(|input| input.quantity != Quantity::Overall);
    if copies.count() >= FEWEST && rest.next().is_none() {
        flagged.push(Flagged::new(
            subject.key(&["rings"]),
            "every length here is exactly that of the rules, to the last digit",
            "measure the board; if it was measured, keep the readings that show it",
        ));
    }
}
