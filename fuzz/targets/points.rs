//! Coordinate tables: read, and made into a board file that reads the same.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::document::CsvFormat;
use ringrule::readings::{PointTable, digitise};
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let Some(source) = shared::source(bytes) else {
        return;
    };
    let text = source.text().to_owned();
    let format = CsvFormat::told(&text).unwrap_or_default();
    let made = PointTable::read(source, format).and_then(|table| digitise(&table));
    match made {
        Ok(made) => shared::same_board(&made.file, &made.board),
        Err(invalid) => shared::holds(&invalid, &text),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
