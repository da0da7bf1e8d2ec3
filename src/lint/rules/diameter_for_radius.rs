//! A diameter written as a radius, or the reverse.

use crate::board::Board;
use crate::board::usual::Misreading;
use crate::document::{FileKind, Level};
use crate::lint::notation::misread;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "diameter-for-radius",
    summary: "a radius that is usual as a diameter, or the reverse",
    flags: "A ring wire's radius of twice, or a diameter of half, what any usual board has.",
    matters: "The wire then lies at twice or half its distance, and every area between it and its neighbours is wrong.",
    source: "usual lengths: common practice; within 10 % of them: house rule",
    level: Level::Error,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("  treble_inner: { radius: 97.41, edge: outside }", "  outer_bull: { radius: 31.8, edge: inside }\n  treble_inner: { radius: 97.41, edge: outside }")]),
    passing: Example::board("fl-03.yaml").with(&[("  treble_inner: { radius: 97.41, edge: outside }", "  outer_bull: { diameter: 31.8, edge: inside }\n  treble_inner: { radius: 97.41, edge: outside }")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    flagged.extend(misread(board, |_, misreading| match misreading {
        Misreading::Diameter => Some((
            "as a diameter it is not".to_owned(),
            "write `diameter:` in place of `radius:` if it was taken across the board",
        )),
        Misreading::Radius => Some((
            "as a radius it is not".to_owned(),
            "write `radius:` in place of `diameter:` if it was taken from the centre",
        )),
        _ => None,
    }));
}
