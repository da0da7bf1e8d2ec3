//! The findings of `validate` as checks.

use super::model::{CheckOutcome, CheckRule, CheckedFile, Checks, Found, Standing};
use crate::board::{Board, InputId};
use crate::conformity::{
    Assessment, BandFinding, BandOutcome, BoundsOrigin, LimitFinding, Outcome, Verdict,
};
use crate::document::{Diagnostic, InvalidFile, Level, Place};
use crate::report::says::{phrases, reasons};

/// Collects boards and refused files.
#[derive(Clone, Debug)]
pub struct FindingChecks {
    checks: Checks,
    /// Whether inconclusive checks are accepted.
    accept_inconclusive: bool,
    /// Whether checks that could not be made are accepted.
    accept_unchecked: bool,
}

impl FindingChecks {
    /// Nothing yet. Doubts that are accepted are marked as waived.
    pub fn new(accept_inconclusive: bool, accept_unchecked: bool) -> Self {
        Self {
            checks: Checks {
                command: "validate",
                ..Checks::default()
            },
            accept_inconclusive,
            accept_unchecked,
        }
    }

    /// What has been collected.
    pub const fn checks(&self) -> &Checks {
        &self.checks
    }

    /// Adds a board: a check for each limit and each band.
    pub fn add(&mut self, assessment: &Assessment<'_>) {
        let mut outcomes = Vec::new();
        for finding in &assessment.limits {
            self.checks.know(&finding.limit.name, || CheckRule {
                id: finding.limit.name.clone(),
                summary: phrases::subject(finding),
                help: format!("Source: {}", finding.limit.source),
                level: Level::Error,
            });
            outcomes.push(self.limit(finding, assessment.board));
        }
        for finding in &assessment.bands {
            let Some(outcome) = self.band(finding, assessment.board) else {
                continue;
            };
            let id = format!("{}.area", finding.band.key());
            self.checks.know(&id.clone(), || CheckRule {
                id,
                summary: format!("free area of the {}", finding.band),
                help: "How far the free area may deviate from the nominal board's.".to_owned(),
                level: Level::Error,
            });
            outcomes.push(outcome);
        }
        self.checks.files.push(CheckedFile {
            name: assessment.board.document.source.name().to_owned(),
            outcomes,
        });
    }

    /// Adds a file that could not be used.
    pub fn refuse(&mut self, invalid_file: &InvalidFile) {
        self.checks.refuse(invalid_file);
    }

    /// How much a verdict counts, and whether; `None` if there is nothing to
    /// say.
    fn standing(&self, verdict: Option<Verdict>) -> Option<(Level, Standing)> {
        let accepted = |because: &str| {
            let because = because.to_owned();
            let in_file = false;
            Some((Level::Warning, Standing::Waived { because, in_file }))
        };
        match verdict {
            Some(Verdict::Conforms) => None,
            Some(Verdict::DoesNotConform) => Some((Level::Error, Standing::Counts)),
            Some(Verdict::Inconclusive) if self.accept_inconclusive => {
                accepted("inconclusive verdicts are accepted in this run")
            }
            None if self.accept_unchecked => {
                accepted("limits that could not be checked are accepted in this run")
            }
            Some(Verdict::Inconclusive) => Some((Level::Warning, Standing::Counts)),
            None => Some((Level::Warning, Standing::NotMade)),
        }
    }

    fn limit(&self, finding: &LimitFinding<'_>, board: &Board) -> CheckOutcome {
        let limit = finding.limit;
        let verdict = finding.outcome.verdict();
        let subject = phrases::subject(finding);
        let title = finding.part.map_or_else(
            || subject.clone(),
            |part| format!("{subject} ({})", part.name()),
        );
        let code = limit.name.clone();
        let Some((level, standing)) = self.standing(verdict) else {
            return CheckOutcome::Passed { code, title };
        };
        let word = verdict.map_or_else(|| "not checked".to_owned(), |v| v.to_string());
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
        let message = format!("{subject}: {words}: {word}");
        let found = Diagnostic::new(code, level, place, message).with_remedy(remedy);
        CheckOutcome::Found(Box::new(Found {
            diagnostic: found.and(limit.place.place(), "the limit"),
            title,
            key: finding
                .part
                .map_or_else(String::new, |part| part.name().to_owned()),
            standing,
        }))
    }

    /// `None` for a band that nothing limits.
    fn band(&self, finding: &BandFinding<'_>, board: &Board) -> Option<CheckOutcome> {
        let name = finding.band;
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
            BandOutcome::NoNominal(_) => return None,
        };
        let code = format!("{}.area", name.key());
        let title = format!("{name} area");
        let Some((level, standing)) = self.standing(verdict) else {
            return Some(CheckOutcome::Passed { code, title });
        };
        let message = format!("{title}: {words}");
        let found = Diagnostic::new(code, level, place, message).with_remedy(remedy);
        let diagnostic = match limit {
            Some(limit) => found.and(limit.place(), "the limit"),
            None => found,
        };
        Some(CheckOutcome::Found(Box::new(Found {
            diagnostic,
            title,
            key: String::new(),
            standing,
        })))
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
