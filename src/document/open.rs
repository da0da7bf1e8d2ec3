//! Reading a file or a stream as text, within the budget.

use std::fs::{File, Metadata};
use std::io::Read;
use std::path::Path;

use super::{InvalidFile, Recognised, Source, budget};

/// Where texts of files come from, for readers that follow a path which a file
/// names. A program that must know what it has read has one of its own.
pub trait Files: Sync {
    /// The text of the file at `path`, under the name that diagnostics print.
    fn read(&self, path: &Path, name: &str) -> Result<Source, InvalidFile>;
}

/// Files as they lie on the disk.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

impl Files for Disk {
    fn read(&self, path: &Path, name: &str) -> Result<Source, InvalidFile> {
        Source::read(path, name)
    }
}

impl Source {
    /// Reads a file as UTF-8 text and names it. Reading stops a little behind
    /// the budget, so that an endless file costs no memory;
    /// that it is too large is then said by the parser.
    pub fn read(path: &Path, name: &str) -> Result<Self, InvalidFile> {
        let found = std::fs::metadata(path).ok();
        if found.as_ref().is_some_and(Metadata::is_dir) {
            let remedy =
                "name the file itself; only `validate`, `report` and `lint` also take folders";
            return Err(InvalidFile::unreadable(name, "this is a folder", remedy));
        }
        if found.as_ref().is_some_and(|found| !found.is_file()) && !was_opened(path) {
            let why = "this is a pipe or a device, and not a file";
            let remedy = "name a file, or read from standard input with `-`";
            return Err(InvalidFile::unreadable(name, why, remedy));
        }
        let unreadable = |error| {
            let why = format!("this file cannot be read: {error}");
            InvalidFile::unreadable(name, &why, "check the path")
        };
        let file = File::open(path).map_err(unreadable)?;
        let size = found.map_or(0, |found| found.len());
        Self::from_stream(file, usize::try_from(size).unwrap_or_default(), name)
    }

    /// The same from a stream that is open already, such as standard input.
    pub fn from_reader(stream: impl Read, name: &str) -> Result<Self, InvalidFile> {
        Self::from_stream(stream, 0, name)
    }

    /// `size` is how many bytes there seem to be.
    fn from_stream(stream: impl Read, size: usize, name: &str) -> Result<Self, InvalidFile> {
        // One more, so that the end is found without a larger buffer.
        let mut bytes = Vec::with_capacity(size.min(budget::BYTES) + 1);
        let limit = u64::try_from(budget::BYTES)
            .unwrap_or(u64::MAX)
            .saturating_add(1);
        if let Err(error) = stream.take(limit).read_to_end(&mut bytes) {
            let why = format!("this file cannot be read: {error}");
            return Err(InvalidFile::unreadable(name, &why, "check the path"));
        }
        if let Some(kind) = Recognised::of_bytes(&bytes) {
            return Err(kind.invalid(name, &format!("this is {}", kind.phrase())));
        }
        match String::from_utf8(bytes) {
            Ok(text) if text.len() > budget::BYTES => Ok(Self::new(name, text).cut()),
            Ok(text) => Ok(Self::new(name, text)),
            Err(error) => {
                let at = error.utf8_error().valid_up_to();
                let before = error.as_bytes().iter().take(at);
                let line = before.filter(|&&byte| byte == b'\n').count() + 1;
                Err(InvalidFile::unreadable(
                    name,
                    &format!("line {line} holds a byte that is not UTF-8 text"),
                    "save the file as UTF-8",
                ))
            }
        }
    }
}

/// Whether a path leads to a pipe, a socket or a device: reading one may never end. What a
/// shell has opened for a command that stands in the place of a file is none of them.
pub fn is_special(path: &Path) -> bool {
    let special = |found: Metadata| !found.is_file() && !found.is_dir();
    !was_opened(path) && std::fs::metadata(path).is_ok_and(special)
}

fn was_opened(path: &Path) -> bool {
    let opened = ["/dev/fd", "/dev/stdin", "/proc/self/fd"];
    opened.iter().any(|opened| path.starts_with(opened))
}
