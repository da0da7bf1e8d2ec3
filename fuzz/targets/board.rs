//! Board files: read, tidied, looked at by every rule, judged, printed, and written again.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let Some(source) = shared::source(bytes) else {
        return;
    };
    let text = source.text().to_owned();
    let subject = shared::read_as_commands_do(source);
    if let Some(board) = subject.as_ref().and_then(shared::board) {
        shared::judged(board, &shared::TABLE);
        shared::same_board(&shared::file_of(&text), board);
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
