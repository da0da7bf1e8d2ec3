//! The folder of boards that a desk serves.

use std::collections::HashMap;
use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use jiff::civil::Date;
use rayon::prelude::*;
use ringrule::board::{Board, Validity};
use ringrule::conformity::Judge;
use ringrule::document::{Disk, FileKind, InvalidFile, Source, parse};
use ringrule::history::{Standing, standings};
use ringrule::lint::Finder;
use ringrule::report::Usage;
use ringrule::table::Table;

use super::drafts::Drafts;
use crate::cli::context::{Wanted, collect};

/// A folder, and what is known of its files as long as they do not change.
pub(super) struct Folder {
    /// Without links.
    root: PathBuf,
    known: Mutex<HashMap<PathBuf, (Stamp, File)>>,
    pub(super) drafts: Drafts,
}

/// By what a file that has changed is told.
type Stamp = (Option<SystemTime>, u64);

/// What a file is.
#[derive(Clone)]
enum File {
    Board(Arc<Kept>),
    Unusable(Arc<InvalidFile>),
    /// A table, an event, or another program's file.
    Other,
}

/// What the list needs of a board.
struct Kept {
    id: String,
    day: Option<Date>,
    usage: Usage,
}

/// A board of the list.
pub(super) struct Listed {
    pub(super) id: String,
    pub(super) day: Option<Date>,
    pub(super) usage: Usage,
    /// Its file, from the folder on.
    pub(super) file: String,
    /// Whether a later inspection of the same board decides.
    pub(super) superseded: bool,
}

/// Everything in the folder.
#[derive(Default)]
pub(super) struct All {
    pub(super) boards: Vec<Listed>,
    /// Files that cannot be used, by their names from the folder on.
    pub(super) unusable: Vec<(String, Arc<InvalidFile>)>,
}

impl Folder {
    /// Fails for what is no folder.
    pub(super) fn open(path: &Path) -> std::io::Result<Self> {
        let root = path.canonicalize()?;
        if !root.is_dir() {
            return Err(std::io::ErrorKind::NotADirectory.into());
        }
        Ok(Self {
            drafts: Drafts::beside(&root),
            root,
            known: Mutex::default(),
        })
    }

    pub(super) fn root(&self) -> &Path {
        &self.root
    }

    /// A file's name from the folder on.
    pub(super) fn name(&self, path: &Path) -> String {
        let inside = path.strip_prefix(&self.root).unwrap_or(path);
        inside.display().to_string()
    }

    /// All boards, each judged when its file has changed, and what settings say of their
    /// inspections on a day.
    pub(super) fn all(&self, table: &Table, on: Date) -> All {
        let judge = Judge::new(table);
        // Links that lead out of the folder are none of its files.
        let found = collect(std::slice::from_ref(&self.root), Wanted::Yaml);
        let files = found.files;
        let read = files.par_iter().map(|path| self.file(path, &judge));
        let read: Vec<File> = read.collect();
        let (mut all, mut finder) = (All::default(), Finder::default());
        for invalid_file in found.invalid_files {
            let name = self.name(Path::new(invalid_file.file.name()));
            // A folder without a file is no fault here.
            if !name.is_empty() {
                all.unusable.push((name, Arc::new(invalid_file)));
            }
        }
        for (path, file) in files.iter().zip(read) {
            let name = self.name(path);
            match file {
                File::Other => {}
                File::Unusable(why) => all.unusable.push((name, why)),
                File::Board(kept) => {
                    let settings = finder.settings_for(path, &Disk);
                    let validity: Option<Validity> =
                        settings.ok().and_then(|settings| settings.validity);
                    let due = kept.day.and_then(|day| validity?.due(day, on));
                    all.boards.push(Listed {
                        id: kept.id.clone(),
                        day: kept.day,
                        usage: kept.usage.clone().with_due(due),
                        file: name,
                        superseded: false,
                    });
                }
            }
        }
        let keys: Vec<_> = all
            .boards
            .iter()
            .map(|one| (one.id.clone(), one.day))
            .collect();
        for (listed, standing) in all.boards.iter_mut().zip(standings(&keys)) {
            listed.superseded = matches!(standing, Standing::Superseded { .. });
        }
        all
    }

    /// What a file is, as it was when it was last read, or anew.
    fn file(&self, path: &Path, judge: &Judge<'_>) -> File {
        let stamp = fs::metadata(path).ok().map(|found| stamp(&found));
        let known = || self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if let (Some(stamp), Some((of, file))) = (stamp, known().get(path))
            && stamp == *of
        {
            return file.clone();
        }
        let file = match self.read(path) {
            Ok(Some(board)) => {
                let usage = Usage::of(&judge.judge(&board));
                let (id, day) = board.key();
                let id = id.to_owned();
                File::Board(Arc::new(Kept { id, day, usage }))
            }
            Ok(None) => File::Other,
            Err(why) => File::Unusable(Arc::new(why)),
        };
        if let Some(stamp) = stamp {
            known().insert(path.to_owned(), (stamp, file.clone()));
        }
        file
    }

    /// Reads a board; nothing where the file is of another kind.
    fn read(&self, path: &Path) -> Result<Option<Board>, InvalidFile> {
        let document = parse(Source::read(path, &self.name(path))?)?;
        if FileKind::of(&document).is_some_and(|kind| kind != FileKind::Board) {
            return Ok(None);
        }
        Board::from_document(document).map(Some)
    }

    /// The file of a board that decides, if there is one: its path and what is in it.
    pub(super) fn board(&self, id: &str, table: &Table, on: Date) -> Option<(PathBuf, Board)> {
        let all = self.all(table, on);
        let mut boards = all.boards.iter();
        let listed = boards.find(|one| one.id == id && !one.superseded)?;
        let path = self.root.join(&listed.file);
        let board = self.read(&path).ok()??;
        Some((path, board))
    }

    /// A board by the name of its file.
    pub(super) fn file_of(&self, name: &str) -> Option<(PathBuf, Board)> {
        let path = self.root.join(name);
        let inside = path.canonicalize().ok()?.starts_with(&self.root);
        let board = inside.then(|| self.read(&path).ok()).flatten()??;
        Some((path, board))
    }

    /// The file of a board that holds an inspection of a day, if there is one.
    pub(super) fn of_day(&self, id: &str, day: Option<Date>) -> Option<String> {
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let mut files = known.iter();
        let of = files.find(|(path, (_, file))| {
            let File::Board(kept) = file else {
                return false;
            };
            kept.id == id && kept.day == day && path.exists()
        });
        of.map(|(path, _)| self.name(path))
    }

    /// A path in the folder that no file has.
    pub(super) fn free(&self, stem: &str) -> PathBuf {
        let named = |name: String| self.root.join(format!("{name}.yaml"));
        let first = std::iter::once(named(stem.to_owned()));
        let mut all = first.chain((2_u32..).map(|nth| named(format!("{stem}-{nth}"))));
        let taken = |path: &PathBuf| fs::symlink_metadata(path).is_ok();
        all.find(|path| !taken(path)).unwrap_or_default()
    }

    /// Reads boards by the names of their files, as the list has them.
    pub(super) fn boards(&self, files: &[String], table: &Table, on: Date) -> Vec<Board> {
        let all = self.all(table, on);
        let known = |file: &&String| all.boards.iter().any(|one| one.file == **file);
        let wanted = files.iter().filter(known);
        let read = wanted.filter_map(|file| self.read(&self.root.join(file)).ok()?);
        read.collect()
    }
}

fn stamp(found: &Metadata) -> Stamp {
    (found.modified().ok(), found.len())
}
