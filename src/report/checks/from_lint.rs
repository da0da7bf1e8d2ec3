//! What `lint` found, as checks.

use std::collections::BTreeSet;

use super::{Check, CheckRule, CheckedFile, Checks, RelatedSpot, Severity, Spot, State};
use crate::document::{Fault, Position, Span};
use crate::lint::{FilePlace, Finding, Level, Linted, Rule, structure};

/// Every rule that is for a file as a check of it: those that found something,
/// with what they found, and those that did not, as passed.
pub fn lint_checks(linted: &Linted) -> Checks {
    let mut checks = Checks {
        command: "lint",
        rules: Rule::ALL.iter().map(|rule| described(rule)).collect(),
        files: Vec::new(),
    };
    for file in &linted.files {
        let mut own: Vec<Check> = numbered(&file.findings);
        let found: BTreeSet<&str> = file.findings.iter().map(|f| f.code).collect();
        if let Some(kind) = file.kind {
            let silent = Rule::ALL
                .iter()
                .filter(|rule| rule.kinds.contains(&kind) && !found.contains(rule.code));
            own.extend(silent.map(|rule| passed(rule, &file.file)));
        }
        checks.files.push(CheckedFile {
            name: file.file.clone(),
            checks: own,
        });
    }
    for finding in &linted.settings {
        let name = finding.place.file.to_string();
        let check = check(finding, 0);
        match checks.files.iter_mut().find(|file| file.name == name) {
            Some(file) => file.checks.push(check),
            None => checks.files.push(CheckedFile {
                name,
                checks: vec![check],
            }),
        }
    }
    faults(&mut checks);
    checks
}

/// Lists the faults of structure that were found.
fn faults(checks: &mut Checks) {
    let found: BTreeSet<String> = checks
        .files
        .iter()
        .flat_map(|file| &file.checks)
        .map(|check| check.rule.clone())
        .collect();
    for fault in Fault::ALL {
        if found.contains(fault.code()) {
            checks.know(fault.code(), || CheckRule {
                id: fault.code().to_owned(),
                summary: structure::meaning(fault).to_owned(),
                help: "A file that cannot be read as what it says it is.".to_owned(),
                severity: Severity::Error,
            });
        }
    }
}

fn described(rule: &Rule) -> CheckRule {
    CheckRule {
        id: rule.code.to_owned(),
        summary: rule.summary.to_owned(),
        help: format!("{} {} Source: {}", rule.flags, rule.matters, rule.source),
        severity: severity(rule.level),
    }
}

const fn severity(level: Level) -> Severity {
    match level {
        Level::Ignore | Level::Note => Severity::Note,
        Level::Warning => Severity::Warning,
        Level::Error => Severity::Error,
    }
}

/// Findings of one rule with one message and one pointer are told apart by
/// their order.
fn numbered(findings: &[Finding]) -> Vec<Check> {
    let mut checks: Vec<Check> = Vec::with_capacity(findings.len());
    for finding in findings {
        let same = |other: &&Finding| {
            other.code == finding.code
                && other.message == finding.message
                && other.place.pointer == finding.place.pointer
        };
        let before = findings.iter().take(checks.len()).filter(same).count();
        checks.push(check(finding, before));
    }
    checks
}

fn check(finding: &Finding, before: usize) -> Check {
    let severity = severity(finding.level);
    let pointer = finding.place.pointer.as_deref().unwrap_or_default();
    Check {
        rule: finding.code.to_owned(),
        title: format!(
            "line {}, column {}",
            finding.place.from.line, finding.place.from.column
        ),
        state: match &finding.waived {
            None => State::Found(severity),
            Some(waived) => State::Waived {
                severity,
                because: waived.because.clone(),
                in_file: waived.by.file == finding.place.file,
            },
        },
        message: finding.message.clone(),
        remedy: Some(finding.remedy.clone()),
        spot: spot(&finding.place),
        related: finding
            .related
            .iter()
            .map(|other| RelatedSpot {
                spot: spot(&other.place),
                label: other.label.clone(),
            })
            .collect(),
        key: format!("{pointer}\n{}\n{before}", finding.message),
    }
}

fn passed(rule: &Rule, file: &str) -> Check {
    let start = Position { line: 1, column: 1 };
    Check {
        rule: rule.code.to_owned(),
        title: rule.summary.to_owned(),
        state: State::Passed,
        message: rule.summary.to_owned(),
        remedy: None,
        spot: Spot {
            file: file.to_owned(),
            span: Span::default(),
            from: start,
            to: start,
        },
        related: Vec::new(),
        key: String::new(),
    }
}

fn spot(place: &FilePlace) -> Spot {
    Spot {
        file: place.file.to_string(),
        span: place.span,
        from: place.from,
        to: place.to,
    }
}
