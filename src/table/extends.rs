//! Where an extended table may be read from.

use std::path::{Component, Path, PathBuf};

use crate::document::{Disk, Files, Source};

/// Hands out tables by the name in an `extends`.
///
/// `from` is the name of the table that extends; an error is a sentence for
/// the user.
pub trait Shelf {
    /// The text of the table `name`, as seen from the table `from`.
    fn fetch(&self, from: &str, name: &str) -> Result<Source, String>;
}

/// Tables that may not extend anything.
impl Shelf for () {
    fn fetch(&self, _from: &str, _name: &str) -> Result<Source, String> {
        Err("this table was read from a text without a folder".to_owned())
    }
}

/// A folder tree that no `extends` leads out of.
struct Folder<'f> {
    root: PathBuf,
    files: &'f dyn Files,
}

/// The shelf for a table file: its own folder and what lies below.
pub fn shelf_of(table: &Path) -> impl Shelf {
    shelf_through(table, &Disk)
}

/// The same, with every file read through `files`.
pub fn shelf_through<'f>(table: &Path, files: &'f dyn Files) -> impl Shelf + use<'f> {
    Folder {
        root: table.parent().unwrap_or(Path::new("")).to_owned(),
        files,
    }
}

impl Shelf for Folder<'_> {
    fn fetch(&self, from: &str, name: &str) -> Result<Source, String> {
        let relative = Path::new(name);
        let plain = |part| matches!(part, Component::Normal(_) | Component::CurDir);
        let beside = Path::new(from).parent().unwrap_or(Path::new(""));
        // `..` is resolved here, before the file system can follow a link.
        if relative.is_absolute() || !relative.components().all(plain) {
            return Err(format!("`{name}` leads out of the table's own folder tree"));
        }
        let path = beside.join(relative);
        let missing = |_| format!("there is no readable file `{}`", path.display());
        let root = if self.root.as_os_str().is_empty() {
            Path::new(".")
        } else {
            &self.root
        };
        let real_root = root.canonicalize().map_err(missing)?;
        let real = path.canonicalize().map_err(missing)?;
        if !real.starts_with(&real_root) {
            return Err(format!("`{name}` leads out of the table's own folder tree"));
        }
        self.files
            .read(&real, &path.display().to_string())
            .map_err(|invalid_file| invalid_file.to_string())
    }
}
