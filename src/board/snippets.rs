//! What editors offer to fill in: a ring, a wire, a whole board. The values are those of
//! a board to rule (common practice, no source), and stand there to be typed over.

use schemars::Schema;
use serde_json::{Value as Json, json};

use crate::document::for_editors::add;

/// What it is called, what it is, and the text with its places to fill in: text, and
/// not a tree, because the order of keys is part of what helps.
type Snippet = (&'static str, &'static str, &'static str);

const RING: [Snippet; 3] = [
    (
        "a radius",
        "From the centre of the bull to an edge of the wire.",
        "radius: ${1:107.0}\nedge: ${2|outside,inside,apex|}",
    ),
    (
        "a diameter",
        "Across the board, between the same edges.",
        "diameter: ${1:214.0}\nedge: ${2|outside,inside,apex|}",
    ),
    (
        "readings of a radius",
        "What was read, in the order in which it was read.",
        "radius: { readings: [${1:107.02}, ${2:106.98}, ${3:107.01}] }\nedge: ${4|outside,inside,apex|}",
    ),
];

/// In braces, since a wire is filled in behind its key.
const WIRE: [Snippet; 2] = [
    (
        "a wire with its uncertainty",
        "A gauge or a width, and how well it is known.",
        "{ size: ${1:16 SWG}, uncertainty: ${2:0.03} }",
    ),
    (
        "readings of a wire",
        "The width of the wire as it was read.",
        "{ readings: [${1:1.62}, ${2:1.63}, ${3:1.62}] }",
    ),
];

const WIRES: [Snippet; 2] = [
    (
        "round wire",
        "Every ring wire, and the twenty sector wires.",
        "rings: ${1:16 SWG}\nsectors: ${2:16 SWG}",
    ),
    (
        "strip",
        "Every ring wire, and the twenty sector wires.",
        "rings: ${1:0.5 mm}\nsectors: ${2:0.5 mm}",
    ),
];

const METAL: [Snippet; 3] = [
    ("lost", "A dart on metal scores nothing.", "lost"),
    (
        "glances",
        "It falls to the bed on its side of the apex.",
        "glances",
    ),
    (
        "a share that is lost",
        "Of the darts on metal, so many bounce out.",
        "${1:30} %",
    ),
];

/// A whole file; what differs between mountings is put in.
const BOARD: &str = "\
format: ringrule/board/1
board: { id: ${1:FL-01}, venue: \"${2:The Old Forge}\", position: ${3:snug} }
mounting: MOUNTING
units: mm
inspection: { by: ${4:A. Ashdown}, date: \"${5:2026-11-14}\" }
instrument: { name: ${6:calliper 7}, resolution: ${7:0.01}, max_error: ${8:0.03} }
wires: { rings: ${9:WIRE}, sectors: ${10:WIRE} }
rings:
  inner_bull: { diameter: ${11:12.7}, edge: inside }
  outer_bull: { diameter: ${12:31.8}, edge: inside }
  treble_outer: { radius: ${13:107.0}, edge: outside }
  double_outer: { radius: ${14:170.0}, edge: outside }
widths:
  treble: { width: ${15:WIDTH}, edge: EDGE }
  double: { width: ${16:WIDTH}, edge: EDGE }
overall: { diameter: ${17:451} }
";

fn offer(schema: &mut Schema, snippets: &[(&str, &str, &str)]) {
    let snippets: Vec<Json> = snippets
        .iter()
        .map(|(label, description, body)| {
            json!({ "label": label, "description": description, "body": body })
        })
        .collect();
    add(schema, json!({ "defaultSnippets": snippets }));
}

pub(super) fn ring(schema: &mut Schema) {
    offer(schema, &RING);
}

pub(super) fn wire(schema: &mut Schema) {
    offer(schema, &WIRE);
}

pub(super) fn wires(schema: &mut Schema) {
    offer(schema, &WIRES);
}

pub(super) fn metal(schema: &mut Schema) {
    offer(schema, &METAL);
}

pub(super) fn board(schema: &mut Schema) {
    let of = |mounting: &str, wire: &str, width: &str, edge: &str| {
        BOARD
            .replace("MOUNTING", mounting)
            .replace("WIRE", wire)
            .replace("WIDTH", width)
            .replace("EDGE", edge)
    };
    let staples = of("staples", "16 SWG", "8.0", "inside");
    let embedded = of("embedded", "0.5", "9.6", "apex");
    offer(
        schema,
        &[
            (
                "a board with staples",
                "A whole board file: round wire held to the face by staples.",
                &staples,
            ),
            (
                "an embedded board",
                "A whole board file: strips let into the sisal.",
                &embedded,
            ),
        ],
    );
}
