//! Blank sheets filled in as a person would.

/// Fills in every row of a blank sheet for which there is a value, three readings
/// each that scatter by 0.01 mm. `value` is given the item and the place.
/// Invented.
pub(crate) fn fill(
    blank: &str,
    inspector: &str,
    shift: f64,
    value: impl Fn(&str, &str) -> Option<f64>,
) -> String {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(blank.as_bytes());
    let mut writer = csv::Writer::from_writer(Vec::new());
    let mut head = csv::StringRecord::new();
    for record in reader.records() {
        let record = record.expect("a row");
        if head.is_empty() {
            head = record.clone();
        }
        let column = |name: &str| head.iter().position(|own| own == name);
        let first = column("reading 1").expect("a column for readings");
        let at = column("at").and_then(|at| record.get(at));
        let mut cells: Vec<String> = record.iter().map(str::to_owned).collect();
        let fact = match &cells[0][..] {
            "board" if cells[first].is_empty() => Some("FL-21"),
            "inspector" => Some(inspector),
            "date" => Some("2026-11-21"),
            "instrument" => Some("calliper 7"),
            "resolution" => Some("0.01 mm"),
            "max error" => Some("0.02 mm"),
            _ => None,
        };
        if let Some(fact) = fact {
            fact.clone_into(&mut cells[first]);
        } else if let Some(value) = value(&cells[0], at.unwrap_or_default()) {
            for (index, step) in [-0.01, 0.0, 0.01].into_iter().enumerate() {
                cells[first + index] = format!("{:.2}", value + shift + step);
            }
        }
        writer.write_record(&cells).expect("a row");
    }
    String::from_utf8(writer.into_inner().expect("all rows")).expect("text")
}

/// The lengths of a sound board, whatever the place. Invented.
pub(crate) fn sound(item: &str) -> Option<f64> {
    Some(match item {
        "inner_bull diameter" => 12.70,
        "inner_bull radius" => 6.35,
        "outer_bull diameter" => 31.80,
        "outer_bull radius" => 15.90,
        "treble width" | "double width" => 8.00,
        "treble_outer radius" => 107.00,
        "double_outer radius" => 170.00,
        "overall diameter" => 451.00,
        "ring wires" | "sector wires" => 1.55,
        _ => return None,
    })
}
