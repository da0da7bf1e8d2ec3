//! Every file that a run reads, remembered by what it is and not by how it was
//! called.

use std::collections::HashSet;
use std::fs::{self, File, Metadata};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock, PoisonError};

use ringrule::document::{Encoding, Files, InvalidFile, Source, budget, is_special};
use ringrule::lint::Input;

/// The path that stands for standard input.
pub(crate) const STANDARD_INPUT: &str = "-";

/// What a file is, whatever links lead to it.
pub(super) type Identity = (u64, u64);

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "other systems do not say")]
pub(super) fn identity(found: &Metadata) -> Option<Identity> {
    use std::os::unix::fs::MetadataExt;
    Some((found.dev(), found.ino()))
}

#[cfg(not(unix))]
pub(super) fn identity(_: &Metadata) -> Option<Identity> {
    None
}

/// Reads files for a run, and knows which it has read.
#[derive(Debug, Default)]
pub(crate) struct Inputs {
    stdin_name: OnceLock<String>,
    known: Mutex<Known>,
}

#[derive(Debug, Default)]
struct Known {
    /// As they were called: what they are is looked up when something is to be written.
    called: Vec<PathBuf>,
    paths: HashSet<PathBuf>,
    identities: HashSet<Identity>,
}

impl Inputs {
    /// What diagnostics call standard input.
    pub(crate) fn name_standard_input(&self, name: &str) {
        // A command names it once.
        let _ = self.stdin_name.set(name.to_owned());
    }

    pub(super) fn standard_input_name(&self) -> &str {
        self.stdin_name.get().map_or("standard input", |name| name)
    }

    /// Reads a file under the name that the user gave it, or standard input.
    pub(crate) fn text(&self, path: &Path) -> Result<Source, InvalidFile> {
        self.read(path, &path.display().to_string())
    }

    /// Reads a CSV file in the characters that are declared, if any.
    pub(crate) fn csv(
        &self,
        path: &Path,
        encoding: Option<Encoding>,
    ) -> Result<Source, InvalidFile> {
        let name = path.display().to_string();
        if path.as_os_str() == STANDARD_INPUT || path.is_dir() {
            return self.text(path);
        }
        let unreadable = |error| {
            let why = format!("this file cannot be read: {error}");
            InvalidFile::unreadable(&name, &why, "check the path")
        };
        if is_special(path) {
            // Which says so.
            return self.text(path);
        }
        self.remember(path);
        let file = File::open(path).map_err(unreadable)?;
        let mut bytes = Vec::new();
        // An endless file costs no memory.
        let limit = u64::try_from(budget::BYTES).unwrap_or(u64::MAX);
        let read = file.take(limit.saturating_add(1)).read_to_end(&mut bytes);
        read.map_err(unreadable)?;
        Source::of_bytes(&name, bytes, encoding, budget::BYTES)
    }

    /// A file for `lint`, which reads it itself unless it is standard input.
    pub(crate) fn to_lint(&self, path: &Path) -> Result<Input, InvalidFile> {
        if path.as_os_str() != STANDARD_INPUT {
            return Ok(Input::File(path.to_owned()));
        }
        Ok(Input::Text(Box::new(self.text(path)?)))
    }

    /// The bytes of a file.
    pub(crate) fn bytes(&self, path: &Path) -> io::Result<Vec<u8>> {
        if is_special(path) {
            let why = "this is a pipe or a device, and not a file";
            return Err(io::Error::new(io::ErrorKind::InvalidInput, why));
        }
        self.remember(path);
        let mut bytes = Vec::new();
        File::open(path)?.read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// Whether this is a file that was read, by whatever name.
    pub(super) fn contain(&self, path: &Path) -> bool {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let called = std::mem::take(&mut known.called).into_iter();
        known
            .paths
            .extend(called.filter_map(|p| p.canonicalize().ok()));
        let same_path = path.canonicalize().is_ok_and(|p| known.paths.contains(&p));
        let found = fs::metadata(path).ok();
        let identity = found.as_ref().and_then(identity);
        same_path || identity.is_some_and(|identity| known.identities.contains(&identity))
    }

    fn remember(&self, path: &Path) {
        let found = fs::metadata(path).ok();
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        known.called.push(path.to_owned());
        known.identities.extend(found.as_ref().and_then(identity));
    }

    fn standard_input(&self) -> Result<Source, InvalidFile> {
        // A shell may have opened a file for it.
        #[cfg(unix)]
        {
            use std::os::fd::AsFd;
            let own = io::stdin().as_fd().try_clone_to_owned();
            let found = own.and_then(|own| File::from(own).metadata()).ok();
            let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
            known.identities.extend(found.as_ref().and_then(identity));
        }
        Source::from_reader(io::stdin().lock(), self.standard_input_name())
    }
}

impl Files for Inputs {
    fn read(&self, path: &Path, name: &str) -> Result<Source, InvalidFile> {
        if path.as_os_str() == STANDARD_INPUT {
            return self.standard_input();
        }
        self.remember(path);
        Source::read(path, name)
    }
}
