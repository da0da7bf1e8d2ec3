//! A profile that the mounting rarely has.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "profile-unlike-mounting",
    summary: "a profile that boards of this mounting rarely have",
    flags: "Strip held by staples, or round wire let into the sisal.",
    matters: "Such boards exist, but the two words are confused more often.",
    source: "common practice, no source",
    level: Level::Note,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[
        ("units: mm", "profile: strip\nunits: mm"),
        ("rings: 16 SWG, sectors: 16 SWG", "rings: 0.5, sectors: 0.5"),
    ]),
    passing: Example::board("fl-03.yaml").with(&[("units: mm", "profile: round\nunits: mm")]),
    scope: Scope::Board(check),
};

fn check(board: &Board, subject: &Subject, flagged: &mut Vec<Flagged>) {
    let construction = &board.construction;
    if construction.profile != construction.mounting.usual_profile() {
        flagged.push(Flagged::new(
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
