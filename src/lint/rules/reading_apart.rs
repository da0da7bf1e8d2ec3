//! One reading that does not belong to the others.

use crate::document::{FileKind, Level, Span};
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::measurement::{Cell, JudgedBy, StandsApart, standing_apart_by};
use crate::readings::{EntryValue, Sheet};
use crate::units::Length;

pub(super) const RULE: Rule = Rule {
    code: "reading-apart",
    summary: "a reading far from the others of its length",
    flags: "A reading that the scatter of all readings of the same person with the same instrument does not explain (Student's t, one error rate of 5 % for all of them), or, where hardly any reading was repeated, one that is farther from its neighbours than instrument and touch explain.",
    matters: "A slip of the calliper shifts the mean and blows up the uncertainty. Whether it was one, only the person who read it knows.",
    source: "externally studentised residuals, Cook and Weisberg, 1982, and Rosner, Technometrics 25, 1983, from memory; 5 %: common practice; ten steps, five permissible errors, 0.25 mm: house rules",
    level: Level::Warning,
    kinds: &[FileKind::Board, FileKind::Sheet],
    failing: Example::board("fl-03.yaml").with(&[(
        "radius: 169.93",
        "radius: { readings: [169.93, 169.94, 169.92, 169.93, 170.43] }",
    )]),
    passing: Example::board("fl-03.yaml").with(&[(
        "radius: 169.93",
        "radius: { readings: [169.93, 169.94, 169.92, 169.93, 169.95] }",
    )]),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    match &subject.content {
        Content::Board(board) => {
            for apart in &board.apart {
                let input = board.construction.input(apart.input);
                let of = input.map_or_else(String::new, crate::board::Input::name);
                flagged.push(note(apart.span, &of, &apart.found));
            }
        }
        Content::Sheet(sheet) => {
            for found in of_sheet(sheet) {
                if let Some(entry) = sheet.entries.get(found.row) {
                    flagged.push(note(entry.span, &entry.name(), &found));
                }
            }
        }
        _ => {}
    }
}

/// One person's readings, each row a row.
fn of_sheet(sheet: &Sheet) -> Vec<StandsApart> {
    let length = |length: Option<Length>| length.map(Length::as_mm);
    let entries = sheet.entries.iter().enumerate();
    let cells = entries.filter_map(|(row, entry)| match &entry.value {
        EntryValue::Readings(series) => {
            let cell = Cell {
                row,
                person: 0,
                series,
                step: length(entry.instrument.resolution),
                max_error: length(entry.instrument.max_error),
            };
            Some((&entry.instrument, cell))
        }
        EntryValue::Gauge(_) => None,
    });
    standing_apart_by(cells)
}

fn note(span: Span, what: &str, found: &StandsApart) -> Flagged {
    let others = if found.or_the_other {
        "other reading"
    } else {
        "mean of the other readings"
    };
    let why = match found.by {
        JudgedBy::Scatter {
            deviation,
            degrees_of_freedom,
            ..
        } => format!(
            "a single reading here scatters by {deviation:.3} mm (on {degrees_of_freedom:.0} \
             degrees of freedom)"
        ),
        JudgedBy::Instrument { explained } => {
            format!("instrument and touch explain {explained:.2} mm from one reading to the next")
        }
    };
    Flagged::new(
        span,
        format!(
            "{:.3} mm lies {:.3} mm from the {others} of the {what}; {why}",
            found.value, found.distance
        ),
        "ask whoever read it; strike it out only for a reason that is not its value",
    )
}
