//! What a verdict says of a place in a board's file: one diagnostic for SARIF,
//! `JUnit`, annotations and JSON.

use super::{phrases, reasons, uneven};
use crate::board::{Board, InputId};
use crate::conformity::{BandFinding, BandOutcome, BoundsOrigin, LimitFinding, Outcome, Verdict};
use crate::document::{Diagnostic, Level, Place};

/// What is to be said of a limit; nothing where the board conforms to it.
pub(in crate::report) fn limit(finding: &LimitFinding<'_>, board: &Board) -> Option<Diagnostic> {
    let limit = finding.limit;
    let verdict = finding.outcome.verdict();
    let level = level(verdict)?;
    let (words, remedy, place) = match &finding.outcome {
        Outcome::Length(length) => {
            let decimals = phrases::decimals(limit.measurand);
            let value = phrases::value(length, decimals);
            let interval = phrases::interval(length.interval, decimals);
            let remedy = if length.contradiction.is_some() {
                "measure again: the direct width and the radii differ"
            } else if verdict == Some(Verdict::Inconclusive) {
                "measure it with a smaller uncertainty"
            } else {
                "measure again, or take the board out of use"
            };
            let place = input_place(board, length.inputs.last().copied());
            (format!("{value}, limits {interval}"), remedy, place)
        }
        Outcome::Bed(found) => {
            let interval = uneven::bed_interval(found.lower, found.upper);
            let words = format!("{}, limits {interval}", uneven::bed_value(found));
            let place = input_place(board, found.inputs().last().copied());
            (words, "measure again, or take the board out of use", place)
        }
        Outcome::Mounting { found, .. } => {
            let node = board.document.root.get("mounting");
            let span = node.map(|node| node.span).unwrap_or_default();
            let place = Place::in_document(&board.document, span);
            (found.to_string(), "", place)
        }
        Outcome::NotChecked(missing) => {
            let words = format!("needs {}", reasons::needs(missing));
            (words, "measure what is missing", head(board))
        }
    };
    let word = verdict.map_or_else(|| "not checked".to_owned(), |v| v.to_string());
    let message = format!("{}: {words}: {word}", phrases::subject(finding));
    let found = Diagnostic::new(limit.name.clone(), level, place, message).with_remedy(remedy);
    Some(found.and(limit.place.place(), "the limit"))
}

/// The code of what is said of a band.
pub(in crate::report) fn band_code(finding: &BandFinding<'_>) -> String {
    format!("{}.area", finding.band.key())
}

/// What is to be said of a band; nothing where it conforms or nothing limits it.
pub(in crate::report) fn band(finding: &BandFinding<'_>, board: &Board) -> Option<Diagnostic> {
    let (verdict, words, remedy, place, limit) = match &finding.outcome {
        BandOutcome::Compared(band) => {
            let verdict = band.verdict?;
            let bounds = band.bounds?;
            let words = format!(
                "{}, conforms within {}: {verdict}",
                phrases::deviation(band),
                phrases::within(Some(&bounds))
            );
            let driver = band.drivers.first();
            let driver =
                driver.filter(|driver| driver.share.value().abs() >= reasons::WORTH_NAMING);
            let place = input_place(board, driver.map(|driver| driver.input));
            let limit = match bounds.origin {
                BoundsOrigin::Given(limit) => Some(&limit.place),
                BoundsOrigin::Derived => None,
            };
            let remedy = "look first at the length that this points at";
            (Some(verdict), words, remedy, place, limit)
        }
        BandOutcome::NotChecked(missing) => {
            let words = format!("needs {}: not checked", reasons::needs(missing));
            (None, words, "measure what is missing", head(board), None)
        }
        BandOutcome::NoNominal(_) | BandOutcome::NotComputable(_) => return None,
    };
    let message = format!("{} area: {words}", finding.band);
    let found = Diagnostic::new(band_code(finding), level(verdict)?, place, message);
    let found = found.with_remedy(remedy);
    Some(match limit {
        Some(limit) => found.and(limit.place(), "the limit"),
        None => found,
    })
}

/// How much a verdict counts; nothing is said of what conforms.
const fn level(verdict: Option<Verdict>) -> Option<Level> {
    match verdict {
        Some(Verdict::Conforms) => None,
        Some(Verdict::DoesNotConform) => Some(Level::Error),
        Some(Verdict::Inconclusive) | None => Some(Level::Warning),
    }
}

/// The value of a measured length, or the head of the file.
fn input_place(board: &Board, input: Option<InputId>) -> Place {
    let input = input.and_then(|id| board.construction.input(id));
    input.map_or_else(
        || head(board),
        |input| Place::in_document(&board.document, input.span),
    )
}

/// Where a board says which one it is: the place of what is not there.
fn head(board: &Board) -> Place {
    let root = &board.document.root;
    let span = root.get("board").map_or(root.span, |node| node.span);
    Place::in_document(&board.document, span)
}
