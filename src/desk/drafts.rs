//! Drafts on the disk: a folder beside the boards, for each inspection of a board one, in
//! it a sheet for each person. Nothing in it is ever deleted.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::draft::Draft;
use super::names;
use super::whole_file::{self, Existing};

/// The folder's name. Others pass over it, since it begins with a point.
const HIDDEN: &str = ".desk";
/// A draft is a few kilobytes; more is none of ours.
const LARGEST: u64 = 1 << 20;

/// The drafts of one folder of boards.
pub(super) struct Drafts {
    root: PathBuf,
}

/// One inspection of a board: the day on which it was begun.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Round {
    pub(super) board: String,
    pub(super) begun: Date,
}

impl Drafts {
    pub(super) fn beside(folder: &Path) -> Self {
        Self {
            root: folder.join(HIDDEN),
        }
    }

    fn of_board(&self, board: &str) -> PathBuf {
        self.root.join(names::unique(board))
    }

    fn of_round(&self, round: &Round) -> PathBuf {
        self.of_board(&round.board).join(round.begun.to_string())
    }

    fn path(&self, round: &Round, person: &str) -> PathBuf {
        let name = format!("{}.csv", names::unique(person));
        self.of_round(round).join(name)
    }

    /// Refuses a folder of ours that is a link: it may lead anywhere.
    fn stays_inside(&self, round: &Round) -> io::Result<()> {
        let all = [
            self.root.clone(),
            self.of_board(&round.board),
            self.of_round(round),
        ];
        for folder in all {
            if fs::symlink_metadata(&folder).is_ok_and(|found| found.is_symlink()) {
                let why = format!("{} is a link", folder.display());
                return Err(io::Error::new(io::ErrorKind::PermissionDenied, why));
            }
        }
        Ok(())
    }

    /// The inspections of a board that were begun, the latest first.
    pub(super) fn rounds(&self, board: &str) -> Vec<Round> {
        let folders = fs::read_dir(self.of_board(board)).into_iter().flatten();
        let begun = folders.filter_map(|entry| entry.ok()?.file_name().to_str()?.parse().ok());
        let mut begun: Vec<Date> = begun.collect();
        begun.sort_unstable_by(|a, b| b.cmp(a));
        let round = |begun| Round {
            board: board.to_owned(),
            begun,
        };
        begun.into_iter().map(round).collect()
    }

    /// The drafts of an inspection, in the order of their files' names.
    pub(super) fn of(&self, round: &Round) -> Vec<Draft> {
        let files = fs::read_dir(self.of_round(round)).into_iter().flatten();
        let paths = files.filter_map(|entry| Some(entry.ok()?.path()));
        let mut paths: Vec<PathBuf> = paths
            .filter(|path| path.extension().is_some_and(|ending| ending == "csv"))
            .collect();
        paths.sort();
        paths.iter().filter_map(|path| read(path)).collect()
    }

    /// One person's draft.
    pub(super) fn one(&self, round: &Round, person: &str) -> Option<Draft> {
        read(&self.path(round, person))
    }

    /// Keeps a draft; when this returns, it is on the disk.
    pub(super) fn keep(&self, round: &Round, draft: &Draft) -> io::Result<()> {
        self.stays_inside(round)?;
        fs::create_dir_all(self.of_round(round))?;
        let path = self.path(round, draft.fact("inspector"));
        whole_file::write(&path, draft.to_csv().as_bytes(), Existing::Replace)
    }
}

/// Links are not followed: nothing outside the folder is read.
fn read(path: &Path) -> Option<Draft> {
    let found = fs::symlink_metadata(path).ok()?;
    if !found.is_file() || found.len() > LARGEST {
        return None;
    }
    let text = fs::read_to_string(path).ok()?;
    Some(Draft::from_csv(&text))
}
