//! What `lint` found, as checks.

use std::collections::BTreeSet;

use super::model::{CheckOutcome, CheckRule, CheckedFile, Checks, Found, Standing};
use crate::document::{Fault, Level};
use crate::lint::{Finding, Linted, Rule};

/// Every rule that is for a file as a check of it: those that found something,
/// with what they found, and those that did not, as passed.
/// Findings below the level that fails the run, `threshold`, are no failures.
pub fn lint_checks(linted: &Linted, threshold: Level) -> Checks {
    let mut checks = Checks {
        command: "lint",
        fails_at: Some(threshold),
        rules: Rule::ALL
            .iter()
            .map(|rule| CheckRule::of_rule(rule))
            .collect(),
        files: Vec::new(),
    };
    for file in &linted.files {
        let mut outcomes = numbered(&file.findings);
        let found: BTreeSet<&str> = file.findings.iter().map(|f| &*f.diagnostic.code).collect();
        if let Some(kind) = file.kind {
            let silent = Rule::ALL
                .iter()
                .filter(|rule| rule.kinds.contains(&kind) && !found.contains(rule.code));
            outcomes.extend(silent.map(|rule| CheckOutcome::Passed {
                code: rule.code.to_owned(),
                title: rule.summary.to_owned(),
            }));
        }
        let name = file.file.clone();
        checks.files.push(CheckedFile { name, outcomes });
    }
    for finding in &linted.settings {
        let name = finding.diagnostic.place.file.to_string();
        let outcome = outcome(finding, 0);
        match checks.files.iter_mut().find(|file| file.name == name) {
            Some(file) => file.outcomes.push(outcome),
            None => checks.files.push(CheckedFile {
                name,
                outcomes: vec![outcome],
            }),
        }
    }
    // Of the faults of structure, those that were found.
    let codes = checks.found().map(|found| found.diagnostic.code.clone());
    let codes: BTreeSet<_> = codes.collect();
    for fault in Fault::ALL {
        if codes.contains(fault.code()) {
            checks.know(fault.code(), || CheckRule::of_fault(fault));
        }
    }
    checks
}

impl CheckRule {
    pub(super) fn of_rule(rule: &Rule) -> Self {
        Self {
            id: rule.code.to_owned(),
            summary: rule.summary.to_owned(),
            help: format!("{} {} Source: {}", rule.flags, rule.matters, rule.source),
            level: rule.level,
        }
    }
}

/// Findings of one rule with one message and one pointer are told apart by
/// their order.
fn numbered(findings: &[Finding]) -> Vec<CheckOutcome> {
    let mut outcomes = Vec::with_capacity(findings.len());
    for finding in findings {
        let one = &finding.diagnostic;
        let same = |other: &&Finding| {
            let other = &other.diagnostic;
            other.code == one.code
                && other.message == one.message
                && other.place.pointer == one.place.pointer
        };
        let before = findings.iter().take(outcomes.len()).filter(same).count();
        outcomes.push(outcome(finding, before));
    }
    outcomes
}

fn outcome(finding: &Finding, before: usize) -> CheckOutcome {
    let diagnostic = finding.diagnostic.clone();
    let place = &diagnostic.place;
    let pointer = place.pointer.as_deref().unwrap_or_default();
    CheckOutcome::Found(Box::new(Found {
        title: format!("line {}, column {}", place.from.line, place.from.column),
        key: format!("{pointer}\n{}\n{before}", diagnostic.message),
        standing: match &finding.waived {
            None => Standing::Counts,
            Some(waived) => Standing::Waived {
                because: waived.because.clone(),
                in_file: waived.by.file == place.file,
            },
        },
        diagnostic,
    }))
}
