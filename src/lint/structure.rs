//! Faults of structure: what the readers refuse, as findings of the same kind.
//! They always count, and cannot be waived: of a file that cannot be read
//! nothing else can be said.

use super::{FilePlace, Finding, Level, RelatedPlace};
use crate::document::{Fault, InvalidFile};

/// What a fault means, in a line.
pub const fn meaning(fault: Fault) -> &'static str {
    match fault {
        Fault::Unreadable => "the file cannot be opened or is not UTF-8",
        Fault::TooLarge => "the file is larger or deeper than any honest one",
        Fault::Syntax => "the file is not well-formed YAML or CSV",
        Fault::SeveralDocuments => "a second document behind `---`",
        Fault::DuplicateKey => "a key, column or row that is there already",
        Fault::KeyNotPlain => "`<<`, or a key that is no plain word",
        Fault::Tag => "a tag such as `!!float`",
        Fault::AmbiguousScalar => "a value that YAML programs read differently",
        Fault::WrongFormat => "the `format` line is absent or names another format",
        Fault::UnknownKey => "a key or column that the format does not have",
        Fault::MissingKey => "a key or row that the format requires is not there",
        Fault::WrongKind => "a value of another kind than the format has there",
        Fault::UnknownWord => "a word that is none of those allowed",
        Fault::Notation => "a text that is no length, wire size, percentage or day",
        Fault::OutOfRange => "a length that no board has",
        Fault::OneOf => "keys of which exactly one may be given",
        Fault::Contradiction => "two statements that exclude each other, such as overlapping wires",
        Fault::LimitsInverted => "limits the wrong way round",
        Fault::Extends => "an `extends` that cannot be followed, or that forms a ring",
    }
}

/// The findings of a refused file.
pub(super) fn findings(invalid_file: &InvalidFile) -> Vec<Finding> {
    let place = |span| FilePlace::in_text(&invalid_file.file, span);
    let problems = invalid_file.problems.iter();
    let mut findings: Vec<Finding> = problems
        .map(|problem| Finding {
            code: problem.fault.code(),
            level: Level::Error,
            place: place(problem.span),
            message: problem.message.clone(),
            remedy: problem.remedy.clone(),
            related: problem
                .related
                .iter()
                .map(|(span, label)| RelatedPlace {
                    place: place(*span),
                    label: label.clone(),
                })
                .collect(),
            waived: None,
        })
        .collect();
    if let (Some(last), more @ 1..) = (findings.last_mut(), invalid_file.unlisted) {
        last.message
            .push_str(&format!(" (and {more} more problems are not listed)"));
    }
    findings
}
