//! A file named after another board.

use crate::document::{FileKind, Level};
use crate::lint::subject::Content;
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "id-unlike-name",
    summary: "an id that is at odds with the file's name",
    flags: "A file whose name begins with the same letters as the board's id, or has them after a separator, but with another number.",
    matters: "Files are copied to begin the next one, and the id inside is forgotten: two boards then share one record.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board, FileKind::Sheet],
    failing: Example::board("fl-04.yaml"),
    passing: Example::board("fl-03-lantern.yaml"),
    scope: Scope::File(check),
};

fn check(subject: &Subject, flagged: &mut Vec<Flagged>) {
    let (id, span) = match &subject.content {
        Content::Board(board) => (&board.id, subject.key(&["board", "id"])),
        Content::Sheet(sheet) => (&sheet.board, sheet.head),
        _ => return,
    };
    let Some(source) = subject.source() else {
        return;
    };
    let path = std::path::Path::new(source.name());
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let Some((letters, number)) = letters_and_number(id) else {
        return;
    };
    if number_in(&stem, &letters).is_some_and(|named| named != number) {
        flagged.push(Flagged::new(
            span,
            format!("the board is `{id}`, but the file is named `{stem}`"),
            "correct the id, or rename the file",
        ));
    }
}

/// An inventory id as its letters and its number: `FL-03` is `fl` and `3`.
fn letters_and_number(text: &str) -> Option<(String, String)> {
    let lower = text.to_lowercase();
    let letters: String = lower.chars().take_while(|c| c.is_alphabetic()).collect();
    let rest = lower
        .get(letters.len()..)?
        .trim_start_matches(['-', '_', ' ', '.']);
    let number: String = rest.chars().take_while(char::is_ascii_digit).collect();
    if letters.is_empty() || number.is_empty() {
        return None;
    }
    Some((letters, number.trim_start_matches('0').to_owned()))
}

/// The number in a file's name behind the same letters, if there is one.
fn number_in(stem: &str, letters: &str) -> Option<String> {
    let separated = |c: char| !c.is_alphanumeric();
    let starts =
        std::iter::once(0).chain(stem.match_indices(separated).map(|(at, c)| at + c.len()));
    let mut ids = starts.filter_map(|start| letters_and_number(stem.get(start..)?));
    ids.find(|(found, _)| found == letters)
        .map(|(_, number)| number)
}
