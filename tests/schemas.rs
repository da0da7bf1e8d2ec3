//! The committed schemas are the generated ones, and real files meet them.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::{ringrule, root};

/// Formats of files that people write; the others are printed.
const FILES: [&str; 4] = ["board", "table", "event", "settings"];

const SCHEMAS: [(&str, &str); 13] = [
    ("board", "specs/board.schema.json"),
    ("table", "tolerances/table.schema.json"),
    ("event", "specs/event.schema.json"),
    ("settings", "specs/settings.schema.json"),
    ("findings", "specs/findings.schema.json"),
    ("report", "specs/report.schema.json"),
    ("comparison", "specs/comparison.schema.json"),
    ("areas-compared", "specs/areas-compared.schema.json"),
    ("history", "specs/history.schema.json"),
    ("leg", "specs/leg.schema.json"),
    ("lint", "specs/lint.schema.json"),
    ("lot", "specs/lot.schema.json"),
    ("record", "specs/record.schema.json"),
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
                // Conditions speak of keys that are explained where they are defined.
                for (key, child) in map.iter().filter(|(key, _)| *key != "allOf") {
                    walk(child, &format!("{path}/{key}"), silent);
                }
            }
            _ => {}
        }
    }
    for (_, path) in &SCHEMAS[..FILES.len()] {
        let schema: serde_json::Value = serde_json::from_str(&committed(path)).expect("JSON");
        let mut silent = Vec::new();
        walk(&schema, "", &mut silent);
        assert!(silent.is_empty(), "{path}: no description for {silent:?}");
    }
}

/// What a command prints meets the committed schema of its format.
fn meets(format: &str, arguments: &[&str]) {
    let committed = SCHEMAS.iter().find(|(name, _)| *name == format);
    let path = committed.expect("a committed schema").1;
    let schema: serde_json::Value = serde_json::from_str(&self::committed(path)).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a sound schema");
    let output = ringrule(arguments);
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(
        text.starts_with(&format!("{{\n  \"format\": \"ringrule/{format}/"))
            && text.ends_with("}\n"),
        "{arguments:?}: {text:.200}"
    );
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let errors: Vec<_> = validator
        .iter_errors(&json)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{arguments:?}: {errors:?}");
}

#[test]
fn printed_json_meets_its_own_schema() {
    for table in ["tolerances/wdf.yaml", "tolerances/fenwick-lane.yaml"] {
        let boards = ["validate", "specs/demo", "specs/broken", "--table", table];
        let more = [
            "--nominal",
            "staples",
            "--draws",
            "1000",
            "--format",
            "json",
        ];
        meets("findings", &[&boards[..], &more].concat());
    }
    let event = ["--event", "specs/events/fenwick-lane-autumn.yaml"];
    let table = ["--table", "tolerances/fenwick-lane.yaml"];
    let report = ["report", "specs/demo", "--format", "json"];
    meets("report", &[&report[..], &event, &table].concat());
    let boards = [
        "compare",
        "nominal:embedded",
        "nominal:staples",
        "specs/demo/01-round-to-rule.yaml",
    ];
    let wdf = ["--table", "tolerances/wdf.yaml", "--format", "json"];
    meets("comparison", &[&boards[..], &wdf].concat());
    let by_area = ["compare", "specs/demo/02-strip-to-rule.yaml"];
    let filled = ["specs/demo/08-half-measured.yaml", "--fill", "wdf"];
    meets("comparison", &[&by_area[..], &filled, &wdf].concat());
    let recorded = ["specs/areas/fl-31.yaml", "specs/demo/08-half-measured.yaml"];
    meets(
        "areas-compared",
        &[&by_area[..], &recorded, &wdf[2..]].concat(),
    );
    let ratios = ["--ratio", "treble=1.16±0.01", "--ratio", "double=1.14"];
    meets(
        "areas-compared",
        &[&by_area[..], &ratios, &wdf[2..]].concat(),
    );
    meets(
        "areas-compared",
        &[&by_area[..1], &ratios, &wdf[2..]].concat(),
    );
    meets(
        "lot",
        &[
            &["lot", "specs/demo", "--format", "json"][..],
            &["--table", "wdf"],
        ]
        .concat(),
    );
    meets(
        "lint",
        &["lint", "specs/demo", "specs/broken", "--format", "json"],
    );
}

/// What is said of a place in a file has the same keys, whether a reader, a rule
/// or a verdict says it.
#[test]
fn everything_said_of_a_place_is_the_same_record() {
    let json = |arguments: &[&str]| -> serde_json::Value {
        let output = ringrule(&[arguments, &["--format", "json"]].concat());
        serde_json::from_slice(&output.stdout).expect("JSON")
    };
    let all = |value: &serde_json::Value| value.as_array().expect("a list").clone();
    let table = ["--table", "tolerances/wdf.yaml"];
    let broken = "specs/broken/unknown-key.yaml";
    let judged = json(&[&["validate", "specs/demo", broken], &table[..]].concat());
    let mut said = all(&json(&["lint", "specs/demo", broken])["findings"]);
    said.extend(all(&judged["invalid_files"][0]["problems"]));
    let mut findings = 0;
    for board in all(&judged["boards"]) {
        let checks = [all(&board["limits"]), all(&board["bands"])].concat();
        for check in checks {
            let conforms = check["verdict"] == "conforms" || check["verdict"].is_null();
            assert_eq!(check["finding"].is_null(), conforms, "{check}");
            if !conforms {
                said.push(check["finding"].clone());
                findings += 1;
            }
        }
    }
    // Boards FL-03 to FL-05 and FL-07 to FL-09 of the invented demo.
    assert!(findings > 20, "{findings}");
    for one in &said {
        for key in ["code", "level", "message", "place", "related"] {
            assert!(!one[key].is_null(), "{key} in {one}");
        }
        let place = one["place"].as_object().expect("a place");
        let keys: Vec<&str> = place.keys().map(String::as_str).collect();
        for key in [
            "file",
            "line",
            "column",
            "end_line",
            "end_column",
            "start",
            "end",
        ] {
            assert!(keys.contains(&key), "{key} in {one}");
        }
    }
}

/// Everything that a printed format is made of is a record, and whatever has a
/// closed list of words lists them: a type of the engine that slips in does
/// neither.
#[test]
fn printed_formats_are_made_of_records_alone() {
    fn texts(schema: &serde_json::Value, found: &mut Vec<String>) {
        let properties = schema.get("properties").and_then(|p| p.as_object());
        for (key, property) in properties.into_iter().flatten() {
            if property.get("type").is_some_and(|t| t == "string") {
                found.push(key.clone());
            }
        }
    }
    // Keys whose values are one of a few words wherever they are printed.
    let closed = [
        "verdict",
        "band",
        "edge",
        "mounting",
        "profile",
        "measurand",
        "level",
        "provenance",
        "aim",
        "declared",
        "fitting",
        "kind",
    ];
    for (format, path) in SCHEMAS
        .into_iter()
        .filter(|(format, _)| !FILES.contains(format))
    {
        let schema: serde_json::Value = serde_json::from_str(&committed(path)).expect("JSON");
        let definitions = schema["$defs"].as_object().expect("definitions");
        for (name, definition) in definitions {
            // A generic record is numbered by its parameters.
            let plain = name.trim_end_matches(|c: char| c.is_ascii_digit());
            assert!(plain.ends_with("Record"), "{format}: `{name}` is no record");
            let mut free = Vec::new();
            texts(definition, &mut free);
            free.retain(|key| closed.contains(&key.as_str()));
            assert!(
                free.is_empty(),
                "{format}: {name} takes any text for {free:?}"
            );
        }
    }
}
