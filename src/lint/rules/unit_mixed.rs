//! Two units in one file.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::notation::{file_unit, once, such, with_units};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "unit-mixed",
    summary: "lengths in both millimetres and inches",
    flags: "A length with a unit of its own that is not the file's.",
    matters: "Nothing is wrong with it, but whoever copies a number out of the file has to look twice.",
    source: "no numbers",
    level: Level::Note,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("radius: 169.93", "radius: 6.690 in")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let unit = file_unit(board);
    let others = with_units(board).into_iter();
    let others = others.filter(|number| number.own_unit.is_some_and(|own| own != unit));
    let others = others.map(|number| (number.span, "another one".to_owned()));
    flagged.extend(once(others.collect(), |span, count| {
        let text = board.document.source.slice(span);
        let more = such(count);
        Flagged::new(
            span,
            format!("{text} is not in the file's unit, {}{more}", unit.symbol()),
            "write every length as it was read, in one unit, or say why two were needed",
        )
    }));
}
