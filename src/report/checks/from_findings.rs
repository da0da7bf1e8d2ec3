//! The findings of `validate` as checks.

use super::model::{CheckOutcome, CheckRule, CheckedFile, Checks, Found, Standing};
use crate::board::Board;
use crate::conformity::{Accepted, Assessment, BandFinding, BandOutcome, LimitFinding, Verdict};
use crate::document::{InvalidFile, Level};
use crate::lint::Rule;
use crate::report::says::{judged, people, phrases};

/// Collects boards and invalid files.
#[derive(Clone, Debug)]
pub struct FindingChecks {
    checks: Checks,
    accepted: Accepted,
}

impl FindingChecks {
    /// Nothing yet. Doubts that are accepted are marked as waived.
    pub fn new(accepted: Accepted) -> Self {
        Self {
            checks: Checks {
                command: "validate",
                ..Checks::default()
            },
            accepted,
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
                summary: phrases::check(finding),
                help: format!("Source: {}", finding.limit.source),
                level: Level::Error,
            });
            outcomes.push(self.limit(finding, assessment.board));
        }
        for finding in &assessment.bands {
            let Some(outcome) = self.band(finding, assessment.board) else {
                continue;
            };
            let id = judged::band_code(finding);
            self.checks.know(&id.clone(), || CheckRule {
                id,
                summary: format!("free area of the {}", finding.band),
                help: "How far the free area may deviate from the nominal board's.".to_owned(),
                level: Level::Error,
            });
            outcomes.push(outcome);
        }
        outcomes.extend(self.of_readings(assessment.board));
        self.checks.files.push(CheckedFile {
            name: assessment.board.document.source.name().to_owned(),
            outcomes,
        });
    }

    /// Readings that stand apart and people who disagree. They change no verdict,
    /// and none is to be read without them.
    fn of_readings(&mut self, board: &Board) -> Vec<CheckOutcome> {
        let mut outcomes: Vec<CheckOutcome> = Vec::new();
        for diagnostic in people::findings(board) {
            if let Some(rule) = Rule::find(&diagnostic.code) {
                self.checks.know(rule.code, || CheckRule::of_rule(rule));
            }
            let place = &diagnostic.place;
            let pointer = place.pointer.as_deref().unwrap_or_default();
            outcomes.push(CheckOutcome::Found(Box::new(Found {
                title: format!("line {}, column {}", place.from.line, place.from.column),
                key: format!("{pointer}\n{}", diagnostic.message),
                standing: Standing::Counts,
                diagnostic,
            })));
        }
        outcomes
    }

    /// Adds a file that could not be used.
    pub fn leave_out(&mut self, invalid_file: &InvalidFile) {
        self.checks.leave_out(invalid_file);
    }

    /// Whether a verdict counts.
    fn standing(&self, verdict: Option<Verdict>) -> Standing {
        let waived = |because: &str| Standing::Waived {
            because: because.to_owned(),
            in_file: false,
        };
        match verdict {
            Some(Verdict::Inconclusive) if self.accepted.inconclusive => {
                waived("inconclusive verdicts are accepted in this run")
            }
            None if self.accepted.unchecked => {
                waived("limits that could not be checked are accepted in this run")
            }
            Some(_) => Standing::Counts,
            None => Standing::NotMade,
        }
    }

    fn limit(&self, finding: &LimitFinding<'_>, board: &Board) -> CheckOutcome {
        let subject = phrases::check(finding);
        let title = finding.part.map_or_else(
            || subject.clone(),
            |part| format!("{subject} ({})", part.name()),
        );
        let Some(diagnostic) = judged::limit(finding, board) else {
            let code = finding.limit.name.clone();
            return CheckOutcome::Passed { code, title };
        };
        CheckOutcome::Found(Box::new(Found {
            diagnostic,
            title,
            key: finding
                .part
                .map_or_else(String::new, crate::conformity::WirePart::name),
            standing: self.standing(finding.outcome.verdict()),
        }))
    }

    /// `None` for a band that nothing limits.
    fn band(&self, finding: &BandFinding<'_>, board: &Board) -> Option<CheckOutcome> {
        let verdict = match &finding.outcome {
            BandOutcome::Compared(band) => Some(band.verdict?),
            BandOutcome::NotChecked(_) => None,
            BandOutcome::NoNominal(_) | BandOutcome::NotComputable(_) => return None,
        };
        let title = format!("{} area", finding.band);
        let Some(diagnostic) = judged::band(finding, board) else {
            let code = judged::band_code(finding);
            return Some(CheckOutcome::Passed { code, title });
        };
        Some(CheckOutcome::Found(Box::new(Found {
            diagnostic,
            title,
            key: String::new(),
            standing: self.standing(verdict),
        })))
    }
}
