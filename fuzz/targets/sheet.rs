//! Filled sheets: read as they are written, and made into a board file that reads the same.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::document::CsvFormat;
use ringrule::readings::{Sheet, pool};
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let Some(source) = shared::source(bytes) else {
        return;
    };
    let text = source.text().to_owned();
    let format = CsvFormat::told(&text).unwrap_or_default();
    match Sheet::read(source, format) {
        Ok(sheet) => match pool(&[sheet]) {
            Ok(pooled) => shared::same_board(&pooled.file, &pooled.board),
            Err(invalid) => shared::all_hold(&invalid, &text),
        },
        Err(invalid) => shared::holds(&invalid, &text),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
