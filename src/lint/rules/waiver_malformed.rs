//! A waiver that cannot be read.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Rule, Scope};

pub(super) const RULE: Rule = Rule {
    code: "waiver-malformed",
    summary: "a comment to this program that it cannot follow",
    flags: "A comment that begins with `ringrule:` but does not go on as `waive RULE because REASON` or `waive RULE until DAY because REASON`, or names no rule.",
    matters: "Whoever wrote it believes that something is waived.",
    source: "no numbers",
    level: Level::Error,
    kinds: &[
        FileKind::Board,
        FileKind::Table,
        FileKind::Event,
        FileKind::Settings,
    ],
    failing: Example::board("fl-03.yaml").with(&[(
        "board: { id: FL-03 }",
        "# ringrule: waive missing-date\nboard: { id: FL-03 }",
    )]),
    passing: Example::board("fl-03.yaml").with(&[(
        "inspection: { by: A. Ashdown, date: \"2026-11-14\" }",
        "# ringrule: waive missing-date because the sheet was lost\ninspection: { by: A. Ashdown }",
    )]),
    scope: Scope::Waivers,
};
