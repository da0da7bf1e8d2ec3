//! A waiver of something that is not there.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Rule, Scope};

pub(super) const RULE: Rule = Rule {
    code: "waiver-unused",
    summary: "a waiver that waives nothing",
    flags: "A waiver in a file, whose rule finds nothing there; or one in the settings that fits files of the run, whose rule finds nothing in any of them.",
    matters: "It hides the finding when it comes, for a reason that was given for another.",
    source: "no numbers",
    level: Level::Note,
    kinds: &[
        FileKind::Board,
        FileKind::Table,
        FileKind::Event,
        FileKind::Settings,
    ],
    failing: Example::board("fl-03.yaml").with(&[(
        "board: { id: FL-03 }",
        "# ringrule: waive missing-date because the sheet was lost\nboard: { id: FL-03 }",
    )]),
    passing: Example::board("fl-03.yaml").with(&[(
        "inspection: { by: A. Ashdown, date: \"2026-11-14\" }",
        "# ringrule: waive missing-date because the sheet was lost\ninspection: { by: A. Ashdown }",
    )]),
    scope: Scope::Waivers,
};
