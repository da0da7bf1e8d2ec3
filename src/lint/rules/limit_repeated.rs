//! Two limits on one quantity.

use crate::board::{Mounting, Profile};
use crate::document::{FileKind, Level};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::table::{Limit, Table};

/// A file without the pattern.
const SOUND: Example = Example::alone(
    "house.yaml",
    "\
format: ringrule/table/1
title: House rules
source: { document: House rules, provenance: invented }
limits:
  treble: { measurand: treble.width, edge: inside, nominal: 8.0 mm, tolerance: 0.2 mm }
  narrow: { measurand: double.width, edge: inside, tolerance: { min: 7.9 mm } }
",
);

pub(super) const RULE: Rule = Rule {
    code: "limit-repeated",
    summary: "two limits on the same quantity at the same edge",
    flags: "Two limits of one table on the same measurand and edge that are both for some kind of board.",
    matters: "The stricter one always decides, and a reader who finds one does not look for the other.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Table],
    failing: SOUND.with(&[("measurand: double.width", "measurand: treble.width")]),
    passing: SOUND,
    scope: Scope::Table(check),
};

fn check(table: &Table, subject: &Subject, flagged: &mut Vec<Flagged>) {
    for (index, limit) in table.limits.iter().enumerate() {
        let earlier = table.limits.iter().take(index);
        let same = earlier.filter(|other| {
            other.measurand == limit.measurand
                && other.edge == limit.edge
                && other.of == limit.of
                && (other.ring.is_none() || limit.ring.is_none() || other.ring == limit.ring)
                && both_apply(limit, other)
        });
        for other in same {
            // Two limits of an extended table are reported in that table's own file.
            let (own, other) = if subject.is_own(&limit.place) {
                (limit, other)
            } else if subject.is_own(&other.place) {
                (other, limit)
            } else {
                continue;
            };
            flagged.push(
                Flagged::new(
                    own.place.span,
                    format!(
                        "`{}` and `{}` both limit the {}",
                        own.name, other.name, own.measurand
                    ),
                    "keep one of them, give both the same name if one replaces the other, or part \
                     them with `when`",
                )
                .and_in(&other.place.document, other.place.span, "the other limit"),
            );
            // A thousand limits alike need not name each other half a million times.
            break;
        }
    }
}

/// Whether some kind of board has to meet both limits.
fn both_apply(one: &Limit, other: &Limit) -> bool {
    Mounting::ALL.into_iter().any(|mounting| {
        Profile::ALL.into_iter().any(|profile| {
            one.when.matches(mounting, profile) && other.when.matches(mounting, profile)
        })
    })
}
