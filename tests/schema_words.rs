//! Every schema speaks the words that language servers and strict validators
//! understand. What they do with them is tried with such programs elsewhere; here,
//! that no schema falls back.
#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod common;

use std::collections::BTreeSet;

use common::root;
use ringrule::document::EXTRA_KEYWORDS;
use serde_json::Value;

fn schemas() -> Vec<(String, Value)> {
    let mut all = Vec::new();
    for folder in ["specs", "tolerances"] {
        for entry in std::fs::read_dir(root().join(folder)).expect("a folder") {
            let path = entry.expect("readable").path();
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            if name.ends_with(".schema.json") {
                let text = std::fs::read_to_string(&path).expect("text");
                all.push((name, serde_json::from_str(&text).expect("JSON")));
            }
        }
    }
    // Thirteen formats have a committed schema each.
    assert_eq!(all.len(), 13);
    all
}

/// Every schema within a schema, with its path: names below `properties` and
/// `$defs`, examples and lists of words are none.
fn each(schema: &Value, path: &str, look: &mut dyn FnMut(&str, &Value)) {
    match schema {
        Value::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                each(item, &format!("{path}/{index}"), look);
            }
        }
        Value::Object(map) => {
            look(path, schema);
            for (key, child) in map {
                let here = format!("{path}/{key}");
                match (key.as_str(), child) {
                    ("properties" | "$defs", Value::Object(named)) => {
                        for (name, child) in named {
                            each(child, &format!("{here}/{name}"), look);
                        }
                    }
                    (
                        "examples" | "enum" | "const" | "dependentRequired" | "defaultSnippets",
                        _,
                    ) => {}
                    (_, child) => each(child, &here, look),
                }
            }
        }
        _ => {}
    }
}

/// An editor inserts no words, and not even the colon behind the key, for a `oneOf`
/// of constants; it does for a list with a type, and explains each word.
#[test]
fn a_choice_of_words_is_a_list_with_its_type_and_meanings() {
    let mut lists = 0;
    for (name, schema) in schemas() {
        each(&schema, "", &mut |path, part| {
            for key in ["oneOf", "anyOf"] {
                let options = part.get(key).and_then(Value::as_array);
                let constants = options.into_iter().flatten();
                let constants = constants.filter(|o| o.get("const").is_some());
                assert_eq!(constants.count(), 0, "{name}{path}");
            }
            let Some(words) = part.get("enum").and_then(Value::as_array) else {
                return;
            };
            lists += 1;
            assert_eq!(part["type"], "string", "{name}{path}");
            if let Some(meanings) = part.get("markdownEnumDescriptions") {
                let meanings = meanings.as_array().expect("a list");
                assert_eq!(meanings.len(), words.len(), "{name}{path}");
                let silent = meanings
                    .iter()
                    .filter(|m| m.as_str().is_none_or(str::is_empty));
                assert_eq!(silent.count(), 0, "{name}{path}");
            }
        });
    }
    assert!(lists > 30, "{lists}");
}

/// Where a key takes a value or a group, what is shown is the key's description.
#[test]
fn alternatives_do_not_describe_themselves() {
    for (name, schema) in schemas() {
        each(&schema, "", &mut |path, part| {
            for option in part
                .get("anyOf")
                .and_then(Value::as_array)
                .into_iter()
                .flatten()
            {
                assert!(option.get("description").is_none(), "{name}{path}");
            }
            let text = part
                .get("description")
                .and_then(Value::as_str)
                .unwrap_or("");
            let broken = text.replace("\n\n", "").contains('\n');
            assert!(!broken, "{name}{path}: a line ends within a paragraph");
        });
    }
}

/// The keywords of draft 2020-12 that we use, and those of ours that are named in
/// `EXTRA_KEYWORDS`; formats are left to `type`, `minimum` and `pattern`.
#[test]
fn no_schema_has_keywords_or_formats_that_a_strict_validator_does_not_know() {
    let known = BTreeSet::from([
        "$defs",
        "$ref",
        "$schema",
        "additionalProperties",
        "allOf",
        "anyOf",
        "const",
        "dependentRequired",
        "description",
        "else",
        "enum",
        "examples",
        "exclusiveMinimum",
        "if",
        "items",
        "maxItems",
        "maximum",
        "minItems",
        "minimum",
        "not",
        "oneOf",
        "pattern",
        "prefixItems",
        "properties",
        "propertyNames",
        "required",
        "then",
        "title",
        "type",
    ]);
    for (name, schema) in schemas() {
        each(&schema, "", &mut |path, part| {
            for key in part.as_object().expect("an object").keys() {
                let ours = EXTRA_KEYWORDS.contains(&key.as_str());
                assert!(
                    ours || known.contains(key.as_str()),
                    "{name}{path}: `{key}`"
                );
            }
        });
    }
}
