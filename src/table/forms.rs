//! What the printed schema of a table says beside the kinds of its values: how they
//! are written, and which of them belong together.

use schemars::Schema;
use serde_json::{Value as Json, json};

use super::Measurand;
use crate::board::forms::{has, has_any, has_none, only_text, pattern, plain};
use crate::document::for_editors::add;
use crate::units::patterns;

pub(super) fn percent(schema: &mut Schema) {
    let write = "write a percentage with its sign, such as `3 %`";
    only_text(schema, &patterns::percent(), write);
}

pub(super) fn confidence(schema: &mut Schema) {
    let write = "write a percentage above 50 % and below 100 %, such as `95 %`";
    only_text(schema, &patterns::confidence(), write);
}

pub(super) fn max_uncertainty(schema: &mut Schema) {
    let write = "write a percentage, such as `20 %`, or `any`";
    only_text(schema, &patterns::percent_or_any(), write);
}

pub(super) fn gauge_uncertainty(schema: &mut Schema) {
    let write = "write a length, such as `0.03 mm`, or `none` if named gauges count as exact";
    plain(schema, &pattern(&patterns::length_or_none(), write));
    plain(schema, &json!({ "exclusiveMinimum": 0, "maximum": 5 }));
}

/// The value that a tolerance is counted from, or the end of a range.
pub(super) fn bound(schema: &mut Schema) {
    let write = "write a length such as `8.0 mm`, a gauge such as `16 SWG`, or an angle such as \
                 `18°`";
    plain(schema, &pattern(&patterns::bound(), write));
    plain(schema, &json!({ "minimum": 0, "maximum": 1000 }));
}

/// A distance from a nominal value: it has no sign.
pub(super) fn distance(schema: &mut Schema) {
    let write = "write a distance without a sign, such as `0.2 mm`, `0.5°` or `5 %`";
    plain(schema, &pattern(&patterns::distance(), write));
    plain(schema, &json!({ "minimum": 0 }));
}

/// A table without limits is one that takes them from another.
pub(super) fn checks_something(schema: &mut Schema) {
    add(
        schema,
        json!({ "allOf": [has_any(&["limits", "bands", "extends"])] }),
    );
}

/// A table's own source says what it is.
pub(super) fn source(schema: &mut Schema) {
    add(schema, json!({ "required": ["document", "provenance"] }));
}

/// Distances on both sides, or the ends of a range.
pub(super) fn distances_or_ends(schema: &mut Schema) {
    let distances = ["lower", "upper"];
    let ends = ["min", "max"];
    let all = [
        has_any(&["lower", "upper", "min", "max"]),
        json!({ "if": has_any(&distances), "then": { "allOf": [has(&distances), has_none(&ends)] } }),
    ];
    add(schema, json!({ "allOf": all }));
}

/// Each rule has its own number.
pub(super) fn number_of_the_rule(schema: &mut Schema) {
    let is =
        |word: &str| json!({ "properties": { "rule": { "const": word } }, "required": ["rule"] });
    let guarded = json!({ "allOf": [has(&["confidence"]), has_none(&["max_uncertainty"])] });
    let simple = has_none(&["confidence", "of"]);
    add(
        schema,
        json!({ "allOf": [
            { "if": is("guarded"), "then": guarded },
            { "if": is("simple"), "then": simple },
        ] }),
    );
}

/// What a limit says besides depends on what it limits.
pub(super) fn keys_of_the_measurand(schema: &mut Schema) {
    /// Of which measurands, what holds for them, and what for all others.
    type Rule = (fn(Measurand) -> bool, Json, Json);
    let rules: [Rule; 4] = [
        (Measurand::needs_edge, has(&["edge"]), has_none(&["edge"])),
        (Measurand::is_of_a_ring, json!({}), has_none(&["ring"])),
        (
            |measurand| measurand == Measurand::BedArea,
            has_none(&["nominal"]),
            has_none(&["band"]),
        ),
        (
            |measurand| measurand == Measurand::Mounting,
            json!({ "allOf": [has(&["allowed"]), has_none(&["nominal", "tolerance"])] }),
            json!({ "allOf": [has(&["tolerance"]), has_none(&["allowed"])] }),
        ),
    ];
    let all: Vec<Json> = rules
        .into_iter()
        .map(|(is_one, then, otherwise)| {
            let ones = Measurand::ALL.into_iter().filter(|one| is_one(*one));
            let ones: Vec<&str> = ones.map(Measurand::key).collect();
            json!({
                "if": { "properties": { "measurand": { "type": "string", "enum": ones } }, "required": ["measurand"] },
                "then": then,
                "else": otherwise,
            })
        })
        .collect();
    add(schema, json!({ "allOf": all }));
}
