//! Readings of one length that repeatability does not explain.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "readings-spread",
    summary: "readings of one length that differ by more than repeatability explains",
    flags: "Three readings or more of a length that do not say where they were taken and scatter more than the other lengths taken with the same instrument (F test, probability below 0.1 %) or, without enough of those, more than the instrument explains (chi-square).",
    matters: "A ring that is 7.75 mm wide here and 8.25 mm there has a mean of 8.00 mm, and no place that is 8.00 mm wide. Only readings with their places can tell form from noise.",
    source: "F and chi-square tests: text books; 0.1 %, the larger of the instrument's step and permissible error, 0.05 mm where no instrument is described: house rules",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[(
        "radius: 169.93",
        "radius: { readings: [169.68, 170.18, 169.68, 170.18, 169.68, 170.18] }",
    )]),
    passing: Example::board("fl-03.yaml").with(&[(
        "radius: 169.93",
        "radius: { readings: [169.93, 169.94, 169.92, 169.93, 169.95] }",
    )]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    for spread in &board.spreads {
        let input = board.construction.input(spread.input);
        let of = input.map_or_else(String::new, crate::board::Input::name);
        let why = if spread.from_others {
            "the other lengths scatter by"
        } else {
            "instrument and touch explain"
        };
        flagged.push(Flagged::new(
            spread.span,
            format!(
                "the readings of the {of} scatter by {:.3}; {why} {:.3}",
                spread.deviation, spread.explained
            ),
            "say where each reading was taken, as `{ at: 20, value: … }`, or measure again",
        ));
    }
}
