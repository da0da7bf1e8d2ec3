//! Drafts on the disk: a folder beside the boards, for each inspection of a board one, in
//! it a sheet for each person. Nothing in it is ever deleted.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::draft::Draft;
use super::names;
use super::whole_file::{self, Existing};

/// The folder's name. Others pass over it, since it begins with a point.
const HIDDEN: &str = ".desk";
/// What an inspection was saved as.
const SAVED: &str = "saved";
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
        match all.iter().find(|folder| is_link(folder)) {
            None => Ok(()),
            Some(folder) => {
                let name = folder.display();
                let why = format!("{name} is a link: put a folder in its place");
                Err(io::Error::new(io::ErrorKind::PermissionDenied, why))
            }
        }
    }

    /// Waits for whoever else writes drafts in this folder, another desk as well; until the
    /// file is closed.
    pub(super) fn lock(&self) -> io::Result<File> {
        if is_link(&self.root) {
            let why = format!(
                "{} is a link: put a folder in its place",
                self.root.display()
            );
            return Err(io::Error::new(io::ErrorKind::PermissionDenied, why));
        }
        fs::create_dir_all(&self.root)?;
        let lock = File::create(self.root.join("lock"))?;
        lock.lock()?;
        Ok(lock)
    }

    /// The inspections of a board that were begun, the latest first.
    pub(super) fn rounds(&self, board: &str) -> Vec<Round> {
        if is_link(&self.root) {
            return Vec::new();
        }
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

    /// The drafts of an inspection, in the order of their files' names, and the names of
    /// those that cannot be read.
    pub(super) fn of(&self, round: &Round) -> (Vec<Draft>, Vec<String>) {
        let (mut drafts, mut unreadable) = (Vec::new(), Vec::new());
        if self.stays_inside(round).is_err() {
            return (drafts, unreadable);
        }
        let files = fs::read_dir(self.of_round(round)).into_iter().flatten();
        let paths = files.filter_map(|entry| Some(entry.ok()?.path()));
        let mut paths: Vec<PathBuf> = paths
            .filter(|path| path.extension().is_some_and(|ending| ending == "csv"))
            .collect();
        paths.sort();
        for path in &paths {
            match read(path) {
                Some(draft) => drafts.push(draft),
                None => unreadable.push(path.display().to_string()),
            }
        }
        (drafts, unreadable)
    }

    /// One person's draft.
    pub(super) fn one(&self, round: &Round, person: &str) -> Option<Draft> {
        self.stays_inside(round).ok()?;
        read(&self.path(round, person))
    }

    /// Whether there is a file of one person's draft, readable or not.
    pub(super) fn is_there(&self, round: &Round, person: &str) -> bool {
        fs::symlink_metadata(self.path(round, person)).is_ok()
    }

    /// Keeps a draft; when this returns, it is on the disk.
    pub(super) fn keep(&self, round: &Round, draft: &Draft) -> io::Result<()> {
        self.stays_inside(round)?;
        fs::create_dir_all(self.of_round(round))?;
        let path = self.path(round, draft.fact("inspector"));
        whole_file::write(&path, draft.to_csv().as_bytes(), Existing::Replace)
    }

    /// The file that an inspection was saved as, from the folder of boards on.
    pub(super) fn saved(&self, round: &Round) -> Option<String> {
        self.stays_inside(round).ok()?;
        let name = fs::read_to_string(self.of_round(round).join(SAVED)).ok()?;
        Some(name.trim().to_owned()).filter(|name| !name.is_empty())
    }

    /// Remembers what an inspection was saved as.
    pub(super) fn remember(&self, round: &Round, file: &str) -> io::Result<()> {
        self.stays_inside(round)?;
        let path = self.of_round(round).join(SAVED);
        whole_file::write(&path, format!("{file}\n").as_bytes(), Existing::Replace)
    }
}

fn is_link(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|found| found.is_symlink())
}

/// Links are not followed: nothing outside the folder is read.
fn read(path: &Path) -> Option<Draft> {
    let found = fs::symlink_metadata(path).ok()?;
    if !found.is_file() || found.len() > LARGEST {
        return None;
    }
    let draft = Draft::from_csv(&fs::read_to_string(path).ok()?);
    // One that another program has saved in its own way has lost whose it is.
    let own = format!("{}.csv", names::unique(draft.fact("inspector")));
    let is_own = path.file_name().is_some_and(|name| name == own.as_str());
    (is_own && !draft.fact("board").is_empty()).then_some(draft)
}
