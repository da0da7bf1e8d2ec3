//! A table that only repeats another.

use crate::document::{FileKind, Level};
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::table::{Limit, Nominal, Table};

/// A file without the pattern.
const SOUND: Example = Example::alone(
    "house.yaml",
    "\
format: ringrule/table/1
title: Ours
source: { document: House rules, provenance: invented }
extends: base.yaml
limits:
  treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.1 mm }
",
)
.beside(&[Example::alone(
    "base.yaml",
    "\
format: ringrule/table/1
title: House rules
source: { document: House rules, provenance: invented }
limits:
  treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
",
)]);

pub(super) const RULE: Rule = Rule {
    code: "extends-without-change",
    summary: "a table that changes nothing in the one that it extends",
    flags: "A table with `extends` whose limits, decision rule, nominal boards and band limits are those of the extended table.",
    matters: "Either something was forgotten, or the extended table could be used itself.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Table],
    failing: SOUND.with(&[("0.1 mm", "0.2 mm")]),
    passing: SOUND,
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let Content::Table(table, Some(base)) = &subject.content else {
        return;
    };
    if same(table, base) {
        flagged.push(Flagged::new(
            subject.key(&["extends"]),
            format!("this table says nothing that `{}` does not say", base.title),
            "give the limits that differ, under the same names, or use the extended table itself",
        ));
    }
}

fn same(one: &Table, other: &Table) -> bool {
    let limits = one.limits.len() == other.limits.len()
        && one
            .limits
            .iter()
            .zip(&other.limits)
            .all(|(a, b)| same_limit(a, b));
    let nominal = |a: Option<&Nominal>, b: Option<&Nominal>| match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => same_nominal(a, b),
        _ => false,
    };
    let bands = one.bands.iter().zip(other.bands.iter());
    let mut bands = bands.map(|((_, a), (_, b))| match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => a.lower == b.lower && a.upper == b.upper,
        _ => false,
    });
    limits
        && one.decision == other.decision
        && nominal(one.staples.as_ref(), other.staples.as_ref())
        && nominal(one.embedded.as_ref(), other.embedded.as_ref())
        && bands.all(|same| same)
}

fn same_limit(a: &Limit, b: &Limit) -> bool {
    a.name == b.name
        && a.measurand == b.measurand
        && a.edge == b.edge
        && a.of == b.of
        && a.ring == b.ring
        && a.when == b.when
        && a.demand == b.demand
}

/// The same board, wherever it is written.
fn same_nominal(a: &Nominal, b: &Nominal) -> bool {
    let (a, b) = (&a.construction, &b.construction);
    let values = |c: &crate::board::Construction| {
        let inputs = c.inputs.iter();
        inputs
            .map(|i| (i.quantity, i.value, i.edge))
            .collect::<Vec<_>>()
    };
    a.mounting == b.mounting && a.profile == b.profile && values(a) == values(b)
}
