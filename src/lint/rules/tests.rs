//! Every rule flags its failing example and not its passing one.

use jiff::civil::date;

use super::ALL;
use crate::document::Fault;
use crate::lint::{Example, Levels, Options, lint_example};

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
                .map(|finding| {
                    (
                        finding.diagnostic.code.clone(),
                        finding.diagnostic.message.clone(),
                    )
                })
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

/// What a rule flags besides its one example. Each breaks one thing; all are
/// invented.
const ALSO: [(&str, Example); 6] = {
    const fn board(changes: &'static [(&'static str, &'static str)]) -> Example {
        Example::board("fl-03.yaml").with(changes)
    }
    [
        (
            "calibration-lapsed",
            board(&[("calibrated: \"2026-05-02\"", "calibrated: \"2026-12-02\"")]),
        ),
        (
            "diameter-for-radius",
            board(&[
                ("  treble_inner: { radius: 97.41, edge: outside }\n", ""),
                ("  treble_outer: { radius: 107.05, edge: outside }\n", ""),
                ("radius: 169.93", "diameter: 169.93"),
            ]),
        ),
        ("decimal-slipped", board(&[("97.41", "9.741")])),
        (
            "wire-unlike-profile",
            board(&[
                ("mounting: staples", "mounting: embedded"),
                ("rings: 16 SWG, sectors: 16 SWG", "rings: 0.5, sectors: 1.6"),
            ]),
        ),
        (
            "edge-mistaken",
            board(&[("107.05, edge: outside", "107.05, edge: apex")]),
        ),
        (
            "profile-unlike-mounting",
            board(&[("mounting: staples", "mounting: embedded\nprofile: round")]),
        ),
    ]
};

#[test]
fn every_way_in_which_a_rule_can_be_broken_is_found() {
    let options = Options {
        levels: Levels::default(),
        today: date(2026, 11, 25),
    };
    for (code, example) in ALSO {
        let linted = lint_example(&example, &options);
        let found = linted.findings().map(|finding| &*finding.diagnostic.code);
        let found: Vec<_> = found.collect();
        assert_eq!(found, [code], "{}", example.text());
    }
}

#[test]
fn every_change_of_an_example_has_its_one_place() {
    for rule in ALL {
        let examples = rule.failing.files().chain(rule.passing.files());
        for example in examples {
            for (from, _) in example.changes {
                let places = example.base.matches(from).count();
                assert_eq!(places, 1, "{}: {from:?} in {}", rule.code, example.base);
            }
        }
        assert_ne!(
            (
                rule.failing.name,
                rule.failing.files().map(Example::text).collect::<Vec<_>>()
            ),
            (
                rule.passing.name,
                rule.passing.files().map(Example::text).collect::<Vec<_>>()
            ),
            "{}",
            rule.code
        );
    }
}
