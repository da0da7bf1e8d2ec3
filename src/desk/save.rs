//! Saving: an inspection becomes a board file, or part of one that is there.

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
    let Some((path, board)) = current else {
        let path = free(folder, &names::plain(&round.board));
        return Ok(Plan::of(folder, path, String::new(), yaml, None));
    };
    let document = &board.document;
    let last = board.inspection.as_ref().and_then(|own| own.date);
    let measured = !board.construction.inputs.is_empty();
    // An earlier inspection stays what it was: history compares the two.
    let earlier = measured && last.is_none_or(|last| last < round.begun);
    let why = if earlier {
        "the file that is there is of an earlier inspection"
    } else {
        match keep::into_existing(document, &yaml) {
            Some(after) => {
                let before = document.source.text().to_owned();
                return Ok(Plan::of(folder, path, before, after, None));
            }
            None => {
                "the readings cannot be put into the file that is there without losing something"
            }
        }
    };
    let after = keep::carrying(document, &yaml).unwrap_or(yaml);
    let stem = format!("{}-{}", names::plain(&round.board), round.begun);
    let path = free(folder, &stem);
    Ok(Plan::of(folder, path, String::new(), after, Some(why)))
}

/// A name in the folder that no file has.
fn free(folder: &Folder, stem: &str) -> PathBuf {
    let named = |name: String| folder.root().join(format!("{name}.yaml"));
    let mut all = std::iter::once(named(stem.to_owned()))
        .chain((2_u32..).map(|nth| named(format!("{stem}-{nth}"))));
    let taken = |path: &PathBuf| std::fs::symlink_metadata(path).is_ok();
    all.find(|path| !taken(path)).unwrap_or_default()
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
