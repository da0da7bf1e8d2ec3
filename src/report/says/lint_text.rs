//! Findings on files, for a terminal.

use std::fmt::Write;

use crate::conformity::Verdict;
use crate::lint::{FilePlace, Finding, Level, Linted};
use crate::report::escape;
use crate::report::style::Style;

/// Every finding with its level first, as `validate` puts its verdicts, then a
/// line that counts them. Waived findings are listed only where that is asked
/// for, and always counted.
pub fn lint_text(linted: &Linted, with_waived: bool) -> String {
    let mut out = String::new();
    let shown = linted.findings();
    for finding in shown.filter(|finding| with_waived || finding.waived.is_none()) {
        one(&mut out, finding);
    }
    out.push_str(&summary(linted));
    out
}

fn one(out: &mut String, finding: &Finding) {
    let style = match finding.level {
        Level::Error => Style::Verdict(Verdict::DoesNotConform),
        Level::Warning => Style::Caution,
        Level::Note | Level::Ignore => Style::Faint,
    };
    // Writing into a string cannot fail.
    let _ = writeln!(
        out,
        "{}  {}",
        style.paint(finding.level),
        escape::terminal(&finding.message)
    );
    row(out, "stands", &whole_place(&finding.place));
    row(out, "rule", finding.code);
    match &finding.waived {
        Some(waived) => {
            let until = waived.until.map(|until| format!(" until {until}"));
            let until = until.unwrap_or_default();
            let place = whole_place(&waived.by);
            let words = format!("{}{until}, at {place}", waived.because);
            row(out, "waived", &words);
        }
        None if finding.remedy.is_empty() => {}
        None => row(out, "instead", &finding.remedy),
    }
    for related in &finding.related {
        let words = format!("{}  {}", whole_place(&related.place), related.label);
        row(out, "compare", &words);
    }
    out.push('\n');
}

/// A line under a finding; labels as wide as those of `validate`.
fn row(out: &mut String, label: &str, words: &str) {
    let label = format!("{label:<11}");
    let _ = writeln!(
        out,
        "    {}{}",
        Style::Faint.paint(label),
        escape::terminal(words)
    );
}

fn line_and_column(place: &FilePlace) -> String {
    format!("{}:{}", place.from.line, place.from.column)
}

fn whole_place(place: &FilePlace) -> String {
    format!("{}:{}", place.file, line_and_column(place))
}

fn summary(linted: &Linted) -> String {
    let count = |level| {
        let counting = linted.findings().filter(|finding| finding.waived.is_none());
        counting.filter(|finding| finding.level == level).count()
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
        "nothing to say".to_owned()
    } else {
        found.join(", ")
    };
    let files = some(linted.files.len(), "file").unwrap_or_else(|| "no file".to_owned());
    format!("{files}: {found}{waived}\n")
}
