//! A report older than its inspection.

use crate::document::{FileKind, Level};
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

/// A file without the pattern.
const SOUND: Example = Example::alone(
    "autumn.yaml",
    "\
format: ringrule/event/1
name: Autumn inspection
inspected: \"2026-11-14\"
issued: \"2026-11-20\"
",
);

pub(super) const RULE: Rule = Rule {
    code: "issued-before-inspection",
    summary: "a report issued before the inspection",
    flags: "An event file whose `issued` lies before its `inspected`.",
    matters: "One of the two days is wrong, and both are printed on the report.",
    source: "no numbers",
    level: Level::Error,
    kinds: &[FileKind::Event],
    failing: SOUND.with(&[("issued: \"2026-11-20\"", "issued: \"2026-11-02\"")]),
    passing: SOUND,
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let Content::Event(event, _) = &subject.content else {
        return;
    };
    if let (Some(inspected), Some(issued)) = (event.inspected, event.issued)
        && issued < inspected
    {
        flagged.push(
            Flagged::new(
                subject.key(&["issued"]),
                format!("the report is issued on {issued}, before the inspection on {inspected}"),
                "correct one of the two days",
            )
            .and(subject.key(&["inspected"]), "the day of the inspection"),
        );
    }
}
