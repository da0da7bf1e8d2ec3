//! What the printed schema of a board file says of single values beside their kind:
//! how they are written, and within which bounds some board could have them.

use schemars::Schema;
use serde_json::{Map, Value as Json, json};

use super::snippets;
use super::usual::{Range, Ranges};
use crate::document::for_editors::add;
use crate::units::{Length, patterns};

/// What an editor says of a text that is no length.
const LENGTH: &str = "write a number in the file's units, or a text with its own unit, such as `8.0 mm` or `5/16 in`";

/// A pattern, and what to write where a text does not meet it.
pub(crate) fn pattern(pattern: &str, write: &str) -> Json {
    json!({ "pattern": pattern, "patternErrorMessage": write })
}

/// The part of a schema that is about a value itself, where a group of keys or a list
/// may stand too.
fn each_plain(schema: &mut Schema, look: &mut dyn FnMut(&mut Schema)) {
    let Some(map) = schema.as_object_mut() else {
        return;
    };
    for key in ["anyOf", "items"] {
        let options = match map.get_mut(key) {
            Some(Json::Array(options)) => options.as_mut_slice(),
            Some(one) => std::slice::from_mut(one),
            None => continue,
        };
        for option in options {
            if let Ok(option) = <&mut Schema>::try_from(option) {
                each_plain(option, look);
            }
        }
        return;
    }
    let takes_text = map.get("type").is_some_and(|types| match types {
        Json::Array(types) => types.iter().any(|one| one == "string"),
        one => one == "string",
    });
    if takes_text {
        look(schema);
    }
}

/// Adds keywords to the part of a schema that is about a value itself.
pub(crate) fn plain(schema: &mut Schema, keywords: &Json) {
    each_plain(schema, &mut |schema| add(schema, keywords.clone()));
}

/// A number has one of two units, so that its bounds are those of the smaller number
/// for the least and of the larger for the greatest.
fn within(schema: &mut Schema, range: Range) {
    let inch = Length::inches(1.0).as_mm();
    // Rounded outwards: the reader decides at the bound itself.
    let least = if range.least > 0.0 {
        libm::floor(range.least / inch * 1e4) / 1e4
    } else {
        range.least
    };
    let text = if range.least < 0.0 {
        patterns::length()
    } else {
        patterns::positive_length()
    };
    plain(schema, &pattern(&text, LENGTH));
    plain(schema, &json!({ "minimum": least, "maximum": range.most }));
}

pub(super) fn length(schema: &mut Schema) {
    plain(schema, &pattern(&patterns::length(), LENGTH));
}

pub(super) fn wire(schema: &mut Schema) {
    within(schema, Ranges::WIRE);
    let write = "write a gauge with its system, such as `16 SWG`, or a width, such as `1.6 mm`";
    plain(schema, &pattern(&patterns::wire(), write));
}

pub(super) fn radius(schema: &mut Schema) {
    within(schema, Ranges::RADIUS);
}

pub(super) fn diameter(schema: &mut Schema) {
    within(schema, Ranges::RADIUS.scaled(2.0));
}

pub(super) fn width(schema: &mut Schema) {
    within(schema, Ranges::WIDTH);
}

pub(super) fn overall(schema: &mut Schema) {
    within(schema, Ranges::OVERALL);
}

pub(super) fn offset(schema: &mut Schema) {
    within(schema, Ranges::OFFSET);
}

/// A reading of any length: from a thin wire to a whole board.
pub(super) fn reading(schema: &mut Schema) {
    let any = Range {
        most: Ranges::OVERALL.most,
        ..Ranges::WIRE
    };
    within(schema, any);
}

/// A reading of a wire's width.
pub(super) fn wire_reading(schema: &mut Schema) {
    within(schema, Ranges::WIRE);
}

/// The width of a staple, or its length.
pub(super) fn staple(schema: &mut Schema) {
    let either = Range {
        most: Ranges::STAPLE_LENGTH.most,
        ..Ranges::STAPLE_WIDTH
    };
    within(schema, either);
}

/// A step or an error of an instrument.
pub(super) fn step(schema: &mut Schema) {
    within(schema, Ranges::UNCERTAINTY);
}

/// No length is known exactly.
pub(super) fn uncertainty(schema: &mut Schema) {
    let pattern = pattern(&patterns::positive_length(), LENGTH);
    plain(schema, &pattern);
    let most = Ranges::UNCERTAINTY.most;
    plain(schema, &json!({ "exclusiveMinimum": 0, "maximum": most }));
}

pub(super) fn correction(schema: &mut Schema) {
    let most = Ranges::UNCERTAINTY.most;
    length(schema);
    plain(schema, &json!({ "minimum": -most, "maximum": most }));
}

pub(super) fn area(schema: &mut Schema) {
    let write = "write a number in the square of the file's units, or a text with its own unit, \
                 such as `242 mm²` or `0.375 in²`";
    add(schema, pattern(&patterns::area(), write));
    add(schema, json!({ "exclusiveMinimum": 0 }));
}

pub(super) fn temperature(schema: &mut Schema) {
    let write = "write the temperature with its unit, such as `27 °C` or `80.5 °F`";
    only_text(schema, &patterns::temperature(), write);
}

pub(super) fn kelvins(schema: &mut Schema) {
    let write = "write the difference with its unit, such as `1 K`";
    only_text(schema, &patterns::kelvins(), write);
}

pub(super) fn expansion(schema: &mut Schema) {
    let write = "write the coefficient with its unit, such as `11.5e-6 /K` or `11.5 ppm/K`";
    only_text(schema, &patterns::expansion(), write);
}

/// What has to state its unit is no number.
pub(crate) fn only_text(schema: &mut Schema, text: &str, write: &str) {
    let mut keywords = pattern(text, write);
    if let Some(keywords) = keywords.as_object_mut() {
        keywords.insert("type".to_owned(), json!("string"));
    }
    plain(schema, &keywords);
}

pub(super) fn bearing(schema: &mut Schema) {
    let write = "write a sector's number, such as `20`, or degrees clockwise from the top, such \
                 as `45°`";
    add(schema, pattern(&patterns::bearing(), write));
    add(schema, json!({ "minimum": 1, "maximum": 20 }));
}

/// Degrees clockwise from the top, one for each sector wire.
pub(super) fn bearings(schema: &mut Schema) {
    add(
        schema,
        json!({ "items": { "type": "number", "minimum": -720, "maximum": 720 } }),
    );
}

/// Degrees by which a bearing may be off.
pub(super) fn bearing_uncertainty(schema: &mut Schema) {
    add(schema, json!({ "exclusiveMinimum": 0, "maximum": 5 }));
}

/// Entries under the numbers of sectors.
pub(super) fn by_sector(schema: &mut Schema) {
    add(
        schema,
        json!({ "propertyNames": { "pattern": r"^\s*\+?0*([1-9]|1[0-9]|20)\s*$" } }),
    );
}

pub(super) fn metal(schema: &mut Schema) {
    let write = "write `lost`, `glances`, or the share that bounces out, such as `30 %`";
    add(schema, pattern(&patterns::metal(), write));
    snippets::metal(schema);
}

/// A day, wherever a file states one.
pub(crate) fn day(schema: &mut Schema) {
    let write = "write year, month and day in quotes, such as \"2026-11-14\"";
    add(schema, pattern(&patterns::day(), write));
}

/// A text that is there says something.
pub(crate) fn something(schema: &mut Schema) {
    add(schema, pattern(patterns::SOMETHING, "write something here"));
}

/// These keys are there. Strict validators ask that what is required is named.
pub(crate) fn has(keys: &[&str]) -> Json {
    let named: Map<String, Json> = keys
        .iter()
        .map(|key| ((*key).to_owned(), true.into()))
        .collect();
    json!({ "required": keys, "properties": named })
}

/// One of these keys is there.
pub(crate) fn has_any(keys: &[&str]) -> Json {
    let options: Vec<Json> = keys.iter().map(|key| has(&[key])).collect();
    json!({ "anyOf": options })
}

/// None of these keys is there. Said like this, and not with `not`, an editor names
/// the key.
pub(crate) fn has_none(keys: &[&str]) -> Json {
    let named: Map<String, Json> = keys
        .iter()
        .map(|key| ((*key).to_owned(), false.into()))
        .collect();
    json!({ "properties": named })
}

/// Exactly one of these keys: the second one is the one too many.
fn one_of(schema: &mut Schema, keys: &[&str]) {
    let mut all = vec![has_any(keys)];
    for (index, key) in keys.iter().enumerate() {
        if let Some(others @ [_, ..]) = keys.get(index + 1..) {
            all.push(json!({ "if": has(&[key]), "then": has_none(others) }));
        }
    }
    add(schema, json!({ "allOf": all }));
}

pub(super) fn radius_or_diameter(schema: &mut Schema) {
    one_of(schema, &["radius", "diameter"]);
}

pub(super) fn readings_or_taken(schema: &mut Schema) {
    one_of(schema, &["readings", "taken"]);
}

pub(super) fn size_or_readings(schema: &mut Schema) {
    one_of(schema, &["size", "readings", "taken"]);
}

pub(super) fn counted_or_placed(schema: &mut Schema) {
    one_of(schema, &["count", "at"]);
}

/// Either `expanded`, perhaps with its factor, or `standard`.
pub(super) fn expanded_or_standard(schema: &mut Schema) {
    add(
        schema,
        json!({ "allOf": [has_any(&["expanded", "standard"]), alone()] }),
    );
}

/// The same, or nothing is known of it.
pub(super) fn perhaps_expanded_or_standard(schema: &mut Schema) {
    add(schema, json!({ "allOf": [alone()] }));
}

fn alone() -> Json {
    json!({ "if": has(&["standard"]), "then": has_none(&["expanded", "k"]) })
}

/// What belongs to a coefficient needs the coefficient.
pub(super) fn with_its_expansion(schema: &mut Schema) {
    let needs = json!({
        "expansion_uncertainty": ["expansion"],
        "instrument_expansion": ["expansion"],
        "instrument_expansion_uncertainty": ["instrument_expansion"],
    });
    add(schema, json!({ "dependentRequired": needs }));
}
