//! A profile that the mounting rarely has.

use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "profile-unlike-mounting",
    summary: "a profile that boards of this mounting rarely have",
    flags: "Strip held by staples, or round wire let into the sisal.",
    matters: "Such boards exist, but the two words are confused more often.",
    source: "common practice, no source",
    level: Level::Remark,
    kinds: &[Kind::Board],
    failing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: staples
profile: strip
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
    passing: Example::alone(
        "fl-03.yaml",
        "\
format: ringrule/board/1
board: { id: FL-03 }
mounting: staples
profile: round
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
    check: Check::File(check),
};

fn check(subject: &Subject, notes: &mut Vec<Note>) {
    let Some(board) = subject.board() else {
        return;
    };
    let construction = &board.construction;
    if construction.profile != construction.mounting.usual_profile() {
        notes.push(Note::new(
            subject.key(&["profile"]),
            format!(
                "{} and {} rarely come together",
                construction.mounting,
                construction.profile.name()
            ),
            "look at the board again; if it is so, waive this with what was seen",
        ));
    }
}
