//! A waiver of something that is not there.

use crate::lint::{Check, Example, Kind, Level, Rule};

pub(super) const RULE: Rule = Rule {
    code: "waiver-unused",
    summary: "a waiver that waives nothing",
    flags: "A waiver in a file, whose rule finds nothing there; or one in the settings that fits files of the run, whose rule finds nothing in any of them.",
    matters: "It hides the finding when it comes, for a reason that was given for another.",
    source: "no numbers",
    level: Level::Remark,
    kinds: &[Kind::Board, Kind::Table, Kind::Event, Kind::Settings],
    failing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
# ringrule: waive missing-date because the sheet was lost
board: { id: FL-03 }
mounting: staples
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
mounting: staples
units: mm
# ringrule: waive missing-date because the sheet was lost
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
