//! Settings files: read, and asked about a path.
#![no_main]

use std::path::Path;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::lint::Settings;
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let Some(source) = shared::source(bytes) else {
        return;
    };
    let text = source.text().to_owned();
    shared::read_as_commands_do(source.clone());
    match Settings::read(source) {
        Ok(settings) => {
            let _ = settings.excludes(Path::new("boards/fl-01.yaml"));
        }
        Err(invalid) => shared::holds(&invalid, &text),
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
