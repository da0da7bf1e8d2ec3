//! A wire gauge on a board of strip.

use crate::board::Profile;
use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "gauge-for-strip",
    summary: "a wire gauge given for strip",
    flags: "A wire given as a gauge on a board whose profile is strip.",
    matters: "Gauges are diameters of round wire. Strip has a thickness, and no table of gauges says what it is.",
    source: "common practice, no source",
    level: Level::Doubt,
    kinds: &[Kind::Board],
    failing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: embedded
units: mm
inspection: { by: A. Ashdown, date: \"2026-11-14\" }
instrument: { name: calliper 2, resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\" }
wires: { rings: 16 SWG, sectors: 16 SWG }
rings:
  treble_inner: { radius: 97.41, edge: outside }
  treble_outer: { radius: 107.05, edge: outside }
  double_outer: { radius: 169.93, edge: outside }
",
    ),
    passing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: embedded
units: mm
inspection: { by: A. Ashdown, date: \"2026-11-14\" }
instrument: { name: calliper 2, resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\" }
wires: { rings: 0.5, sectors: 0.5 }
rings:
  treble_inner: { radius: 97.41, edge: outside }
  treble_outer: { radius: 107.05, edge: outside }
  double_outer: { radius: 169.93, edge: outside }
",
    ),
    check: Check::File(check),
};

fn check(subject: &Subject, notes: &mut Vec<Note>) {
    let Some(board) = subject.board() else {
        return;
    };
    if board.construction.profile != Profile::Strip {
        return;
    }
    for input in &board.construction.inputs {
        let Some(gauge) = input.wire.and_then(|wire| wire.gauge) else {
            continue;
        };
        notes.push(Note::new(
            input.span,
            format!("{gauge} is a gauge of round wire, and this board has strip"),
            "measure the strip and write its thickness, such as `0.5 mm`; or write `profile: round`",
        ));
    }
}
