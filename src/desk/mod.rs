//! The desk: a page at the board instead of a text file. It serves one folder of board
//! files to this computer, or to the room, and keeps what is typed in the same plain
//! files as every other command. The engine judges; pages show and ask.

mod draft;
mod drafts;
mod folder;
mod guard;
mod keep;
#[cfg(test)]
mod keep_checks;
mod keys;
mod live;
mod names;
mod pages;
mod round;
mod routes;
mod save;
mod serve;
mod typed;
mod whole_file;

use std::fs::File;
use std::io;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use ringrule::table::Table;

use folder::Folder;
use keys::Keys;

pub(crate) use keys::Right;
pub(crate) use serve::open_desk;

/// What a desk is opened with.
pub(crate) struct Opening {
    /// The folder of board files.
    pub(crate) folder: PathBuf,
    /// What boards are judged by.
    pub(crate) table: Table,
    /// The port, or any that is free.
    pub(crate) port: u16,
    /// What others in the room may do, if it is open to them.
    pub(crate) share: Option<Right>,
}

/// What every request needs.
pub(super) struct State {
    folder: Folder,
    table: Table,
    keys: Mutex<Keys>,
    /// Who writes waits for who writes: two screens never mix their words.
    writing: Mutex<()>,
    /// The names by which a browser may call this computer.
    hosts: Vec<String>,
    /// The links for the room, printed anew when one was used.
    used: tokio::sync::Notify,
}

type Shared = Arc<State>;

/// What somebody who writes holds.
pub(super) struct Writing<'a> {
    _here: MutexGuard<'a, ()>,
    _elsewhere: File,
}

impl State {
    /// Waits until nobody else writes, here or at another desk on the same folder.
    fn writing(&self) -> io::Result<Writing<'_>> {
        let here = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        let elsewhere = self.folder.drafts.lock()?;
        Ok(Writing {
            _here: here,
            _elsewhere: elsewhere,
        })
    }
}
