//! Nothing that the program takes is refused by the printed schemas, and of what it
//! refuses, as little as possible meets them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::path::{Path, PathBuf};

use common::root;
use common::schemas::{json_of, validator};
use jsonschema::Validator;
use ringrule::board::Board;
use ringrule::document::{FileKind, Node, Source, Value as Tree, parse};
use ringrule::event::Event;
use ringrule::lint::Settings;
use ringrule::table::{Table, shelf_of};
use serde_json::Value;

fn yaml_below(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("readable").path();
        if path.is_dir() {
            yaml_below(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            found.push(path);
        }
    }
    found.sort();
}

/// The kind of a file that the program takes as it stands.
fn accepted(path: &Path, text: &str) -> Option<FileKind> {
    let source = || Source::new(path.display().to_string(), text);
    let kind = text
        .lines()
        .find_map(|line| line.strip_prefix("format: ringrule/"))?;
    match kind.split('/').next()? {
        "board" => Board::read(source()).is_ok().then_some(FileKind::Board),
        "table" => Table::read(source(), &shelf_of(path))
            .is_ok()
            .then_some(FileKind::Table),
        "event" => Event::read(source()).is_ok().then_some(FileKind::Event),
        "settings" => Settings::read(source())
            .is_ok()
            .then_some(FileKind::Settings),
        _ => None,
    }
}

fn said(validator: &Validator, tree: &Value) -> Vec<String> {
    let errors = validator.iter_errors(tree);
    errors
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect()
}

#[test]
fn every_file_that_the_program_takes_meets_its_schema() {
    let mut files = Vec::new();
    for folder in ["specs", "tolerances", "tests/fixtures"] {
        yaml_below(&root().join(folder), &mut files);
    }
    let mut seen = [0; 4];
    for path in &files {
        let Ok(text) = std::fs::read_to_string(path) else {
            continue;
        };
        let Some(kind) = accepted(path, &text) else {
            let broken = path.components().any(|part| part.as_os_str() == "broken");
            assert!(broken, "{} is not accepted", path.display());
            continue;
        };
        let document = parse(Source::new(path.display().to_string(), text)).expect("read before");
        let errors = said(&validator(kind), &json_of(&document.root));
        assert!(errors.is_empty(), "{}: {errors:?}", path.display());
        let kinds = [
            FileKind::Board,
            FileKind::Table,
            FileKind::Event,
            FileKind::Settings,
        ];
        let index = kinds
            .iter()
            .position(|own| *own == kind)
            .expect("one of four");
        seen[index] += 1;
    }
    // 14 boards of the demo, 11 of the season, one by areas, two fixtures; three
    // tables; an event; settings of the demo and of the season.
    assert!(
        seen[0] >= 28 && seen[1] >= 3 && seen[2] >= 1 && seen[3] >= 2,
        "{seen:?}"
    );
}

/// Values as people write them, sound and unsound, of every notation.
const VALUES: [&str; 58] = [
    "16",
    "0.5",
    "107.0",
    "-0.2",
    "0",
    "1e3",
    "451",
    "2000",
    "\"107.0\"",
    "\"\"",
    "8.0 mm",
    "8mm",
    "0.315 in",
    "5/16 in",
    "6 5/16 in",
    "7/0 in",
    "-0.2 mm",
    "- 3 mm",
    "1,5 mm",
    "10.7 cm",
    "8 MM",
    "16 SWG",
    "16swg",
    "2/0 Swg",
    "51 SWG",
    "50 swg",
    "40 AWG",
    "41 AWG",
    "36 bwg",
    "16 gauge",
    "242 mm²",
    "0.375 in2",
    "3 mm",
    "27 °C",
    "80.5F",
    "1 K",
    "11.5e-6 /K",
    "11.5 ppm/K",
    "11.5 /K",
    "0.0000115 /K",
    "30 %",
    "100%",
    "130 %",
    "0.5 %",
    "75 1/2 %",
    "lost",
    "glances",
    "Lost",
    "45°",
    "20",
    "21",
    "45 degrees",
    "18 deg",
    "\"2026-11-14\"",
    "\"2026-02-30\"",
    "\"2026-11-4\"",
    "none",
    "any",
];

fn leaves(node: &Node, found: &mut Vec<std::ops::Range<usize>>) {
    match &node.value {
        Tree::List(items) => items.iter().for_each(|item| leaves(item, found)),
        Tree::Map(entries) => entries.iter().for_each(|entry| leaves(&entry.value, found)),
        _ => found.push(node.span.start..node.span.end),
    }
}

/// Every value of real files in the place of every other: whatever the program still
/// takes, the schema takes.
#[test]
fn no_value_is_refused_that_the_program_takes() {
    let files = [
        "specs/demo/01-round-to-rule.yaml",
        "specs/demo/14-uneven-treble.yaml",
        "specs/areas/fl-31.yaml",
        "tests/fixtures/board-warm.yaml",
        "tolerances/wdf.yaml",
        "tolerances/fenwick-lane-places.yaml",
        "specs/events/fenwick-lane-autumn.yaml",
        "specs/season/ringrule.yaml",
    ];
    let (mut taken, mut refused, mut seen) = (0, 0, 0);
    for file in files {
        let path = root().join(file);
        let text = std::fs::read_to_string(&path).expect("text");
        let kind = accepted(&path, &text).expect("a good file");
        let validator = validator(kind);
        let document = parse(Source::new(file, text.clone())).expect("sound");
        let mut places = Vec::new();
        leaves(&document.root, &mut places);
        for place in places {
            for value in VALUES {
                let mut changed = text.clone();
                changed.replace_range(place.clone(), value);
                let Ok(tree) = parse(Source::new(file, changed.clone())) else {
                    continue;
                };
                let errors = said(&validator, &json_of(&tree.root));
                if accepted(&path, &changed).is_some() {
                    taken += 1;
                    assert!(
                        errors.is_empty(),
                        "{file}: `{value}`: {errors:?}\n{changed}"
                    );
                } else {
                    refused += 1;
                    seen += usize::from(!errors.is_empty());
                }
            }
        }
    }
    assert!(taken > 2_000, "{taken}");
    // Measured: what the schema leaves to the readers hangs on other values of the
    // file, such as its units.
    let share = f64::from(u32::try_from(seen).expect("few")) / f64::from(refused);
    assert!(share > 0.9, "{seen} of {refused}");
}

/// What a schema cannot say of a broken file, by the file's name.
const BEYOND_A_SCHEMA: [(&str, &str); 7] = [
    (
        "offset-and-places",
        "a key is one too many only if every reading of another says where it was taken",
    ),
    (
        "rings-out-of-order",
        "a value is compared with that of another key",
    ),
    (
        "tables/bare-number",
        "whether a number may stand without a unit follows from a key far above it",
    ),
    ("tables/extends-itself", "another file has to be opened"),
    ("tables/extends-missing", "another file has to be opened"),
    ("tables/extends-outside", "a path has to be followed"),
    (
        "tables/limits-inverted",
        "a gauge is compared with that of another key",
    ),
];

/// What another reader of YAML says itself, or reads as something else: the tree that
/// a schema sees is not the file.
const BEFORE_A_SCHEMA: [&str; 11] = [
    "decimal-comma",
    "duplicate-key",
    "merge-key",
    "nested-too-deep",
    "not-utf8",
    "number-not-a-number",
    "number-too-large",
    "number-with-leading-zero",
    "several-documents",
    "syntax-open-bracket",
    "tag",
];

/// Of the broken files, which ones the schema alone catches.
#[test]
fn broken_files_are_caught_by_the_schema_alone_where_one_can() {
    let (mut caught, mut beyond, mut before) = (Vec::new(), Vec::new(), Vec::new());
    let mut files = Vec::new();
    yaml_below(&root().join("specs/broken"), &mut files);
    for path in files {
        let folder = path.parent().and_then(Path::file_name).expect("a folder");
        let kind = match folder.to_string_lossy().as_ref() {
            "tables" => FileKind::Table,
            "events" => FileKind::Event,
            _ => FileKind::Board,
        };
        let name = path
            .strip_prefix(root().join("specs/broken"))
            .expect("below");
        let name = name.with_extension("").display().to_string();
        let text = std::fs::read_to_string(&path).ok();
        match text.and_then(|text| parse(Source::new(name.clone(), text)).ok()) {
            None => before.push(name),
            Some(tree) if validator(kind).is_valid(&json_of(&tree.root)) => beyond.push(name),
            Some(_) => caught.push(name),
        }
    }
    // Of 36 broken boards, 25 have a tree that a schema can look at.
    let boards = caught.iter().filter(|name| !name.contains('/')).count();
    assert_eq!((boards, caught.len()), (23, 36), "{caught:?}");
    assert_eq!(beyond, BEYOND_A_SCHEMA.map(|(name, _)| name));
    assert_eq!(before, BEFORE_A_SCHEMA);
}
