//! Annotations that CI hosts pick up from a job's output or from a report file,
//! in the syntaxes that they document.

use serde::Serialize;

use super::sarif::{fingerprint, plain_path};
use super::{Checks, Found, Standing};
use crate::document::{Diagnostic, Level};
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
    let waived = |found: &&Found| matches!(found.standing, Standing::Waived { .. });
    let found = checks.found().filter(|found| !waived(found));
    match host {
        AnnotationHost::GitHub => Ok(found.map(|found| github(&found.diagnostic)).collect()),
        AnnotationHost::Azure => Ok(found.map(|found| azure(&found.diagnostic)).collect()),
        AnnotationHost::GitLab => {
            let issues: Vec<Issue<'_>> = found.map(Issue::new).collect();
            let text = serde_json::to_string_pretty(&issues)?;
            Ok(escape::json(&text).into_owned() + "\n")
        }
    }
}

/// Message and remedy in a line. A host ends a command at the line's end.
fn words(found: &Diagnostic) -> String {
    let words = match &found.remedy {
        Some(remedy) => format!("{}: {remedy}", found.message),
        None => found.message.clone(),
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

fn github(found: &Diagnostic) -> String {
    let command = match found.level {
        Level::Error => "error",
        Level::Warning => "warning",
        Level::Note => "notice",
    };
    let place = &found.place;
    // A column means something only within one line.
    let columns = if place.from.line == place.to.line {
        format!(",col={},endColumn={}", place.from.column, place.to.column)
    } else {
        String::new()
    };
    format!(
        "::{command} file={},line={},endLine={}{columns},title={}::{}\n",
        encoded(&plain_path(&place.file), true),
        place.from.line,
        place.to.line,
        encoded(&found.code, true),
        encoded(&words(found), false)
    )
}

fn azure(found: &Diagnostic) -> String {
    // There are errors and warnings, and nothing less.
    let kind = match found.level {
        Level::Error => "error",
        Level::Warning | Level::Note => "warning",
    };
    let property = |text: &str| {
        escape::terminal(text)
            .replace('%', "%AZP25")
            .replace(';', "%3B")
            .replace(']', "%5D")
    };
    format!(
        "##vso[task.logissue type={kind};sourcepath={};linenumber={};columnnumber={};code={}]{}\n",
        property(&plain_path(&found.place.file)),
        found.place.from.line,
        found.place.from.column,
        property(&found.code),
        words(found).replace('%', "%AZP25")
    )
}

#[derive(Serialize)]
struct Issue<'a> {
    description: String,
    check_name: &'a str,
    fingerprint: String,
    severity: &'static str,
    location: IssueLocation,
}

#[derive(Serialize)]
struct IssueLocation {
    path: String,
    lines: IssueLines,
}

#[derive(Serialize)]
struct IssueLines {
    begin: usize,
    end: usize,
}

impl<'a> Issue<'a> {
    fn new(found: &'a Found) -> Self {
        let diagnostic = &found.diagnostic;
        let place = &diagnostic.place;
        Self {
            description: words(diagnostic),
            check_name: &diagnostic.code,
            fingerprint: fingerprint(found),
            severity: match diagnostic.level {
                Level::Error => "major",
                Level::Warning => "minor",
                Level::Note => "info",
            },
            location: IssueLocation {
                path: plain_path(&place.file),
                lines: IssueLines {
                    begin: place.from.line,
                    end: place.to.line,
                },
            },
        }
    }
}
