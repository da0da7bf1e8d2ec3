//! Filled sheets, and what they are pooled into.

use ringrule::document::{CsvFormat, Source};
use ringrule::readings::{Sheet, pool, to_yaml};

/// A sheet from text.
pub(crate) fn sheet(text: &str) -> Sheet {
    match Sheet::read(Source::new("sheet.csv", text), CsvFormat::default()) {
        Ok(sheet) => sheet,
        Err(invalid_file) => panic!("{invalid_file:?}"),
    }
}

/// A small sheet with one item and an instrument.
pub(crate) fn small(inspector: &str, instrument: &str, readings: &str) -> String {
    format!(
        "item,edge,unit,reading 1,reading 2,reading 3\nboard,,,X,,\nmounting,,,staples,,\n\
         inspector,,,{inspector},,\ninstrument,,,{instrument},,\nresolution,,,0.0001 mm,,\n\
         max error,,,0.03 mm,,\ntreble width,inside,mm,{readings}\n"
    )
}

/// The board file that sheets are pooled into.
pub(crate) fn yaml(sheets: &[Sheet]) -> String {
    let pooled = pool(sheets).expect("poolable");
    to_yaml(&pooled.file, "").expect("YAML")
}
