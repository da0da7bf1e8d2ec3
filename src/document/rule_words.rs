//! What a rule of a schema says in words.

use serde_json::Value as Json;

/// The words that a rule allows, if it is a choice of words.
pub(super) fn words(rule: &Json) -> Vec<String> {
    let listed = rule
        .get("enum")
        .and_then(Json::as_array)
        .into_iter()
        .flatten();
    let listed = listed.chain(rule.get("const"));
    let options = rule
        .get("oneOf")
        .and_then(Json::as_array)
        .into_iter()
        .flatten();
    let options = options.flat_map(|option| {
        let one = option.get("const").into_iter();
        one.chain(
            option
                .get("enum")
                .and_then(Json::as_array)
                .into_iter()
                .flatten(),
        )
    });
    listed
        .chain(options)
        .filter_map(|word| word.as_str().map(str::to_owned))
        .collect()
}

/// The keys that a group must have, or all that it may have.
pub(super) fn keys_of(rule: &Json) -> Option<String> {
    let required = rule.get("required").and_then(Json::as_array);
    let required: Vec<_> = required
        .into_iter()
        .flatten()
        .filter_map(Json::as_str)
        .collect();
    let all = rule.get("properties").and_then(Json::as_object);
    let all: Vec<_> = all?.keys().map(String::as_str).collect();
    let keys = if required.is_empty() { all } else { required };
    Some(
        keys.iter()
            .map(|key| format!("{key}: …"))
            .collect::<Vec<_>>()
            .join(", "),
    )
}

pub(super) fn text_only(rule: &Json) -> bool {
    rule.get("type") == Some(&Json::from("string"))
}

pub(super) fn first_sentence(text: &str) -> String {
    let end = text
        .find(". ")
        .or_else(|| text.find("\n\n"))
        .unwrap_or(text.len());
    let sentence = text
        .get(..end)
        .unwrap_or(text)
        .trim_end_matches('.')
        .replace('\n', " ");
    let mut chars = sentence.chars();
    match (chars.next(), chars.next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => first
            .to_lowercase()
            .chain(sentence.chars().skip(1))
            .collect(),
        _ => sentence,
    }
}
