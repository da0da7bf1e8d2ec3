//! A schema in the words that editors and strict validators understand.
//!
//! What `schemars` derives is right and says everything, but editors offer no
//! words from a `oneOf` of constants, explain an alternative in place of the key
//! that has it, and strict validators refuse formats of numbers that JSON Schema
//! does not know. All of that is put right here, for every format at once.

use std::collections::{BTreeMap, BTreeSet};

use schemars::Schema;
use serde_json::{Map, Value as Json};

/// Keywords of ours that are none of JSON Schema's: language servers read them,
/// and validators pass over what they do not know.
pub const EXTRA_KEYWORDS: [&str; 4] = [
    "defaultSnippets",
    "markdownDescription",
    "markdownEnumDescriptions",
    "patternErrorMessage",
];

/// Where a type keeps what only the printed schema says. The structure that files
/// are read by goes without it: there the readers say what is wrong, and with what
/// remedy.
const ASIDE: &str = "x-for-editors";

/// Adds keywords for the printed schema alone.
pub(crate) fn add(schema: &mut Schema, keywords: Json) {
    let aside = schema.ensure_object().entry(ASIDE);
    let aside = aside.or_insert_with(|| Json::Object(Map::new()));
    if let (Json::Object(aside), Json::Object(keywords)) = (aside, keywords) {
        aside.extend(keywords);
    }
}

/// The printed schema, with what types keep for it.
pub(super) fn printed(mut schema: Json) -> Json {
    settle(&mut schema, true);
    schema
}

/// Where a key takes a value or a group of keys, an editor shows what the group says
/// of itself in place of the key: the key says both.
pub(super) fn explain_groups(schema: &mut Json) {
    let mut alternatives = BTreeSet::new();
    each_map(schema, &mut |map| {
        for option in map
            .get("anyOf")
            .and_then(Json::as_array)
            .into_iter()
            .flatten()
        {
            let group = option.get("$ref").and_then(Json::as_str);
            alternatives.extend(group.map(str::to_owned));
        }
    });
    let mut meanings = BTreeMap::new();
    for group in alternatives {
        let definition = schema.pointer_mut(group.trim_start_matches('#'));
        let removed = definition.and_then(|own| own.as_object_mut()?.remove("description"));
        meanings.extend(removed.map(|meaning| (group, meaning)));
    }
    each_map(schema, &mut |map| {
        let group = map.get("$ref").and_then(Json::as_str);
        if let Some(meaning) = group.and_then(|group| meanings.get(group)).cloned() {
            // Outside of alternatives, a definition's description stands for a key
            // without its own; within, this is taken away again below.
            map.entry("description").or_insert(meaning);
        }
    });
    each_map(schema, &mut |map| {
        let Some(Json::Array(options)) = map.get_mut("anyOf") else {
            return;
        };
        let removed = options
            .iter_mut()
            .filter_map(|option| option.as_object_mut()?.remove("description"));
        let of_groups: Vec<String> = removed
            .filter_map(|meaning| Some(format!("Or a group of keys. {}", meaning.as_str()?)))
            .collect();
        let own = map.get("description").and_then(Json::as_str);
        let all: Vec<&str> = own
            .into_iter()
            .chain(of_groups.iter().map(String::as_str))
            .collect();
        if !all.is_empty() {
            let all = Json::from(all.join("\n\n"));
            map.insert("description".to_owned(), all);
        }
    });
}

/// Every object of a schema, from the outside in.
fn each_map(schema: &mut Json, look: &mut dyn FnMut(&mut Map<String, Json>)) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(|item| each_map(item, look)),
        Json::Object(map) => {
            look(map);
            map.values_mut().for_each(|child| each_map(child, look));
        }
        _ => {}
    }
}

/// The structure that files are read by, without.
pub(super) fn structure(mut schema: Json) -> Json {
    settle(&mut schema, false);
    schema
}

fn settle(schema: &mut Json, is_printed: bool) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(|item| settle(item, is_printed)),
        Json::Object(map) => {
            if let Some(Json::Object(aside)) = map.remove(ASIDE)
                && is_printed
            {
                map.extend(aside);
            }
            map.values_mut().for_each(|child| settle(child, is_printed));
        }
        _ => {}
    }
}

/// Puts a derived schema, with everything below it, into these words.
pub(super) fn put(schema: &mut Json) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(put),
        Json::Object(map) => {
            // A property may be called `format` or `oneOf`: what is below
            // `properties` and `$defs` are names, and no keywords.
            for (key, child) in map.iter_mut() {
                match (key.as_str(), child) {
                    ("properties" | "$defs", Json::Object(named)) => {
                        named.values_mut().for_each(put);
                    }
                    ("examples" | "enum" | "const", _) => {}
                    (_, child) => put(child),
                }
            }
            list_words(map);
            explain_the_key(map);
            unwrap_lines(map);
            drop_number_formats(map);
        }
        _ => {}
    }
}

/// A choice of words, each with what it says, as one list of words.
fn list_words(map: &mut Map<String, Json>) {
    let Some(Json::Array(options)) = map.get("oneOf") else {
        return;
    };
    let mut words = Vec::new();
    let mut meanings = Vec::new();
    for option in options {
        let meaning = option.get("description").cloned();
        let meaning = meaning.unwrap_or_else(|| Json::from(""));
        let listed = option.get("enum").and_then(Json::as_array);
        for word in option
            .get("const")
            .into_iter()
            .chain(listed.into_iter().flatten())
        {
            words.push(word.clone());
            meanings.push(meaning.clone());
        }
        let nothing_else = option.as_object().is_some_and(|option| {
            option
                .keys()
                .all(|key| ["const", "enum", "type", "description"].contains(&key.as_str()))
        });
        let has_words = option.get("const").is_some() || option.get("enum").is_some();
        if !nothing_else || !has_words {
            return;
        }
    }
    if words.iter().all(Json::is_string) {
        map.remove("oneOf");
        map.insert("type".to_owned(), Json::from("string"));
        map.insert("enum".to_owned(), Json::from(words));
        map.insert("markdownEnumDescriptions".to_owned(), Json::from(meanings));
    }
}

/// A key that takes several kinds of values is explained once: an editor shows the
/// alternatives' descriptions in place of the key's.
fn explain_the_key(map: &mut Map<String, Json>) {
    let Some(Json::Array(options)) = map.get_mut("anyOf") else {
        return;
    };
    let removed: Vec<Json> = options
        .iter_mut()
        .filter_map(|option| option.as_object_mut()?.remove("description"))
        .collect();
    if let Some(first) = removed.into_iter().next() {
        map.entry("description").or_insert(first);
    }
}

/// Comments in the source are wrapped where lines end there; an editor shows each
/// line as a paragraph.
fn unwrap_lines(map: &mut Map<String, Json>) {
    let unwrapped = |text: &str| {
        let paragraphs: Vec<String> = text
            .split("\n\n")
            .map(|paragraph| paragraph.replace('\n', " "))
            .collect();
        Json::from(paragraphs.join("\n\n"))
    };
    if let Some(Json::String(text)) = map.get("description") {
        let text = unwrapped(text);
        map.insert("description".to_owned(), text);
    }
    if let Some(Json::Array(meanings)) = map.get_mut("markdownEnumDescriptions") {
        for meaning in meanings {
            if let Json::String(text) = meaning {
                *meaning = unwrapped(text);
            }
        }
    }
}

/// What is marked as code in a description, for editors that show descriptions as
/// they stand unless they are told that it is Markdown.
pub(super) fn mark_down(schema: &mut Json) {
    each_map(schema, &mut |map| {
        // What a key refers to may have one, which would stand in for the key's own.
        let refers = map.contains_key("$ref");
        if let Some(Json::String(text)) = map.get("description")
            && (text.contains('`') || refers)
        {
            let text = text.clone();
            map.insert("markdownDescription".to_owned(), Json::from(text));
        }
    });
}

/// `uint16`, `double` and the like are formats of `schemars`; `minimum` and `type`
/// say what a validator can check.
fn drop_number_formats(map: &mut Map<String, Json>) {
    let of_numbers = map
        .get("format")
        .and_then(Json::as_str)
        .is_some_and(|format| {
            ["uint", "int", "double", "float"]
                .iter()
                .any(|kind| format.starts_with(kind))
        });
    if of_numbers {
        map.remove("format");
    }
}
