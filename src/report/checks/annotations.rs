//! Annotations that CI hosts pick up from a job's output or from a report file,
//! in the syntaxes that they document.

use serde::Serialize;

use super::sarif::fingerprint;
use super::{Check, Checks, Severity};
use crate::report::escape;

/// Whose syntax.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnnotationHost {
    /// Workflow commands of GitHub Actions: `::error file=…::message`.
    GitHub,
    /// Logging commands of Azure Pipelines: `##vso[task.logissue …]message`.
    Azure,
    /// The code quality report of GitLab CI: a JSON list.
    GitLab,
}

/// What was found, for a host. Waived findings are left out, since no host has
/// a word for them.
pub fn annotations(checks: &Checks, host: AnnotationHost) -> Result<String, serde_json::Error> {
    let all = checks.files.iter().flat_map(|file| &file.checks);
    let found = all.filter_map(|check| Some((check, check.severity()?)));
    match host {
        AnnotationHost::GitHub => Ok(found.map(|(check, s)| github(check, s)).collect()),
        AnnotationHost::Azure => Ok(found.map(|(check, s)| azure(check, s)).collect()),
        AnnotationHost::GitLab => {
            let issues: Vec<Issue<'_>> = found.map(|(check, s)| Issue::new(check, s)).collect();
            let text = serde_json::to_string_pretty(&issues)?;
            Ok(escape::json(&text).into_owned() + "\n")
        }
    }
}

/// Message and remedy in a line. A host ends a command at the line's end.
fn words(check: &Check) -> String {
    let words = match &check.remedy {
        Some(remedy) => format!("{}: {remedy}", check.message),
        None => check.message.clone(),
    };
    escape::terminal(&words).into_owned()
}

/// Percent-encoding of what would end a command or a property of it.
fn encoded(text: &str, property: bool) -> String {
    let text = escape::terminal(text).replace('%', "%25");
    if property {
        text.replace(':', "%3A").replace(',', "%2C")
    } else {
        text
    }
}

fn github(check: &Check, severity: Severity) -> String {
    let command = match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "notice",
    };
    let spot = &check.spot;
    // A column means something only within one line.
    let columns = if spot.from.line == spot.to.line {
        format!(",col={},endColumn={}", spot.from.column, spot.to.column)
    } else {
        String::new()
    };
    format!(
        "::{command} file={},line={},endLine={}{columns},title={}::{}\n",
        encoded(&spot.file, true),
        spot.from.line,
        spot.to.line,
        encoded(&check.rule, true),
        encoded(&words(check), false)
    )
}

fn azure(check: &Check, severity: Severity) -> String {
    // There are errors and warnings, and nothing less.
    let kind = match severity {
        Severity::Error => "error",
        Severity::Warning | Severity::Note => "warning",
    };
    let property = |text: &str| {
        escape::terminal(text)
            .replace('%', "%AZP25")
            .replace(';', "%3B")
            .replace(']', "%5D")
    };
    format!(
        "##vso[task.logissue type={kind};sourcepath={};linenumber={};columnnumber={};code={}]{}\n",
        property(&check.spot.file),
        check.spot.from.line,
        check.spot.from.column,
        property(&check.rule),
        words(check).replace('%', "%AZP25")
    )
}

#[derive(Serialize)]
struct Issue<'a> {
    description: String,
    check_name: &'a str,
    fingerprint: String,
    severity: &'static str,
    location: IssueLocation<'a>,
}

#[derive(Serialize)]
struct IssueLocation<'a> {
    path: &'a str,
    lines: IssueLines,
}

#[derive(Serialize)]
struct IssueLines {
    begin: usize,
    end: usize,
}

impl<'a> Issue<'a> {
    fn new(check: &'a Check, severity: Severity) -> Self {
        Self {
            description: words(check),
            check_name: &check.rule,
            fingerprint: fingerprint(check),
            severity: match severity {
                Severity::Error => "major",
                Severity::Warning => "minor",
                Severity::Note => "info",
            },
            location: IssueLocation {
                path: check
                    .spot
                    .file
                    .strip_prefix("./")
                    .unwrap_or(&check.spot.file),
                lines: IssueLines {
                    begin: check.spot.from.line,
                    end: check.spot.to.line,
                },
            },
        }
    }
}
