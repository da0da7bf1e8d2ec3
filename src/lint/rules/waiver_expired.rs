//! A waiver whose time is over.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Rule, Scope};

pub(super) const RULE: Rule = Rule {
    code: "waiver-expired",
    summary: "a waiver whose last day has passed",
    flags: "A waiver with `until` a day that lies before the day of the run.",
    matters: "Somebody meant to look again by that day. What it waived counts again.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board, FileKind::Table, FileKind::Event, FileKind::Settings],
    failing: Example::board("fl-03.yaml").with(&[("inspection: { by: A. Ashdown, date: \"2026-11-14\" }", "# ringrule: waive missing-date until 2020-03-01 because the sheet was lost\ninspection: { by: A. Ashdown }")]),
    passing: Example::board("fl-03.yaml").with(&[("inspection: { by: A. Ashdown, date: \"2026-11-14\" }", "# ringrule: waive missing-date until 2199-03-01 because the sheet was lost\ninspection: { by: A. Ashdown }")]),
    scope: Scope::Waivers,
};
