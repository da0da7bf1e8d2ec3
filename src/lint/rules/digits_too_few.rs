//! Fewer digits than a limit of 0.2 mm needs.

use crate::board::Board;
use crate::board::usual::TOLERANCE;
use crate::document::{FileKind, Level};
use crate::lint::notation::{and_so_more, fine_lengths, once, step};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "digits-too-few",
    summary: "lengths written coarser than the usual tolerance",
    flags: "A radius, diameter or width whose last decimal place is more than 0.2 mm; fractions of an inch are left out.",
    matters: "A value rounded to whole millimetres cannot say whether a limit of a few tenths is met.",
    source: "the tolerance of 0.2 mm: common practice",
    level: Level::Note,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("radius: 169.93", "radius: 170")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let coarse =
        fine_lengths(board).filter(|input| step(board, input).is_some_and(|step| step > TOLERANCE));
    let coarse: Vec<_> = coarse.map(|input| (input.span, input.name())).collect();
    let first = coarse.first().map(|(_, name)| name.clone());
    flagged.extend(once(coarse, |span, count| {
        let text = board.document.source.slice(span);
        // Readings fill several lines, of which the first says nothing.
        let text = match first {
            Some(name) if text.contains('\n') => format!("the {name}"),
            _ => text.to_owned(),
        };
        let more = and_so_more(count);
        Flagged::new(
            span,
            format!("{text} stops short of the usual tolerance of {TOLERANCE} mm{more}"),
            "write what was read, zeros included, such as `170.0`",
        )
    }));
}
