//! A day without quotes.

use crate::document::{FileKind, Level};
use crate::lint::notation::{bare_days, once};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "day-unquoted",
    summary: "a day that is not in quotes",
    flags: "A value of a YAML file that is a day, such as `2026-11-14`, and stands without quotes.",
    matters: "To this program it is a text. Other programs that read YAML make a point in time of it, which may shift to the day before in another time zone, or refuse it where the schema asks for a text.",
    source: "YAML 1.1, type `timestamp` (from memory)",
    level: Level::Note,
    kinds: &[
        FileKind::Board,
        FileKind::Table,
        FileKind::Event,
        FileKind::Settings,
    ],
    failing: Example::board("fl-03.yaml").with(&[("date: \"2026-11-14\"", "date: 2026-11-14")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let Some(document) = subject.document() else {
        return;
    };
    let days = bare_days(document);
    let others = days
        .iter()
        .map(|(span, _)| (*span, "so does this one".to_owned()));
    flagged.extend(once(others.collect(), |first, count| {
        let day = days.first().map_or("", |(_, day)| day.as_str());
        let more = match count {
            0 | 1 => String::new(),
            2 => "; so does 1 more".to_owned(),
            many => format!("; so do {} more", many - 1),
        };
        Flagged::new(
            first,
            format!("the day {day} stands without quotes{more}"),
            format!("write \"{day}\", or run `ringrule lint --tidy`, which adds the quotes"),
        )
    }));
}
