//! Where an extended table may be read from.

use std::path::{Component, Path, PathBuf};

use thiserror::Error;

use crate::document::{Disk, Files, InvalidFile, Source};

/// Why an extended table is not at hand.
#[derive(Debug, Error)]
#[error("{}; {}", self.message(), self.remedy())]
#[non_exhaustive]
pub enum ShelfError {
    /// The table that extends was read from a text: there is no folder to look
    /// in.
    NoFolder,
    /// The name leads out of the table's folder tree.
    Outside(String),
    /// There is no such file, or it cannot be reached.
    Missing {
        /// The file.
        name: String,
        /// What the system says, where it was asked.
        source: Option<std::io::Error>,
    },
    /// The file is there but cannot be used.
    Invalid(#[source] Box<InvalidFile>),
}

impl ShelfError {
    /// What is wrong, without the remedy.
    pub fn message(&self) -> String {
        match self {
            Self::NoFolder => "this table was read from a text without a folder".to_owned(),
            Self::Outside(name) => {
                format!("`{name}` leads out of the table's own folder tree")
            }
            Self::Missing { name, .. } => format!("there is no readable file `{name}`"),
            Self::Invalid(invalid_file) => invalid_file.to_string(),
        }
    }

    /// Whether there is no such file, rather than one that cannot be used.
    pub const fn is_absence(&self) -> bool {
        matches!(self, Self::NoFolder | Self::Missing { .. })
    }

    /// What to do.
    pub const fn remedy(&self) -> &'static str {
        "name a table by its path relative to this file, such as `league.yaml`, or one that is built \
         in, such as `wdf`"
    }
}

/// Hands out tables by the name in an `extends`.
pub trait Shelf {
    /// The text of the table `name`, as seen from the table `from`: the name
    /// of the one that extends it.
    fn fetch(&self, from: &str, name: &str) -> Result<Source, ShelfError>;
}

/// Tables that may not extend anything.
impl Shelf for () {
    fn fetch(&self, _from: &str, _name: &str) -> Result<Source, ShelfError> {
        Err(ShelfError::NoFolder)
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
    fn fetch(&self, from: &str, name: &str) -> Result<Source, ShelfError> {
        let relative = Path::new(name);
        let plain = |part| matches!(part, Component::Normal(_) | Component::CurDir);
        let beside = Path::new(from).parent().unwrap_or(Path::new(""));
        // `..` is resolved here, before the file system can follow a link.
        if relative.is_absolute() || !relative.components().all(plain) {
            return Err(ShelfError::Outside(name.to_owned()));
        }
        let path = beside.join(relative);
        let missing = |error| ShelfError::Missing {
            name: path.display().to_string(),
            source: Some(error),
        };
        let root = if self.root.as_os_str().is_empty() {
            Path::new(".")
        } else {
            &self.root
        };
        let real_root = root.canonicalize().map_err(missing)?;
        let real = path.canonicalize().map_err(missing)?;
        if !real.starts_with(&real_root) {
            return Err(ShelfError::Outside(name.to_owned()));
        }
        self.files
            .read(&real, &path.display().to_string())
            .map_err(|invalid_file| ShelfError::Invalid(Box::new(invalid_file)))
    }
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use std::error::Error;

    use super::*;

    #[test]
    fn what_is_not_at_hand_is_named_with_its_remedy_and_its_cause() {
        let shelf = shelf_of(Path::new("tolerances/wdf.yaml"));
        let fault = |name| {
            shelf
                .fetch("tolerances/wdf.yaml", name)
                .expect_err("no table")
        };
        let missing = fault("nowhere.yaml");
        let words = missing.to_string();
        assert!(words.contains("nowhere.yaml`; name a table"), "{words}");
        assert!(missing.source().is_some(), "the system's own words");
        assert!(matches!(fault("../x.yaml"), ShelfError::Outside(name) if name == "../x.yaml"));
        let alone = ().fetch("text", "wdf.yaml").expect_err("no folder");
        assert!(matches!(alone, ShelfError::NoFolder));
        // A folder is there, and is no table: the file's own problem is kept.
        let folder = shelf_of(Path::new("specs/demo/a.yaml")).fetch("specs/demo/a.yaml", "sheets");
        let folder = folder.expect_err("a folder");
        let cause = folder.source().map(ToString::to_string);
        assert!(cause.is_some_and(|cause| cause.contains("this is a folder")));
    }
}
