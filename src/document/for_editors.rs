//! A schema in the words that editors and strict validators understand.
//!
//! What `schemars` derives is right and says everything, but editors offer no
//! words from a `oneOf` of constants, explain an alternative in place of the key
//! that has it, and strict validators refuse formats of numbers that JSON Schema
//! does not know. All of that is put right here, for every format at once.

use serde_json::{Map, Value as Json};

/// Keywords of ours that are none of JSON Schema's: language servers read them,
/// and validators pass over what they do not know.
pub const EXTRA_KEYWORDS: [&str; 2] = ["markdownDescription", "markdownEnumDescriptions"];

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
    match schema {
        Json::Array(items) => items.iter_mut().for_each(mark_down),
        Json::Object(map) => {
            if let Some(Json::String(text)) = map.get("description")
                && text.contains('`')
            {
                let text = text.clone();
                map.insert("markdownDescription".to_owned(), Json::from(text));
            }
            map.values_mut().for_each(mark_down);
        }
        _ => {}
    }
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
