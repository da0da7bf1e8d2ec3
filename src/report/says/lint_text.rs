//! Findings on files, for a terminal.

use crate::document::Level;
use crate::lint::{Finding, Linted};
use crate::report::diagnostic_text::{draw, line};
use crate::report::page::TextLayout;

/// Findings that are drawn with their lines; the rest has a line each. House
/// rule: more than a person looks at in one go.
const MOST_DRAWN: usize = 100;

/// Every finding with its lines, then a line that counts them. Waived findings
/// are shown only where that is asked for, and always counted. Needs the
/// feature `cli`.
pub fn lint_text(linted: &Linted, with_waived: bool, layout: TextLayout) -> String {
    let mut out = String::new();
    let shown = linted.findings();
    let shown = shown.filter(|finding| with_waived || finding.waived.is_none());
    for (index, finding) in shown.enumerate() {
        if index < MOST_DRAWN {
            draw(&mut out, &finding.diagnostic, &waived(finding), layout);
        } else {
            line(&mut out, &finding.diagnostic);
        }
    }
    out.push_str(&summary(linted));
    out
}

/// Who waived a finding, if somebody did.
fn waived(finding: &Finding) -> Vec<String> {
    let words = finding.waived.iter().map(|waived| {
        let until = waived.until.map(|until| format!(" until {until}"));
        let until = until.unwrap_or_default();
        format!("waived{until}: {} ({})", waived.because, waived.by)
    });
    words.collect()
}

fn summary(linted: &Linted) -> String {
    let count = |level| {
        let counting = linted.findings().filter(|finding| finding.waived.is_none());
        counting
            .filter(|finding| finding.diagnostic.level == level)
            .count()
    };
    let waived = linted.findings().filter(|finding| finding.waived.is_some());
    let waived = match waived.count() {
        0 => String::new(),
        waived => format!("; {waived} waived"),
    };
    let some = |count: usize, one: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {one}s")),
    };
    let found = [
        some(count(Level::Error), "error"),
        some(count(Level::Warning), "warning"),
        some(count(Level::Note), "note"),
    ];
    let found: Vec<String> = found.into_iter().flatten().collect();
    let found = if found.is_empty() {
        "nothing found".to_owned()
    } else {
        found.join(", ")
    };
    let files = some(linted.files.len(), "file").unwrap_or_else(|| "no file".to_owned());
    format!("{files}: {found}{waived}\n")
}
