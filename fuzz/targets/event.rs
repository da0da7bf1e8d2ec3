//! Event files: read, looked at by every rule, and a report headed by them in each format.
#![no_main]

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use ringrule::conformity::Judge;
use ringrule::lint::Content;
use ringrule::report::{Compliance, ReportFormat};
use ringrule_fuzz as shared;

fuzz_target!(|bytes: &[u8]| {
    let source = shared::source(bytes);
    if let Some(subject) = source.and_then(shared::read_as_commands_do)
        && let Content::Event(event, _) = &subject.content
    {
        let mut report = Compliance::new(event, &shared::TABLE);
        report.add(&Judge::new(&shared::TABLE).judge(&shared::BOARD));
        let page = report.opening(ReportFormat::Html);
        // A name in an event is never markup.
        assert!(!page.contains("<script"), "{page}");
        let _ = report.opening(ReportFormat::Markdown);
    }
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    shared::change_text(data, size, max_size, seed)
});
