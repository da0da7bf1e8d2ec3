//! Limits that no board can meet.

use crate::board::{Mounting, Profile};
use crate::conformity::unmeetable;
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
  inner: { measurand: treble.outer_radius, edge: outside, nominal: 107.0 mm, tolerance: 0.2 mm }
  outer: { measurand: double.outer_radius, edge: outside, nominal: 170.0 mm, tolerance: 0.2 mm }
",
);

pub(super) const RULE: Rule = Rule {
    code: "limits-unmeetable",
    summary: "limits that no board can meet together",
    flags: "The smallest set of limits for one kind of board that no order of ring wires and no thickness of wires can meet together.",
    matters: "Every board fails such a table, and the blame falls on the boards.",
    source: "exact, by linear programming over apexes and thicknesses; wires must not overlap",
    level: Level::Error,
    kinds: &[FileKind::Table],
    failing: SOUND.with(&[(
        "nominal: 170.0 mm, tolerance: 0.2 mm",
        "tolerance: { max: 106.0 mm }",
    )]),
    passing: SOUND,
    scope: Scope::Table(check),
};

fn check(table: &Table, subject: &Subject, flagged: &mut Vec<Flagged>) {
    let mut told: Vec<Vec<String>> = Vec::new();
    let kinds = Mounting::ALL
        .into_iter()
        .flat_map(|m| Profile::ALL.map(|p| (m, p)));
    for (mounting, profile) in kinds {
        let limits: Vec<&Limit> = table.limits_for(mounting, profile).collect();
        let core = unmeetable(&limits, mounting, profile);
        let names: Vec<String> = core.iter().map(|limit| limit.name.clone()).collect();
        let mut own = core
            .iter()
            .rev()
            .filter(|limit| subject.is_own(&limit.place));
        let Some(last) = own.next() else {
            continue;
        };
        // The same limits are told once, not for every kind of board.
        if told.contains(&names) {
            continue;
        }
        let message = match names.as_slice() {
            [only] => format!(
                "no board of {mounting} and {} can meet `{only}`",
                profile.name()
            ),
            _ => format!(
                "no board of {mounting} and {} can meet {} together",
                profile.name(),
                names
                    .iter()
                    .map(|n| format!("`{n}`"))
                    .collect::<Vec<_>>()
                    .join(", ")
            ),
        };
        told.push(names);
        let note = Flagged::new(
            last.place.span,
            message,
            "look at their edges, their units and what they are set around",
        );
        let others = core.iter().filter(|limit| limit.name != last.name);
        flagged.push(others.fold(note, |note, limit| {
            note.and_in(&limit.place.document, limit.place.span, limit.name.clone())
        }));
    }
}
