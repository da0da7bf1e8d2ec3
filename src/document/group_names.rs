//! The names under which a printed schema keeps its groups of keys.
//!
//! Editors show them: as what was expected where something else stands, and beside the keys
//! of a group as the offer to fill it in whole. So they are words of the trade, and neither
//! names of types nor those of keys.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value as Json};

const GROUPS: &str = "#/$defs/";
/// What types are called beyond what they are of.
const SUFFIXES: [&str; 4] = ["File", "Entry", "Text", "Group"];

/// Gives every group of a schema, and what refers to it, a name in words.
pub(super) fn put(schema: &mut Json) {
    let Some(Json::Object(groups)) = schema.get_mut("$defs") else {
        return;
    };
    let names = names(groups);
    let named = std::mem::take(groups).into_iter().map(|(key, group)| {
        let name = names.get(&key).cloned();
        (name.unwrap_or(key), group)
    });
    *groups = named.collect();
    refer(schema, &names);
}

/// What would have the same name as another keeps all of its own. Records are printed alone:
/// nobody fills them in.
fn names(groups: &Map<String, Json>) -> BTreeMap<String, String> {
    let (mut taken, mut twice) = (BTreeSet::new(), BTreeSet::new());
    for own in groups.keys() {
        if !taken.insert(without_suffix(own)) {
            twice.insert(without_suffix(own));
        }
    }
    let name = |(own, group): (&String, &Json)| {
        let short = without_suffix(own);
        let name = words(if twice.contains(short) { own } else { short });
        let has_keys = group.get("type").is_some_and(|kind| kind == "object");
        let name = if has_keys {
            format!("{name}_group")
        } else {
            name
        };
        (own.clone(), name)
    };
    let filled_in = groups.iter().filter(|(own, _)| !own.contains("Record"));
    filled_in.map(name).collect()
}

fn without_suffix(own: &str) -> &str {
    let shorter = SUFFIXES.iter().find_map(|suffix| own.strip_suffix(suffix));
    shorter.filter(|rest| !rest.is_empty()).unwrap_or(own)
}

/// `BedArea` as `bed_area`.
fn words(name: &str) -> String {
    let mut words = String::with_capacity(name.len() + 2);
    for letter in name.chars() {
        if letter.is_uppercase() && !words.is_empty() && !words.ends_with('_') {
            words.push('_');
        }
        words.extend(letter.to_lowercase());
    }
    words
}

fn refer(schema: &mut Json, names: &BTreeMap<String, String>) {
    match schema {
        Json::Array(items) => items.iter_mut().for_each(|item| refer(item, names)),
        Json::Object(map) => {
            rename(map, names);
            map.values_mut().for_each(|child| refer(child, names));
        }
        _ => {}
    }
}

fn rename(map: &mut Map<String, Json>, names: &BTreeMap<String, String>) {
    if let Some(Json::String(group)) = map.get_mut("$ref")
        && let Some(name) = group.strip_prefix(GROUPS).and_then(|own| names.get(own))
    {
        *group = format!("{GROUPS}{name}");
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    #[test]
    fn groups_have_names_in_words_and_are_found_by_them() {
        let mut schema = json!({
            "properties": { "bed": { "$ref": "#/$defs/BedAreaEntry" } },
            "$defs": {
                "BedAreaEntry": { "type": "object", "items": { "$ref": "#/$defs/Wire" } },
                "Wire": {}, "WireText": {}, "File": {}, "BoardRecord2": {},
            },
        });
        put(&mut schema);
        let wanted = json!({
            "properties": { "bed": { "$ref": "#/$defs/bed_area_group" } },
            "$defs": {
                "bed_area_group": { "type": "object", "items": { "$ref": "#/$defs/wire" } },
                "wire": {}, "wire_text": {}, "file": {}, "BoardRecord2": {},
            },
        });
        assert_eq!(schema, wanted);
    }
}
