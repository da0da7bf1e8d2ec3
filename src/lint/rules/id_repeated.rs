//! Two files that claim to be the same board.

use crate::lint::{Check, Example, Kind, Level, Rule};

pub(super) const RULE: Rule = Rule {
    code: "id-repeated",
    summary: "the same id in two board files",
    flags: "Board files of one run that have the same `id`.",
    matters: "An inventory mark stands for one board. Whoever looks it up finds two answers.",
    source: "no numbers",
    level: Level::Doubt,
    kinds: &[Kind::Board],
    failing: Example {
        name: "lantern.yaml",
        text: "\
format: ringrule/board/1
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
        beside: &[(
            "pavilion.yaml",
            "\
format: ringrule/board/1
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
        )],
    },
    passing: Example {
        name: "lantern.yaml",
        text: "\
format: ringrule/board/1
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
        beside: &[(
            "pavilion.yaml",
            "\
format: ringrule/board/1
board: { id: FL-04 }
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
        )],
    },
    check: Check::Ids,
};
