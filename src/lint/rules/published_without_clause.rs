//! A number that nobody can look up.

use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::table::{Citation, Provenance, Table};

/// A file without the pattern.
const SOUND: Example = Example::alone(
    "house.yaml",
    "\
format: ringrule/table/1
title: House rules
source: { document: House rules, edition: \"2026\", clause: \"7.1\", provenance: published }
limits:
  treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
",
);

pub(super) const RULE: Rule = Rule {
    code: "published-without-clause",
    summary: "a published number without edition and clause",
    flags: "A limit, or the table itself, whose provenance is `published` but whose source has no edition or no clause, of its own or inherited. (A table without any source is refused already.)",
    matters: "`published` says that the document was open. Without the edition and the clause nobody can open it at the same place.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Table],
    failing: SOUND.with(&[(
        "edition: \"2026\", clause: \"7.1\", provenance: published",
        "provenance: published",
    )]),
    passing: SOUND,
    scope: Scope::Table(check),
};

fn check(table: &Table, subject: &Subject, flagged: &mut Vec<Flagged>) {
    let remedy = "add `edition` and `clause`, or say how far the number can really be traced";
    for limit in table
        .limits
        .iter()
        .filter(|limit| subject.is_own(&limit.place))
    {
        if let Some(what) = lacking(&limit.source) {
            let message = format!(
                "`{}` is said to be published, but {what} is named",
                limit.name
            );
            flagged.push(Flagged::new(limit.place.span, message, remedy));
        }
    }
}

/// What a source lacks, in words.
fn lacking(source: &Citation) -> Option<&'static str> {
    if source.provenance != Provenance::Published {
        return None;
    }
    match (&source.edition, &source.clause) {
        (None, None) => Some("neither edition nor clause"),
        (None, Some(_)) => Some("no edition"),
        (Some(_), None) => Some("no clause"),
        (Some(_), Some(_)) => None,
    }
}
