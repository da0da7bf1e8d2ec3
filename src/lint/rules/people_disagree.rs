//! People who did not find the same.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "people-disagree",
    summary: "a length on which people disagree by more than chance explains",
    flags: "A length taken by several people whose results differ by more than repeatability, touch and instruments explain: an F test for each length, one error rate of 5 % for the whole file.",
    matters: "One of them measured something else, or the board differs from place to place. Their mean is nobody's result.",
    source: "analysis of variance, with Holm, Scandinavian Journal of Statistics 6, 1979, for one error rate, from memory; 5 %: common practice",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[("radius: 169.93", FAILING)]),
    passing: Example::board("fl-03.yaml").with(&[("radius: 169.93", PASSING)]),
    scope: Scope::Board(check),
};

/// Invented readings, half a millimetre apart.
const FAILING: &str = "radius: { taken: [{ by: A. Ashdown, readings: [169.93, 169.94, 169.92] }, \
                       { by: B. Birch, readings: [170.43, 170.44, 170.42] }] }";

/// The same by people who agree.
const PASSING: &str = "radius: { taken: [{ by: A. Ashdown, readings: [169.93, 169.94, 169.92] }, \
                       { by: B. Birch, readings: [169.94, 169.95, 169.92] }] }";

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    for (input, taken) in board.disputes() {
        let of = |by: &str, value: f64| format!("{by} {value:.3}");
        let people = taken.takings.iter();
        let people = people.map(|taking| of(&taking.by, taking.value.as_mm()));
        let people: Vec<String> = people.collect();
        flagged.push(Flagged::new(
            input.span,
            format!(
                "people disagree on the {}, in mm: {}",
                input.name(),
                people.join(", ")
            ),
            "measure it again together",
        ));
    }
}
