//! The findings of `validate` as checks.

use super::{Check, CheckRule, CheckedFile, Checks, RelatedSpot, Severity, Spot, State};
use crate::board::{Board, InputId};
use crate::conformity::{
    Assessment, BandFinding, BandOutcome, BoundsOrigin, LimitFinding, Outcome, Verdict,
};
use crate::document::{InvalidFile, Passage, Problem, Span};
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
        let mut checks = Vec::new();
        for finding in &assessment.limits {
            self.checks.know(&finding.limit.name, || CheckRule {
                id: finding.limit.name.clone(),
                summary: phrases::subject(finding),
                help: format!("Source: {}", finding.limit.source),
                severity: Severity::Error,
            });
            checks.push(self.limit(finding, assessment));
        }
        for finding in &assessment.bands {
            let Some(check) = self.band(finding, assessment) else {
                continue;
            };
            self.checks.know(&check.rule, || CheckRule {
                id: check.rule.clone(),
                summary: format!("free area of the {}", finding.band),
                help: "How far the free area may deviate from the nominal board's.".to_owned(),
                severity: Severity::Error,
            });
            checks.push(check);
        }
        self.checks.files.push(CheckedFile {
            name: assessment.board.document.source.name().to_owned(),
            checks,
        });
    }

    /// Adds a file that could not be used.
    pub fn refuse(&mut self, invalid_file: &InvalidFile) {
        self.checks.refuse(invalid_file);
    }

    fn state(&self, verdict: Option<Verdict>) -> State {
        let accepted = |because: &str| State::Waived {
            severity: Severity::Warning,
            because: because.to_owned(),
            in_file: false,
        };
        match verdict {
            Some(Verdict::Conforms) => State::Passed,
            Some(Verdict::DoesNotConform) => State::Found(Severity::Error),
            Some(Verdict::Inconclusive) if self.accept_inconclusive => {
                accepted("inconclusive verdicts are accepted in this run")
            }
            None if self.accept_unchecked => {
                accepted("limits that could not be checked are accepted in this run")
            }
            Some(Verdict::Inconclusive) => State::Found(Severity::Warning),
            None => State::NotMade(Severity::Warning),
        }
    }

    fn limit(&self, finding: &LimitFinding<'_>, assessment: &Assessment<'_>) -> Check {
        let (board, limit) = (assessment.board, finding.limit);
        let verdict = finding.outcome.verdict();
        let word = verdict.map_or_else(|| "not checked".to_owned(), |v| v.to_string());
        let subject = phrases::subject(finding);
        let (words, remedy, spot) = match &finding.outcome {
            Outcome::Length(length) => {
                let decimals = phrases::decimals(limit.measurand);
                let value = phrases::value(length, decimals);
                let interval = phrases::interval(length.interval, decimals);
                let remedy = match verdict {
                    Some(Verdict::Conforms) => None,
                    _ if length.contradiction.is_some() => {
                        Some("measure again: the direct width and the radii differ")
                    }
                    Some(Verdict::Inconclusive) => Some("measure it with a smaller uncertainty"),
                    _ => Some("measure again, or take the board out of use"),
                };
                let spot = input_spot(board, length.inputs.last().copied());
                (format!("{value}, limits {interval}"), remedy, spot)
            }
            Outcome::Mounting { found, .. } => {
                let node = board.document.root.get("mounting");
                let spot = Spot::new(
                    &board.document.source,
                    node.map(|node| node.span).unwrap_or_default(),
                );
                (found.to_string(), None, spot)
            }
            Outcome::NotChecked(missing) => {
                let words = format!("needs {}", reasons::needs(missing));
                (words, Some("measure what is missing"), head(board))
            }
        };
        let title = finding.part.map_or_else(
            || subject.clone(),
            |part| format!("{subject} ({})", part.name()),
        );
        Check {
            rule: limit.name.clone(),
            message: format!("{subject}: {words}: {word}"),
            state: self.state(verdict),
            remedy: remedy.map(str::to_owned),
            spot,
            related: vec![related(&limit.place, "the limit")],
            key: finding
                .part
                .map_or_else(String::new, |part| part.name().to_owned()),
            title,
        }
    }

    /// `None` for a band that nothing limits.
    fn band(&self, finding: &BandFinding<'_>, assessment: &Assessment<'_>) -> Option<Check> {
        let board = assessment.board;
        let name = finding.band;
        let (verdict, words, remedy, spot, related) = match &finding.outcome {
            BandOutcome::Compared(band) => {
                let verdict = band.verdict?;
                let bounds = band.bounds?;
                let mut words = phrases::deviation(band);
                words.push_str(&format!(
                    ", conforms within {}: {verdict}",
                    phrases::within(Some(&bounds))
                ));
                let driver = band.drivers.first();
                let driver =
                    driver.filter(|driver| driver.share.value().abs() >= reasons::WORTH_NAMING);
                let spot = driver.map_or_else(
                    || head(board),
                    |driver| input_spot(board, Some(driver.input)),
                );
                let remedy = (verdict != Verdict::Conforms)
                    .then(|| "look first at the length that this points at".to_owned());
                let related = match bounds.origin {
                    BoundsOrigin::Given(limit) => vec![related(&limit.place, "the limit")],
                    BoundsOrigin::Derived => Vec::new(),
                };
                (Some(verdict), words, remedy, spot, related)
            }
            BandOutcome::NotChecked(missing) => {
                let words = format!("needs {}: not checked", reasons::needs(missing));
                let remedy = Some("measure what is missing".to_owned());
                (None, words, remedy, head(board), Vec::new())
            }
            BandOutcome::NoNominal(_) => return None,
        };
        Some(Check {
            rule: format!("{}.area", name.key()),
            title: format!("{name} area"),
            state: self.state(verdict),
            message: format!("{name} area: {words}"),
            remedy,
            spot,
            related,
            key: String::new(),
        })
    }
}

/// The value of a measured length, or the head of the file.
fn input_spot(board: &Board, input: Option<InputId>) -> Spot {
    let input = input.and_then(|id| board.construction.input(id));
    input.map_or_else(
        || head(board),
        |input| Spot::new(&board.document.source, input.span),
    )
}

/// Where a board says which one it is: the place of what is not there.
fn head(board: &Board) -> Spot {
    let root = &board.document.root;
    let span = root.get("board").map_or(root.span, |node| node.span);
    Spot::new(&board.document.source, span)
}

fn related(place: &Passage, label: &str) -> RelatedSpot {
    RelatedSpot {
        spot: Spot::new(&place.document.source, place.span),
        label: label.to_owned(),
    }
}

impl Checks {
    /// Lists a rule, once.
    pub fn know(&mut self, id: &str, rule: impl FnOnce() -> CheckRule) {
        if !self.rules.iter().any(|known| known.id == id) {
            self.rules.push(rule());
        }
    }

    /// Adds a file that could not be used: a check for each of its problems.
    pub fn refuse(&mut self, invalid_file: &InvalidFile) {
        for problem in &invalid_file.problems {
            let code = problem.fault.code();
            self.know(code, || CheckRule {
                id: code.to_owned(),
                summary: "the file can be used".to_owned(),
                help: "A file that cannot be read as what it says it is.".to_owned(),
                severity: Severity::Error,
            });
        }
        let problems = invalid_file.problems.iter().enumerate();
        self.files.push(CheckedFile {
            name: invalid_file.file.name().to_owned(),
            checks: problems
                .map(|(index, problem)| refused(invalid_file, index, problem))
                .collect(),
        });
    }
}

fn refused(invalid_file: &InvalidFile, index: usize, problem: &Problem) -> Check {
    let spot = |span: Span| Spot::new(&invalid_file.file, span);
    let related = problem.related.as_ref();
    Check {
        rule: problem.fault.code().to_owned(),
        title: format!("{} ({})", problem.message, index + 1),
        state: State::Found(Severity::Error),
        message: problem.message.clone(),
        remedy: Some(problem.remedy.clone()),
        spot: spot(problem.span),
        related: related
            .map(|(span, label)| RelatedSpot {
                spot: spot(*span),
                label: label.clone(),
            })
            .into_iter()
            .collect(),
        key: problem.message.clone(),
    }
}
