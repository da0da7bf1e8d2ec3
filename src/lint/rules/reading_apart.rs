//! One reading that does not belong to the others.

use crate::board::Basis;
use crate::document::{FileKind, Level, Span};
use crate::lint::notation::numbers;
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::readings::EntryValue;
use crate::units::Outlier;

pub(super) const RULE: Rule = Rule {
    code: "reading-apart",
    summary: "a reading far from the others of its length",
    flags: "The reading farthest from the mean of its length, where Grubbs' test at 5 % calls it an outlier.",
    matters: "A slip of the calliper shifts the mean and blows up the uncertainty. Whether it was one, only the person who read it knows.",
    source: "Grubbs, Technometrics 11, 1969, from memory; 5 %: common practice",
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
            for input in &board.construction.inputs {
                let Basis::Readings { series, .. } = &input.basis else {
                    continue;
                };
                if let Some(outlier) = series.outlier() {
                    let numbers = numbers(board, input);
                    let span = numbers.get(outlier.index).map_or(input.span, |n| n.span);
                    flagged.push(note(span, &input.quantity.to_string(), outlier));
                }
            }
        }
        Content::Sheet(sheet) => {
            for entry in &sheet.entries {
                if let EntryValue::Readings(series) = &entry.value
                    && let Some(outlier) = series.outlier()
                {
                    flagged.push(note(entry.span, &entry.item.to_string(), outlier));
                }
            }
        }
        _ => {}
    }
}

fn note(span: Span, what: &str, outlier: Outlier) -> Flagged {
    Flagged::new(
        span,
        format!(
            "{:.3} mm lies {:.1} standard deviations from the mean of the {what}'s readings; {:.1} \
             is what probability explains",
            outlier.value, outlier.distance, outlier.allowed
        ),
        "ask whoever read it; strike it out only for a reason that is not its value",
    )
}
