//! A recorded area and rings that cannot all be right.

use crate::board::Board;
use crate::comparison::recorded_beside;
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "area-against-rings",
    summary: "a recorded area that contradicts the rings",
    flags: "A free area of a bed that the file records, and that differs from the one that its rings and wires give by more than the expanded uncertainty of the difference. Nothing is said where either states none.",
    matters: "One of them is wrong. `compare` uses the rings where it has them, and the recorded area for other bands.",
    source: "expanded at the usual 95.45 % (JCGM 100, from memory)",
    level: Level::Error,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("  double_outer: { radius: 169.93, edge: outside }", "  double_outer: { radius: 169.93, edge: outside }\nareas:\n  treble: { bed: 260, uncertainty: 3 }")]),
    passing: Example::board("fl-03.yaml").with(&[("  double_outer: { radius: 169.93, edge: outside }", "  double_outer: { radius: 169.93, edge: outside }\nareas:\n  treble: { bed: 242, uncertainty: 3 }")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    for beside in recorded_beside(&board.construction) {
        let recorded = board.construction.areas[beside.band].as_ref();
        let (Some(true), Some(recorded)) = (beside.contradicts(), recorded) else {
            continue;
        };
        let allowed = beside.expanded_uncertainty_mm2.unwrap_or_default();
        flagged.push(Flagged::new(
            recorded.span,
            format!(
                "a {} bed is recorded as {:.1} mm², but the rings and wires leave {:.1} mm²; they \
                 may differ by {allowed:.1} mm²",
                beside.band, beside.recorded_mm2, beside.from_rings_mm2
            ),
            "measure the rings again and look at their edges, or find out where the area came from",
        ));
    }
}
