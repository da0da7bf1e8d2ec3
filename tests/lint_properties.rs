//! What must hold of lint whatever a file holds.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;

use common::root;
use jiff::civil::date;
use proptest::prelude::*;
use ringrule::document::{Disk, Level, Source};
use ringrule::lint::{Input, Job, Levels, Linted, Options, lint};
use ringrule::report::{LintHead, TextLayout, lint_json, lint_text};

fn options() -> Options {
    Options {
        levels: Levels::default(),
        today: date(2026, 11, 25),
    }
}

fn text_job(name: &str, text: &str) -> Job {
    Job {
        input: Input::Text(Box::new(Source::new(name, text))),
        settings: Arc::default(),
    }
}

/// All small files of the project, as name and text.
fn corpus() -> Vec<(String, String)> {
    let mut files = Vec::new();
    let mut folders: Vec<PathBuf> = vec![root().join("specs"), root().join("tolerances")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).expect("a folder") {
            let path = entry.expect("readable").path();
            let known = path.extension().is_some_and(|e| e == "yaml" || e == "csv");
            if path.is_dir() {
                folders.push(path);
            } else if known && let Ok(text) = fs::read_to_string(&path) {
                files.push((path.display().to_string(), text));
            }
        }
    }
    files.sort();
    assert!(files.len() > 40);
    files
}

fn in_bytes(linted: &Linted) -> (String, String) {
    let head = LintHead {
        on: date(2026, 11, 25),
        threshold: Level::Warning,
    };
    (
        lint_text(linted, true, TextLayout::default().coloured(true)),
        lint_json(linted, &head).expect("JSON"),
    )
}

#[test]
fn the_number_of_threads_changes_no_byte() {
    let jobs: Vec<Job> = corpus()
        .iter()
        .map(|(name, _)| Job {
            input: Input::File(PathBuf::from(name)),
            settings: Arc::default(),
        })
        .collect();
    let run = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
        in_bytes(
            &pool
                .expect("threads")
                .install(|| lint(&jobs, &options(), &Disk)),
        )
    };
    let alone = run(1);
    for threads in [2, 5] {
        assert!(run(threads) == alone, "{threads} threads");
    }
}

/// What was found in each file, whatever the order of the files.
fn by_file(linted: &Linted) -> Vec<String> {
    let mut lines: Vec<String> = linted
        .findings()
        .map(|finding| {
            let found = &finding.diagnostic;
            let place = &found.place;
            format!(
                "{} {:?} {} {}",
                place.file, place.span, found.code, found.message
            )
        })
        .collect();
    lines.sort();
    lines
}

#[test]
fn the_order_of_files_changes_no_finding() {
    let files = corpus();
    let mut jobs: Vec<Job> = files
        .iter()
        .map(|(name, text)| text_job(name, text))
        .collect();
    let forwards = by_file(&lint(&jobs, &options(), &Disk));
    jobs.reverse();
    assert_eq!(by_file(&lint(&jobs, &options(), &Disk)), forwards);
}

fn sound(name: &str, text: &str) {
    let linted = lint(&[text_job(name, text)], &options(), &Disk);
    for finding in linted.findings() {
        let found = &finding.diagnostic;
        let related = found.related.iter().map(|related| &related.place);
        for place in std::iter::once(&found.place).chain(related) {
            // An extended table has a text of its own.
            if &*place.file == name {
                assert!(place.span.start <= place.span.end, "{finding:?}");
                assert!(place.span.end <= text.len(), "{finding:?}");
            }
        }
    }
    let (text, json) = in_bytes(&linted);
    assert!(!text.is_empty());
    serde_json::from_str::<serde_json::Value>(&json).expect("JSON");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn arbitrary_text_is_survived(text in ".{0,400}") {
        sound("any.yaml", &text);
        sound("any.csv", &format!("item,reading 1\n{text}"));
    }

    #[test]
    fn arbitrary_bytes_are_survived(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        if let Ok(source) = Source::from_reader(&bytes[..], "any.yaml") {
            sound("any.yaml", source.text());
        }
    }

    #[test]
    fn mutated_files_are_survived(
        file in any::<prop::sample::Index>(),
        at in any::<prop::sample::Index>(),
        length in 0_usize..30,
        with in prop::sample::select(vec!["", "0", "9", ".", " ", "\n", "\t", "{", "]", "\"", "# ringrule: waive x", "é", "~", "- ", "&a *a"]),
    ) {
        let files = corpus();
        let (name, text) = file.get(&files);
        let chars: Vec<char> = text.chars().collect();
        let at = at.index(chars.len().max(1));
        let mut mutated: String = chars.iter().take(at).collect();
        mutated.push_str(with);
        mutated.extend(chars.iter().skip(at + length));
        sound(name, &mutated);
    }
}
