//! The committed schemas are the generated ones, and real files meet them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{ringrule, root};

const SCHEMAS: [(&str, &str); 6] = [
    ("board", "specs/board.schema.json"),
    ("table", "tolerances/table.schema.json"),
    ("event", "specs/event.schema.json"),
    ("findings", "specs/findings.schema.json"),
    ("report", "specs/report.schema.json"),
    ("comparison", "specs/comparison.schema.json"),
];

fn committed(path: &str) -> String {
    std::fs::read_to_string(root().join(path)).expect("the schema is there")
}

#[test]
fn committed_schemas_are_current() {
    for (format, path) in SCHEMAS {
        let output = ringrule(&["schema", format]);
        let printed = String::from_utf8(output.stdout).expect("text");
        assert!(
            printed == committed(path),
            "{path} is stale: run `cargo run -- schema {format} > {path}`"
        );
    }
}

#[test]
fn every_key_of_a_file_format_is_explained() {
    fn walk(schema: &serde_json::Value, path: &str, silent: &mut Vec<String>) {
        let properties = schema.get("properties").and_then(|p| p.as_object());
        for (key, property) in properties.into_iter().flatten() {
            let described = property.get("description").and_then(|d| d.as_str());
            if described.is_none_or(|text| text.len() < 8) {
                silent.push(format!("{path}/{key}"));
            }
        }
        match schema {
            serde_json::Value::Array(items) => {
                for item in items {
                    walk(item, path, silent);
                }
            }
            serde_json::Value::Object(map) => {
                for (key, child) in map {
                    walk(child, &format!("{path}/{key}"), silent);
                }
            }
            _ => {}
        }
    }
    for (_, path) in &SCHEMAS[..3] {
        let schema: serde_json::Value = serde_json::from_str(&committed(path)).expect("JSON");
        let mut silent = Vec::new();
        walk(&schema, "", &mut silent);
        assert!(silent.is_empty(), "{path}: no description for {silent:?}");
    }
}

#[test]
fn findings_meet_their_own_schema() {
    let schema: serde_json::Value =
        serde_json::from_str(&committed("specs/findings.schema.json")).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a sound schema");
    for table in ["tolerances/wdf.yaml", "tolerances/fenwick-lane.yaml"] {
        let paths = ["validate", "specs/demo", "specs/broken", "--table", table];
        let output = ringrule(&[&paths[..], &["--format", "json"]].concat());
        let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        let errors: Vec<_> = validator
            .iter_errors(&json)
            .map(|e| e.to_string())
            .collect();
        assert!(errors.is_empty(), "{table}: {errors:?}");
    }
}
