//! Waivers in comments: `# ringrule: waive RULE [until DAY] because REASON`, on
//! the line of the value or on its own above it.

use std::sync::Arc;

use jiff::civil::Date;
use thiserror::Error;

use super::Rule;
use crate::document::{Document, Node, Place, Span, Value, budget, nearest};

/// What begins a comment that is meant for this program.
const MARK: &str = "ringrule:";

/// A waiver of one rule at one line of a file.
#[derive(Clone, Debug)]
pub struct Waiver {
    /// The rule.
    pub code: &'static str,
    /// Why.
    pub because: String,
    /// The last day on which it holds.
    pub until: Option<Date>,
    /// The comment.
    pub place: Place,
    /// The line that it is for, from 1.
    pub line: usize,
    /// Whether it covered a finding.
    pub used: bool,
}

/// A comment that was meant as a waiver and is none.
#[derive(Clone, Debug)]
pub struct Malformed {
    /// What is wrong with it.
    pub fault: WaiverFault,
    /// The comment.
    pub(crate) span: Span,
}

/// What is wrong with a comment that was meant as a waiver.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum WaiverFault {
    /// It does not begin with `waive`.
    #[error("this comment to ringrule does not say what to do")]
    NoVerb,
    /// No rule follows.
    #[error("this waiver names no rule")]
    NoRule,
    /// There is no such rule.
    #[error("there is no rule `{0}` that could be waived")]
    UnknownRule(String),
    /// What follows `until` is not a day.
    #[error("`{0}` is not a day")]
    NotADay(String),
    /// No reason is given.
    #[error("this waiver gives no reason")]
    NoReason,
    /// There are more comments to this program than it reads.
    #[error("the file has more than {} comments to ringrule", budget::COMMENTS)]
    TooMany,
}

impl WaiverFault {
    /// What to write instead.
    pub fn remedy(&self) -> String {
        if let Self::UnknownRule(code) = self {
            let known: Vec<&str> = Rule::ALL.iter().map(|rule| rule.code).collect();
            return nearest(code, &known);
        }
        if *self == Self::TooMany {
            return "put right what so many findings are about, or set the level of the rule in \
                    ringrule.yaml"
                .to_owned();
        }
        "write `# ringrule: waive RULE because REASON`, or `… waive RULE until 2027-03-01 \
         because REASON`"
            .to_owned()
    }
}

/// The waivers of a file, and what could not be understood.
pub(crate) fn waivers(document: &Arc<Document>) -> (Vec<Waiver>, Vec<Malformed>) {
    let text = document.source.text();
    let (mut waivers, mut malformed) = (Vec::new(), Vec::new());
    // Most files have none, and are not looked through line by line.
    if !text.contains(MARK) {
        return (waivers, malformed);
    }
    let mut start = 0;
    let lines: Vec<(usize, &str)> = text
        .split_inclusive('\n')
        .map(|line| {
            let at = start;
            start += line.len();
            (at, line)
        })
        .collect();
    // From below: the next line that holds more than a comment.
    let mut below = vec![None; lines.len()];
    let mut next = None;
    for (index, (_, line)) in lines.iter().enumerate().rev() {
        if let Some(place) = below.get_mut(index) {
            *place = next;
        }
        let line = line.trim();
        if !line.is_empty() && !line.starts_with('#') {
            next = Some(index);
        }
    }
    for ((index, &(at, line)), below) in lines.iter().enumerate().zip(below) {
        let Some((offset, words)) = comment(line) else {
            continue;
        };
        let span = Span {
            start: at + offset,
            end: at + line.trim_end().len(),
        };
        if waivers.len() + malformed.len() >= budget::COMMENTS {
            let fault = WaiverFault::TooMany;
            malformed.push(Malformed { fault, span });
            break;
        }
        // A text may contain what looks like a comment.
        if in_scalar(&document.root, span.start) {
            continue;
        }
        let alone = line
            .get(..offset)
            .is_some_and(|before| before.trim().is_empty());
        let target = below.filter(|_| alone).unwrap_or(index);
        match parse(words) {
            Ok((code, until, because)) => waivers.push(Waiver {
                code,
                because,
                until,
                place: Place::in_document(document, span),
                line: target + 1,
                used: false,
            }),
            Err(fault) => malformed.push(Malformed { fault, span }),
        }
    }
    (waivers, malformed)
}

/// Where a comment for this program begins in a line, and what follows the
/// mark.
fn comment(line: &str) -> Option<(usize, &str)> {
    line.match_indices('#').find_map(|(at, _)| {
        let before = line.get(..at)?;
        // A number sign within a word begins no comment (YAML 1.2, 6.6).
        if !(before.is_empty() || before.ends_with([' ', '\t'])) {
            return None;
        }
        let rest = line.get(at + 1..)?.trim_start().strip_prefix(MARK)?;
        Some((at, rest.trim()))
    })
}

fn in_scalar(node: &Node, byte: usize) -> bool {
    let inside = |span: Span| span.start <= byte && byte < span.end;
    match &node.value {
        Value::Map(entries) => entries
            .iter()
            .any(|entry| inside(entry.key_span) || in_scalar(&entry.value, byte)),
        Value::List(items) => items.iter().any(|item| in_scalar(item, byte)),
        _ => inside(node.span),
    }
}

type Parsed = (&'static str, Option<Date>, String);

fn parse(words: &str) -> Result<Parsed, WaiverFault> {
    let (verb, rest) = split(words);
    if verb != "waive" {
        return Err(WaiverFault::NoVerb);
    }
    let (code, rest) = split(rest);
    let Some(rule) = Rule::find(code) else {
        return Err(if code.is_empty() {
            WaiverFault::NoRule
        } else {
            WaiverFault::UnknownRule(code.to_owned())
        });
    };
    let (mut word, mut rest) = split(rest);
    let mut until = None;
    if word == "until" {
        let (day, after) = split(rest);
        let date = day.parse::<Date>().ok();
        until = date.filter(|date| date.to_string() == day);
        if until.is_none() {
            return Err(WaiverFault::NotADay(day.to_owned()));
        }
        (word, rest) = split(after);
    }
    if word != "because" || rest.is_empty() {
        return Err(WaiverFault::NoReason);
    }
    Ok((rule.code, until, rest.to_owned()))
}

fn split(words: &str) -> (&str, &str) {
    let (first, rest) = words.split_once(char::is_whitespace).unwrap_or((words, ""));
    (first, rest.trim_start())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Source, parse as parse_yaml};

    fn read(text: &str) -> (Vec<Waiver>, Vec<Malformed>) {
        let document = parse_yaml(Source::new("a.yaml", text)).expect("YAML");
        waivers(&Arc::new(document))
    }

    #[test]
    fn a_waiver_is_for_its_own_line_or_the_next_that_says_something() {
        let (found, malformed) = read(
            "a: 1 # ringrule: waive missing-date because lost\n\
             # ringrule: waive unit-mixed until 2027-03-01 because two callipers\n\
             # another comment\n\n\
             b: \"# ringrule: waive nothing\"\n",
        );
        assert!(malformed.is_empty(), "{malformed:?}");
        let lines: Vec<_> = found.iter().map(|w| (w.code, w.line)).collect();
        assert_eq!(lines, [("missing-date", 1), ("unit-mixed", 5)]);
        assert_eq!(
            found[1].until.map(|day| day.to_string()),
            Some("2027-03-01".into())
        );
        assert_eq!(found[1].because, "two callipers");
    }

    #[test]
    fn what_is_meant_as_a_waiver_and_is_none_is_said() {
        for (comment, part) in [
            ("ignore", "what to do"),
            ("waive", "names no rule"),
            ("waive missing-dat because x", "no rule `missing-dat`"),
            ("waive missing-date", "no reason"),
            ("waive missing-date because", "no reason"),
            (
                "waive missing-date until soon because x",
                "`soon` is not a day",
            ),
        ] {
            let (found, malformed) = read(&format!("a: 1 # ringrule: {comment}\n"));
            assert!(found.is_empty(), "{comment}");
            assert!(
                malformed[0].fault.to_string().contains(part),
                "{comment}: {malformed:?}"
            );
        }
    }
}
