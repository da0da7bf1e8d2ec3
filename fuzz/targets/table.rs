//! Tolerance tables: read, looked at by every rule, and a board judged by them.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::lint::Content;
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let source = shared::source(bytes);
    if let Some(subject) = source.and_then(shared::read_as_commands_do)
        && let Content::Table(table, _) = &subject.content
    {
        shared::judged(&shared::BOARD, table);
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
