//! A wire gauge on a board of strip.

use crate::board::{Board, Profile};
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "gauge-for-strip",
    summary: "a wire gauge given for strip",
    flags: "A wire given as a gauge on a board whose profile is strip.",
    matters: "Gauges are diameters of round wire. Strip has a thickness, and no table of gauges says what it is.",
    source: "common practice, no source",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("mounting: staples", "mounting: embedded")]),
    passing: Example::board("fl-03.yaml").with(&[
        ("mounting: staples", "mounting: embedded"),
        ("rings: 16 SWG, sectors: 16 SWG", "rings: 0.5, sectors: 0.5"),
    ]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    if board.construction.profile != Profile::Strip {
        return;
    }
    for input in &board.construction.inputs {
        let Some(gauge) = input.wire.and_then(|wire| wire.gauge) else {
            continue;
        };
        flagged.push(Flagged::new(
            input.span,
            format!("{gauge} is a gauge of round wire, and this board has strip"),
            "measure the strip and write its thickness, such as `0.5 mm`; or write `profile: round`",
        ));
    }
}
