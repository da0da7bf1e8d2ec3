//! What was typed into a field, read as a sheet reads it.

use ringrule::board::{Edge, Mounting};
use ringrule::document::{CsvFormat, InvalidFile, Source};
use ringrule::readings::{Item, Sheet};

/// A reading as a sheet would have it: with a decimal point, the rest as it was typed.
pub(super) fn tidy(text: &str) -> String {
    let text = text.trim();
    // One comma and no point is a decimal comma: nobody types thousands of millimetres.
    if text.matches(',').count() == 1 && !text.contains('.') {
        return text.replace(',', ".");
    }
    text.to_owned()
}

/// What is wrong with a reading, if anything: by the same reader as every sheet.
pub(super) fn problem(item: Item, edge: Option<Edge>, text: &str) -> Option<String> {
    let text = tidy(text);
    if text.is_empty() {
        return None;
    }
    let found = read(item, edge, &text).err()?;
    let mut words = words_of(&found).join(" ");
    // A bare number that fits as inches was hardly meant as anything else.
    let bare = text.parse::<f64>().is_ok();
    if bare && read(item, edge, &format!("{text} in")).is_ok() {
        words = format!("{text} mm is too small for this: if it is in inches, type `{text} in`");
    }
    Some(words)
}

/// What is wrong, in the words of every reader, without the place in a sheet that nobody
/// here has seen, and without options that nobody here can give.
pub(super) fn words_of(invalid_file: &InvalidFile) -> Vec<String> {
    let said = invalid_file.diagnostics.iter().map(|problem| {
        let remedy = problem.remedy.as_deref().unwrap_or_default();
        let remedy = remedy.replace(", or declare `--decimal comma`", "");
        if remedy.is_empty() {
            problem.message.clone()
        } else {
            format!("{}; {remedy}", problem.message)
        }
    });
    said.collect()
}

fn read(item: Item, edge: Option<Edge>, text: &str) -> Result<(), InvalidFile> {
    let mut csv = csv::Writer::from_writer(Vec::new());
    let edge = edge.map_or("", Edge::key);
    let mounting = Mounting::Staples.to_string();
    let rows: [[&str; 4]; 5] = [
        ["item", "edge", "unit", "reading 1"],
        ["board", "", "", "x"],
        ["mounting", "", "", &mounting],
        ["inspector", "", "", "x"],
        [&item.to_string(), edge, "mm", text],
    ];
    for row in rows {
        // Writing into memory cannot fail.
        let _ = csv.write_record(row);
    }
    let bytes = csv.into_inner().unwrap_or_default();
    let source = Source::new("typed", String::from_utf8_lossy(&bytes));
    Sheet::read(source, CsvFormat::default()).map(|_| ())
}

#[cfg(test)]
mod tests {
    use ringrule::board::{Band, Quantity};

    use super::*;

    /// What a calliper with a cable types, and what people do.
    #[test]
    fn readings_are_taken_as_people_type_them() {
        let width = Item(Quantity::Width(Band::Treble));
        for good in [
            "8.02", "8,02", " 8.02 ", "8.02 mm", "0.316 in", "0,316 in", "",
        ] {
            assert_eq!(problem(width, Some(Edge::Inside), good), None, "{good}");
        }
        for bad in [
            "8.0.2", "8;02", "802", "eight", "-8.02", "1e1", "8,0,2", "NaN",
        ] {
            assert!(problem(width, Some(Edge::Inside), bad).is_some(), "{bad}");
        }
        let inches = problem(width, Some(Edge::Inside), "0.316").unwrap_or_default();
        assert!(inches.contains("type `0.316 in`"), "{inches}");
        let wire = Item(Quantity::RingWires);
        assert_eq!(problem(wire, None, "16 SWG"), None);
        assert!(problem(wire, None, "16").is_some());
    }
}
