//! Tables and boards for the tests of uneven boards.

use super::{BOARD_R, board};
use ringrule::board::Board;
use ringrule::conformity::{Assessment, LengthFinding, Outcome};
use ringrule::document::Source;
use ringrule::table::Table;

/// Invented limits.
pub(crate) fn table(limits: &str) -> Table {
    let text = format!(
        "format: ringrule/table/1\ntitle: Invented\n\
         source: {{ document: Invented, provenance: invented }}\nunits: mm\ngauge_uncertainty: none\n\
         nominal:\n  staples:\n    wires: {{ rings: 16 SWG, sectors: 16 SWG }}\n    rings:\n      \
         inner_bull: {{ diameter: 12.7, edge: inside }}\n      \
         outer_bull: {{ diameter: 31.8, edge: inside }}\n      \
         treble_outer: {{ radius: 107.0, edge: outside }}\n      \
         double_outer: {{ radius: 170.0, edge: outside }}\n    widths:\n      \
         treble: {{ width: 8.0, edge: inside }}\n      double: {{ width: 8.0, edge: inside }}\n\
         limits:\n{limits}"
    );
    match Table::read(Source::new("table.yaml", text.clone()), &()) {
        Ok(table) => table,
        Err(invalid) => panic!("{invalid}\n{text}"),
    }
}

pub(crate) const WIDTH: &str =
    "  width: { measurand: treble.width, edge: inside, OF nominal: 8.0, tolerance: 0.2 }\n";

/// Readings that alternate between 7.75 and 8.25 mm, at places or without.
pub(crate) fn alternating(places: bool, repeats: usize) -> Board {
    let readings: Vec<String> = (0..8 * repeats)
        .map(|i| {
            let value = if i % 2 == 0 { 7.75 } else { 8.25 };
            if places {
                format!("{{ at: {}°, value: {value} }}", 45 * (i % 8))
            } else {
                value.to_string()
            }
        })
        .collect();
    let text = BOARD_R.replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
        + &format!(
            "instrument: {{ resolution: 0.01, max_error: 0.03 }}\n\
             widths:\n  treble: {{ width: {{ readings: [{}] }}, edge: inside }}\n",
            readings.join(", ")
        );
    board(&text)
}

pub(crate) fn width<'a>(assessment: &'a Assessment<'_>) -> &'a LengthFinding {
    let found = assessment
        .limits
        .iter()
        .find_map(|finding| match &finding.outcome {
            Outcome::Length(length) => Some(&**length),
            _ => None,
        });
    found.expect("a width")
}

/// A treble width read at places, in Board R.
pub(crate) fn at_places(readings: &str, also: &str) -> Board {
    let text = BOARD_R.replace("  treble_inner: { radius: 97.3744, edge: outside }\n", "")
        + &format!(
            "widths: {{ treble: {{ edge: inside, width: {{ readings: [{readings}] }} {also} }} }}\n"
        );
    board(&text)
}
