//! A waiver whose time is over.

use crate::lint::{Check, Example, Kind, Level, Rule};

pub(super) const RULE: Rule = Rule {
    code: "waiver-expired",
    summary: "a waiver whose last day has passed",
    flags: "A waiver with `until` a day that lies before the day of the run.",
    matters: "Somebody meant to look again by that day. What it waived counts again.",
    source: "no numbers",
    level: Level::Doubt,
    kinds: &[Kind::Board, Kind::Table, Kind::Event, Kind::Settings],
    failing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: staples
units: mm
# ringrule: waive missing-date until 2020-03-01 because the sheet was lost
inspection: { by: A. Ashdown }
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
mounting: staples
units: mm
# ringrule: waive missing-date until 2199-03-01 because the sheet was lost
inspection: { by: A. Ashdown }
instrument: { name: calliper 2, resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\" }
wires: { rings: 16 SWG, sectors: 16 SWG }
rings:
  treble_inner: { radius: 97.41, edge: outside }
  treble_outer: { radius: 107.05, edge: outside }
  double_outer: { radius: 169.93, edge: outside }
",
    ),
    check: Check::Waivers,
};
