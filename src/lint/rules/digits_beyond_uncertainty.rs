//! More digits than the measurement carries.

use crate::board::{Basis, Board};
use crate::document::{FileKind, Level};
use crate::lint::notation::{and_so_more, fine_lengths, once, step};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

/// The share of an expanded uncertainty that a last decimal place may be: its
/// second digit (JCGM 100, 7.2.6, from memory).
const SECOND_DIGIT: f64 = 0.01;

pub(super) const RULE: Rule = Rule {
    code: "digits-beyond-uncertainty",
    summary: "lengths written finer than their uncertainty allows",
    flags: "A length whose last decimal place is less than a hundredth of its expanded uncertainty. Readings are left out: they are kept as they were taken, and rounding them would come before the calculation.",
    matters: "Digits that nobody measured look like knowledge, and are copied as such.",
    source: "an uncertainty has two digits that count, and a value ends where they end (JCGM 100, 7.2.6, from memory)",
    level: Level::Note,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("radius: 169.93", "radius: 169.930412")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let stated = fine_lengths(board)
        .filter(|input| !matches!(input.basis, Basis::Readings { .. } | Basis::Taken(_)));
    let finer = stated.filter(|input| {
        let expanded = input.uncertainty.map(|u| u.expanded().expanded);
        let step = step(board, input);
        // A hair is left for the rounding of the product.
        step.zip(expanded)
            .is_some_and(|(step, expanded)| step < 0.999 * SECOND_DIGIT * expanded)
    });
    let finer = finer.map(|input| (input.span, input.name()));
    flagged.extend(once(finer.collect(), |span, count| {
        let text = board.document.source.slice(span);
        let more = and_so_more(count);
        Flagged::new(
            span,
            format!("{text} has digits far below its uncertainty{more}"),
            "round to the second digit of the expanded uncertainty, or say why the digits are kept",
        )
    }));
}
