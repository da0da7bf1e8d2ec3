//! Saving: an inspection becomes a board file, or part of one that is there.

use std::fs;
use std::io;
use std::path::PathBuf;

use ringrule::board::Board;
use ringrule::document::{Document, Source, parse};
use ringrule::readings::{Pooled, to_yaml};
use sha2::{Digest, Sha256};
use thiserror::Error;

use super::drafts::Round;
use super::folder::Folder;
use super::keep;
use super::names;
use super::whole_file::{self, Existing};

/// What saving would do.
pub(super) struct Plan {
    /// The file, from the folder on.
    pub(super) file: String,
    path: PathBuf,
    /// What is there now; nothing where the file is new.
    pub(super) before: String,
    /// What it will be.
    pub(super) after: String,
    /// By which whoever has seen this plan shows that the file has not changed since.
    pub(super) seen: String,
    /// Why the file that is there is left as it is, and another one made.
    pub(super) beside: Option<&'static str>,
}

/// Why nothing was saved.
#[derive(Debug, Error)]
pub(super) enum NotSaved {
    #[error("the file has been changed since this page was made: look at it again below")]
    Changed,
    #[error("`{0}` is a link, which saving would replace by a file: put the file itself there")]
    Link(String),
    #[error(
        "`{0}` holds readings that were not typed at this desk, or is written in a way that \
             saving would lose something: bring the sheets together with `ringrule pool`"
    )]
    Others(String),
    #[error(
        "`{0}` holds an inspection of the same day, and one board cannot have two of a day: \
             begin under the day on which you measure, or bring the sheets together with \
             `ringrule pool`"
    )]
    SameDay(String),
    #[error("the board file cannot be written as YAML")]
    NoYaml,
    #[error(
        "the file could not be written, and is as it was: {0}; see whether the disk is full, \
             and whether you may write there"
    )]
    Write(#[from] io::Error),
}

/// Plans to save a round's readings. `current` is the board's file that decides now.
pub(super) fn plan(
    folder: &Folder,
    round: &Round,
    pooled: &Pooled,
    current: Option<(PathBuf, Board)>,
) -> Result<Plan, NotSaved> {
    let people = pooled.inspectors.len();
    let plural = if people == 1 { "person" } else { "people" };
    let note = format!("Measured at the desk by {people} {plural}.");
    let yaml = to_yaml(&pooled.file, &note).ok_or(NotSaved::NoYaml)?;
    let of = |path: PathBuf, before: &str, after, beside| {
        if fs::symlink_metadata(&path).is_ok_and(|found| found.is_symlink()) {
            return Err(NotSaved::Link(folder.name(&path)));
        }
        Ok(Plan::of(folder, path, before.to_owned(), after, beside))
    };
    // What this inspection was saved as before is its own.
    if let Some((path, board)) = folder
        .drafts
        .saved(round)
        .and_then(|name| folder.file_of(&name))
    {
        let document = &board.document;
        let after = keep::into_existing(document, &yaml);
        let after = after.ok_or_else(|| NotSaved::Others(folder.name(&path)))?;
        return of(path, document.source.text(), after, None);
    }
    let Some((path, board)) = current else {
        let path = folder.free(&names::plain(&round.board));
        return of(path, "", yaml, None);
    };
    let document = &board.document;
    // A file that says what a board is and nothing of its lengths waits for them.
    if board.construction.inputs.is_empty()
        && let Some(after) = keep::into_existing(document, &yaml)
    {
        return of(path, document.source.text(), after, None);
    }
    // Any other inspection stays what it is: history compares the two.
    let day = pooled.board.inspection.as_ref().and_then(|own| own.date);
    if let Some(other) = folder.of_day(&round.board, day) {
        return Err(NotSaved::SameDay(other));
    }
    let after = keep::carrying(document, &yaml).unwrap_or(yaml);
    let stem = format!("{}-{}", names::plain(&round.board), round.begun);
    let why = "the file that is there holds another inspection";
    of(folder.free(&stem), "", after, Some(why))
}

impl Plan {
    fn of(
        folder: &Folder,
        path: PathBuf,
        before: String,
        after: String,
        beside: Option<&'static str>,
    ) -> Self {
        Self {
            file: folder.name(&path),
            seen: digest(&before),
            path,
            before,
            after,
            beside,
        }
    }

    /// The board that the file will hold.
    pub(super) fn board(&self) -> Option<Board> {
        let document: Document = parse(Source::new(self.file.clone(), self.after.clone())).ok()?;
        Board::from_document(document).ok()
    }

    /// Does it, if the file is still what whoever saves has seen; when this returns, it is
    /// on the disk.
    pub(super) fn carry_out(&self, seen: &str) -> Result<(), NotSaved> {
        if seen != self.seen {
            return Err(NotSaved::Changed);
        }
        let existing = if self.before.is_empty() {
            Existing::Refuse
        } else {
            Existing::Replace
        };
        whole_file::write(&self.path, self.after.as_bytes(), existing)?;
        Ok(())
    }
}

fn digest(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    digest
        .iter()
        .take(16)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
