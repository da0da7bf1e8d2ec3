//! Sheets of many boards as CSV, in whatever characters: each board taken in can be read.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::document::{CsvFormat, Encoding, Source, budget};
use ringrule::workbook::Workbook;
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    // The last byte says what was declared of the file.
    let declared = bytes.last().filter(|byte| **byte == b'~');
    let declared = declared.map(|_| Encoding::Windows1252);
    let source = Source::of_bytes(shared::NAME, bytes.to_vec(), declared, budget::BYTES);
    let source = match source {
        Ok(source) => source,
        Err(invalid) => return shared::holds(&invalid, ""),
    };
    let text = source.text().to_owned();
    let format = CsvFormat::told(&text).unwrap_or_default();
    match Workbook::of_csv(source, format) {
        Ok(book) => shared::taken_in(book),
        Err(invalid) => shared::holds(&invalid, &text),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
