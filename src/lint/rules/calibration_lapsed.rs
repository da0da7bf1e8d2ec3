//! An instrument that was not in calibration on the day.

use crate::document::{FileKind, Level};
use crate::lint::notation::record_place;
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

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
    let (date, calibrated, span) = match &subject.content {
        Content::Board(board) => (
            board.inspection.as_ref().and_then(|i| i.date),
            board.instrument.as_ref().and_then(|i| i.calibrated),
            record_place(subject, &["instrument", "calibrated"]),
        ),
        Content::Sheet(sheet) => (sheet.date, sheet.instrument.calibrated, sheet.head()),
        _ => return,
    };
    let (Some(date), Some(calibrated)) = (date, calibrated) else {
        return;
    };
    let days = (date - calibrated).get_days();
    let most = i32::from(subject.thresholds.calibrated_within);
    let message = if days < 0 {
        format!("the instrument was calibrated on {calibrated}, after the inspection on {date}")
    } else if days > most {
        format!(
            "the instrument was calibrated {days} days before the inspection on {date}; {most} \
             are allowed"
        )
    } else {
        return;
    };
    let remedy = "have the instrument calibrated and measure again, or correct the day";
    flagged.push(Flagged::new(span, message, remedy));
}
