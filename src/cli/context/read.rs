//! Inputs of several kinds, every invalid file reported and not the first alone.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::document::{Document, FileKind, InvalidFile, parse};
use ringrule::table::Table;
use thiserror::Error;

use super::find::Wanted;
use super::inputs::Inputs;
use super::{Context, Stop};

/// What was read, or nothing where files are invalid and others shall be read
/// before that is said.
pub(crate) fn usable<T>(
    read: Result<T, impl Into<Stop>>,
    invalid_files: &mut Vec<InvalidFile>,
) -> Result<Option<T>, Stop> {
    match read.map_err(Into::into) {
        Ok(read) => Ok(Some(read)),
        Err(Stop::Files(files)) => {
            invalid_files.extend(files);
            Ok(None)
        }
        Err(said) => Err(said),
    }
}

/// Everything that was read, or every file that could not be.
pub(crate) fn all_read<T>(
    read: impl IntoIterator<Item = Result<T, InvalidFile>>,
) -> Result<Vec<T>, Stop> {
    let mut invalid_files = Vec::new();
    let read = read.into_iter();
    let read = read.filter_map(|one| one.map_err(|file| invalid_files.push(file)).ok());
    let all = read.collect();
    if invalid_files.is_empty() {
        return Ok(all);
    }
    Err(Stop::Files(invalid_files))
}

impl Context {
    /// A table and a board, every invalid file reported.
    pub(crate) fn table_and_board(
        &mut self,
        table: Option<&Path>,
        board: &Path,
    ) -> Result<(Table, Board), Stop> {
        let mut invalid_files = Vec::new();
        let table = self.table(table, &[board.to_owned()]);
        let table = usable(table, &mut invalid_files)?;
        let board = self.inputs.text(board).and_then(Board::read);
        let board = usable(board, &mut invalid_files)?;
        let both = table.zip(board);
        both.ok_or(Stop::Files(invalid_files))
    }

    /// Every board that these paths lead to, and the invalid files among them.
    pub(crate) fn boards(&mut self, paths: &[PathBuf]) -> (Vec<Board>, Vec<InvalidFile>) {
        let found = self.find(paths, Wanted::Yaml);
        let mut invalid_files = found.invalid_files;
        let read = self.read_boards(&found.files, paths).into_iter();
        let read = read.filter_map(|one| one.map_err(|file| invalid_files.push(file)).ok());
        (read.collect(), invalid_files)
    }

    /// The boards in files, some of which the user named. What else was found in a
    /// folder is left out, with a note.
    pub(crate) fn read_boards(
        &mut self,
        files: &[PathBuf],
        named: &[PathBuf],
    ) -> Vec<Result<Board, InvalidFile>> {
        let inputs = self.inputs();
        let read = files.par_iter();
        let read = read.map(|path| read_board(path, named.contains(path), &inputs));
        let read: Vec<_> = read.collect();
        let read = read.into_iter();
        let read = read.filter_map(|one| one.map_err(|note| self.note(&note.to_string())).ok());
        let read: Vec<_> = read.collect();
        for board in read.iter().flatten() {
            let source = &board.document.source;
            if source.open_line().is_some() {
                self.note(&format!(
                    "note: the last line of {} has no end: if the file was cut short, numbers may \
                     be too",
                    source.name()
                ));
            }
        }
        read
    }
}

/// A file in a folder of boards that is none.
#[derive(Debug, Error)]
#[error("note: {name} is {kind} and was left out")]
struct LeftOut {
    name: String,
    kind: &'static str,
}

/// Reads a board, or says that the file is something else that the user did not
/// name.
fn read_board(
    path: &Path,
    named: bool,
    inputs: &Inputs,
) -> Result<Result<Board, InvalidFile>, LeftOut> {
    let document = match inputs.text(path).and_then(parse) {
        Ok(document) => document,
        Err(invalid_file) => return Ok(Err(invalid_file)),
    };
    if let Some(kind) = other_kind(&document).filter(|_| !named) {
        let name = document.source.name().to_owned();
        return Err(LeftOut { name, kind });
    }
    Ok(Board::from_document(document))
}

/// What a file in a folder of boards is instead of one, if it says so: a folder
/// may hold the tables and events that belong to its boards.
fn other_kind(document: &Document) -> Option<&'static str> {
    match FileKind::of(document)? {
        kind @ (FileKind::Table | FileKind::Event) => Some(kind.phrase()),
        _ => None,
    }
}
