//! Findings on files, for a terminal.

use std::fmt::Write;

use super::{Style, escape};
use crate::conformity::Verdict;
use crate::lint::{FilePlace, Finding, Level, Linted};

/// Columns of a place, so that messages begin below one another in most files.
const PLACE_WIDTH: usize = 7;

/// Every finding under its file, then a line that counts them. Waived findings
/// are listed only where that is asked for, and always counted.
pub fn lint_text(linted: &Linted, with_waived: bool) -> String {
    let mut out = String::new();
    let mut file: Option<&str> = None;
    let shown = linted.findings();
    for finding in shown.filter(|finding| with_waived || finding.waived.is_none()) {
        if file != Some(&*finding.place.file) {
            let gap = if file.is_some() { "\n" } else { "" };
            let name = escape::terminal(&finding.place.file).into_owned();
            // Writing into a string cannot fail.
            let _ = writeln!(out, "{gap}{}", Style::Strong.paint(name));
            file = Some(&*finding.place.file);
        }
        one(&mut out, finding);
    }
    if file.is_some() {
        out.push('\n');
    }
    out.push_str(&summary(linted));
    out
}

fn one(out: &mut String, finding: &Finding) {
    let style = match finding.level {
        Level::Fault => Style::Verdict(Verdict::DoesNotConform),
        Level::Doubt => Style::Caution,
        Level::Remark | Level::Ignore => Style::Faint,
    };
    let place = format!("{:>PLACE_WIDTH$}", line_and_column(&finding.place));
    let code = format!("({})", finding.code);
    let _ = writeln!(
        out,
        "{}  {}  {} {}",
        Style::Faint.paint(place),
        style.paint(format!("{:<6}", finding.level)),
        escape::terminal(&finding.message),
        Style::Faint.paint(code),
    );
    let margin = " ".repeat(PLACE_WIDTH + 10);
    if let Some(waived) = &finding.waived {
        let until = waived.until.map(|until| format!(" until {until}"));
        let _ = writeln!(
            out,
            "{margin}waived{} at {}: {}",
            until.unwrap_or_default(),
            escape::terminal(&whole_place(&waived.by)),
            escape::terminal(&waived.because)
        );
        return;
    }
    if !finding.remedy.is_empty() {
        let _ = writeln!(out, "{margin}{}", escape::terminal(&finding.remedy));
    }
    for related in &finding.related {
        let place = if related.place.file == finding.place.file {
            line_and_column(&related.place)
        } else {
            whole_place(&related.place)
        };
        let line = format!("{place}: {}", related.label);
        let line = escape::terminal(&line).into_owned();
        let _ = writeln!(out, "{margin}{}", Style::Faint.paint(line));
    }
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
        some(count(Level::Fault), "fault"),
        some(count(Level::Doubt), "doubt"),
        some(count(Level::Remark), "remark"),
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
