//! An instrument that was not in calibration on the day.

use crate::document::{FileKind, Level};
use crate::lint::notation::record_place;
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};
use crate::units::Instrument;
use jiff::civil::Date;

pub(super) const RULE: Rule = Rule {
    code: "calibration-lapsed",
    summary: "an instrument out of calibration on the day of inspection",
    flags: "An instrument that was calibrated after the day of inspection, or longer before it than the settings' `calibrated_within` days (366 unless they say otherwise).",
    matters: "The uncertainty is computed from the permissible error, which is only valid while the calibration is.",
    source: "a year and a day: common practice, no source; another number of days in the settings is your house rule",
    level: Level::Warning,
    kinds: &[FileKind::Board, FileKind::Sheet],
    failing: Example::board("fl-03.yaml")
        .with(&[("calibrated: \"2026-05-02\"", "calibrated: \"2024-05-02\"")]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let (date, instruments, span) = match &subject.content {
        Content::Board(board) => (
            board.inspection.as_ref().and_then(|i| i.date),
            board.instruments.iter().collect(),
            record_place(subject, &["instrument", "calibrated"]),
        ),
        Content::Sheet(sheet) => (sheet.date, sheet.instruments(), sheet.head),
        _ => return,
    };
    let Some(date) = date else { return };
    for instrument in instruments {
        if let Some(message) = lapsed(instrument, date, subject) {
            let remedy = "have the instrument calibrated and measure again, or correct the day";
            flagged.push(Flagged::new(span, message, remedy));
        }
    }
}

/// Why an instrument was not to be trusted on a day.
fn lapsed(instrument: &Instrument, date: Date, subject: &Subject) -> Option<String> {
    if let Some(due) = instrument.due
        && due < date
    {
        return Some(format!(
            "the instrument was due for calibration on {due}, before the inspection on {date}"
        ));
    }
    let calibrated = instrument.calibrated?;
    let days = (date - calibrated).get_days();
    let most = i32::from(subject.thresholds.calibrated_within);
    if days < 0 {
        return Some(format!(
            "the instrument was calibrated on {calibrated}, after the inspection on {date}"
        ));
    }
    // A day that is stated as due stands in place of the usual interval.
    (days > most && instrument.due.is_none()).then(|| {
        format!(
            "the instrument was calibrated {days} days before the inspection on {date}; {most} \
             are allowed"
        )
    })
}
