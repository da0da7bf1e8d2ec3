//! Every rule flags its failing example and not its passing one.

use jiff::civil::date;

use super::ALL;
use crate::document::Fault;
use crate::lint::{Levels, Options, lint_example};

#[test]
fn every_rule_flags_its_failing_example_and_nothing_in_its_passing_one() {
    let options = Options {
        levels: Levels::default(),
        today: date(2026, 11, 25),
    };
    let mut complaints = Vec::new();
    for rule in ALL {
        let codes = |example| {
            let linted = lint_example(example, &options);
            let counting = linted.findings().filter(|finding| finding.waived.is_none());
            counting
                .map(|finding| (finding.code, finding.message.clone()))
                .collect::<Vec<_>>()
        };
        let failing = codes(&rule.failing);
        if !failing.iter().any(|(code, _)| *code == rule.code) {
            complaints.push(format!("{} is not found: {failing:?}", rule.code));
        }
        // One pattern each: whatever else is found would need an explanation.
        // An expired waiver lets through what it waived.
        let others: Vec<_> = failing
            .iter()
            .filter(|(code, _)| *code != rule.code)
            .filter(|(code, _)| !(rule.code == "waiver-expired" && *code == "missing-date"))
            .collect();
        if !others.is_empty() {
            complaints.push(format!("{} fails with others: {others:?}", rule.code));
        }
        let passing = codes(&rule.passing);
        if !passing.is_empty() {
            complaints.push(format!("{} does not pass: {passing:?}", rule.code));
        }
    }
    assert!(complaints.is_empty(), "{}", complaints.join("\n"));
}

#[test]
fn codes_are_kebab_case_and_unique_and_documented() {
    let mut codes: Vec<&str> = ALL.iter().map(|rule| rule.code).collect();
    codes.extend(Fault::ALL.iter().map(|fault| fault.code()));
    let count = codes.len();
    codes.sort_unstable();
    codes.dedup();
    assert_eq!(codes.len(), count, "a code is used twice");
    for rule in ALL {
        assert!(
            rule.code
                .chars()
                .all(|c| c.is_ascii_lowercase() || c == '-'),
            "{}",
            rule.code
        );
        for text in [rule.summary, rule.flags, rule.matters, rule.source] {
            assert!(text.len() > 8, "{} is not documented", rule.code);
        }
        assert!(!rule.kinds.is_empty(), "{}", rule.code);
    }
}
