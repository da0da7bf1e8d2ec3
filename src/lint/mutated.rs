//! Sound and faulty files changed at random: whatever comes of it is read or refused, never a
//! panic, every place lies in its file, and no diagnostic grows without bound.

use std::fs;
use std::path::Path;

use rayon::prelude::*;

use super::{Content, Levels, Settings, Subject, Thresholds, lint_file, tidy};
use crate::conformity::Judge;
use crate::document::{InvalidFile, Source};
use crate::random::Random;
use crate::report::{Detail, FindingsReport, TextLayout, board_text};
use crate::table::{BuiltIn, Table};

/// What is put into files: notations that readers differ about, and what ends things.
const PIECES: [&str; 48] = [
    "0x1F",
    "1_000",
    ".inf",
    "-.nan",
    "1e400",
    "1e-400",
    "-0",
    "+7",
    "7,5",
    "½",
    "１２",
    "16 SWG",
    "0 mm",
    "-8 mm",
    "3/0 in",
    "1/3 in",
    "5 %",
    "105 %",
    "~",
    "null",
    "yes",
    "[",
    "]",
    "{",
    "}",
    ": ",
    "- ",
    "? ",
    "&a ",
    "*a",
    "!!str ",
    "<<: *a",
    "# ringrule: waive x because y\n",
    "---\n",
    "...\n",
    "%YAML 1.2\n",
    "|\n",
    ">-\n",
    "\"",
    "'",
    "\t",
    "\r",
    "\u{feff}",
    "\u{85}",
    "\u{2028}",
    "\u{202e}",
    "\u{0}",
    "\u{1b}[2J",
];

/// Every text file in a folder and below.
fn texts(folder: &Path, all: &mut Vec<(String, String)>) {
    let mut entries: Vec<_> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            texts(&path, all);
            continue;
        }
        let kind = path.extension().and_then(|ending| ending.to_str());
        if let (Some("yaml" | "csv"), Ok(text)) = (kind, fs::read_to_string(&path)) {
            all.push((path.display().to_string(), text));
        }
    }
}

fn seeds() -> Vec<(String, String)> {
    let mut all = Vec::new();
    for folder in [
        "specs/demo",
        "specs/events",
        "specs/broken",
        "tolerances",
        "tests/fixtures",
    ] {
        texts(
            &Path::new(env!("CARGO_MANIFEST_DIR")).join(folder),
            &mut all,
        );
    }
    assert!(all.len() > 60, "{}", all.len());
    all
}

/// A place in a text between two characters.
fn place(text: &str, random: &mut Random) -> usize {
    let mut at = random.below(text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn range(text: &str, random: &mut Random) -> std::ops::Range<usize> {
    let from = place(text, random);
    // Most changes are small.
    let longest = [1, 2, 6, 200][random.below(4)];
    let mut to = (from + random.below(longest) + 1).min(text.len());
    while !text.is_char_boundary(to) {
        to += 1;
    }
    from..to
}

fn changed(seeds: &[(String, String)], random: &mut Random) -> (String, String) {
    let (name, mut text) = seeds[random.below(seeds.len())].clone();
    for _ in 0..=random.below(3) {
        let part = range(&text, random);
        let at = place(&text, random);
        match random.below(14) {
            0 => text.replace_range(part, ""),
            1 => text.insert_str(at, PIECES[random.below(PIECES.len())]),
            2 => text.replace_range(part, PIECES[random.below(PIECES.len())]),
            3 => {
                let again = text[part].to_owned();
                text.insert_str(at, &again);
            }
            4 => {
                let other = &seeds[random.below(seeds.len())].1;
                text.insert_str(at, &other[range(other, random)]);
            }
            5 => text.truncate(at),
            _ => {
                let digit = char::from(b'0' + u8::try_from(random.below(10)).expect("a digit"));
                let digits: Vec<usize> = text
                    .match_indices(|c: char| c.is_ascii_digit())
                    .map(|(at, _)| at)
                    .collect();
                if let Some(at) = digits.get(random.below(digits.len().max(1))) {
                    text.replace_range(*at..=*at, &digit.to_string());
                }
            }
        }
    }
    (name, text)
}

fn holds(invalid: &InvalidFile, text: &str) {
    let lines = text.split_inclusive('\n').count().max(1);
    assert!(!invalid.diagnostics.is_empty());
    for found in &invalid.diagnostics {
        let span = found.place.span;
        assert!(!found.message.is_empty());
        assert!(
            span.start <= span.end && span.end <= text.len(),
            "{found:?}"
        );
        assert!(found.place.from.line <= lines + 1, "{found:?}");
        assert!(found.message.chars().count() < 1000, "{}", found.message);
    }
}

/// Reads one, and does with it what commands do. Whether it could be read.
fn survives(name: &str, text: &str, table: &Table, judge: &Judge<'_>) -> bool {
    // What was tidied is tidy.
    if let Ok(Some(tidied)) = tidy(&Source::new(name, text)) {
        let again = tidy(&Source::new(name, &*tidied));
        assert!(matches!(again, Ok(None)), "{tidied}");
    }
    let subject = match Subject::read(Source::new(name, text), &(), Thresholds::default()) {
        Ok(subject) => subject,
        Err(invalid) => {
            let own = invalid.iter().filter(|own| own.file.name() == name);
            own.for_each(|own| holds(own, text));
            return false;
        }
    };
    let _ = lint_file(&subject, &Settings::default(), &Levels::default());
    match &subject.content {
        Content::Board(board) => {
            let found = judge.judge(board);
            let text = board_text(&found, Detail::Everything, TextLayout::default());
            assert!(
                text.contains("conclusive") || text.contains("conform"),
                "{text}"
            );
            let mut report = FindingsReport::new(Some(table));
            report.add(&found);
            assert!(report.to_json().is_ok());
        }
        Content::Table(own, _) => {
            let board = include_str!("../../tests/fixtures/board-r.yaml");
            let board = crate::board::Board::read(Source::new("r.yaml", board)).expect("a board");
            let _ = Judge::new(own).judge(&board);
        }
        _ => {}
    }
    true
}

/// How many of so many changed files could be read.
fn run(count: usize, seed: u64) -> usize {
    let seeds = seeds();
    let wdf = BuiltIn::ALL.first().expect("built in");
    let table = Table::read(wdf.source(), &()).expect("a table");
    let judge = Judge::new(&table);
    let each = (0..count).into_par_iter().map(|nth| {
        let mut random = Random::seeded(seed ^ (nth as u64).wrapping_mul(0x9E37_79B9));
        let (name, text) = changed(&seeds, &mut random);
        let survived = std::panic::catch_unwind(|| survives(&name, &text, &table, &judge));
        survived.unwrap_or_else(|_| panic!("{name}, changed ({nth}):\n{text}"))
    });
    each.filter(|read| *read).count()
}

#[test]
fn changed_files_are_read_or_refused() {
    let read = run(1_500, 1);
    // Both happen: neither is everything lost, nor nothing noticed.
    assert!((100..1_400).contains(&read), "{read}");
}

#[test]
#[ignore = "minutes: two hundred thousand files"]
#[allow(clippy::print_stdout, reason = "the figure is what is asked for")]
fn two_hundred_thousand_changed_files_are_read_or_refused() {
    let read = run(200_000, 2);
    assert!(
        (10_000..190_000).contains(&read),
        "{read} of 200,000 could be read"
    );
}
