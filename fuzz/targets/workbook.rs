//! XLSX and ODS files: opened, and each board taken in can be read.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::workbook::Workbook;
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    if !Workbook::is_one(bytes) {
        return;
    }
    match Workbook::read(shared::NAME, bytes.to_vec()) {
        Ok(book) => shared::taken_in(book),
        Err(invalid) => shared::holds(&invalid, ""),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_workbook(data, size, max_size, seed)
});
