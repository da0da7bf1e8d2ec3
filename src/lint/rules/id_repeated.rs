//! Two files that claim to be the same board.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Rule, Scope};

pub(super) const RULE: Rule = Rule {
    code: "id-repeated",
    summary: "the same id in two board files",
    flags: "Board files of one run that have the same `id`, unless each states another day of \
            inspection: those are inspections of one board.",
    matters: "An id stands for one board. Anyone who looks it up finds two answers.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("lantern.yaml").beside(&[Example::board("pavilion.yaml")]),
    passing: Example::board("lantern.yaml")
        .beside(&[Example::board("pavilion.yaml").with(&[("FL-03", "FL-04")])]),
    scope: Scope::Ids,
};
