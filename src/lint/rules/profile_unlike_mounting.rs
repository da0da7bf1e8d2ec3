//! A profile that the mounting rarely has.

use crate::lint::{Check, Example, Kind, Level, Note, Rule, Subject};

pub(super) const RULE: Rule = Rule {
    code: "profile-unlike-mounting",
    summary: "a profile that boards of this mounting rarely have",
    flags: "Strip held by staples, or round wire let into the sisal.",
    matters: "Such boards exist, but the two words are confused more often.",
    source: "common practice, no source",
    level: Level::Note,
    kinds: &[Kind::Board],
    failing: Example::board("fl-03.yaml").with(&[
        ("units: mm", "profile: strip\nunits: mm"),
        ("rings: 16 SWG, sectors: 16 SWG", "rings: 0.5, sectors: 0.5"),
    ]),
    passing: Example::board("fl-03.yaml").with(&[("units: mm", "profile: round\nunits: mm")]),
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
