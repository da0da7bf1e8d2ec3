//! A length that its instrument is not made for.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::notation::in_mm;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "instrument-out-of-range",
    summary: "a length that its instrument is not made for",
    flags: "A measured length outside the `range` of the instrument that it was taken with.",
    matters: "The permissible error of an instrument holds within its range. A calliper for 150 mm did not measure a radius of 170 mm, at least not in one piece.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[(
        "resolution: 0.01, max_error: 0.03",
        "resolution: 0.01, max_error: 0.03, range: [0, 150]",
    )]),
    passing: Example::board("fl-03.yaml").with(&[(
        "resolution: 0.01, max_error: 0.03",
        "resolution: 0.01, max_error: 0.03, range: [0, 500]",
    )]),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    for input in &board.construction.inputs {
        let instruments = input.instruments();
        let instruments = instruments.filter_map(|index| board.instruments.get(index));
        // Several people may have taken it with one instrument.
        let mut out_of_range = instruments.filter(|known| !known.reaches(input.value));
        let range = out_of_range.find_map(|known| known.range);
        let Some((least, most)) = range else { continue };
        flagged.push(Flagged::new(
            input.span,
            format!(
                "{} of {} is outside the range of its instrument, {} to {}",
                in_mm(input.value),
                input.name(),
                in_mm(least),
                in_mm(most)
            ),
            "name the instrument that it was taken with, or measure it with one that reaches",
        ));
    }
}
