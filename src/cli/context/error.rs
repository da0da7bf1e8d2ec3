//! What keeps a file from being written.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// A file that was not written.
#[derive(Debug, Error)]
pub(crate) enum OutputError {
    #[error("`{}` is an input of this run and was left as it is", .0.display())]
    Input(PathBuf),
    #[error("`{}` is not an ordinary file and was left as it is", .0.display())]
    NotOrdinary(PathBuf),
    #[error("`{}` is there already: choose another name, or add `--overwrite`", .0.display())]
    Exists(PathBuf),
    #[error("`{}` is named twice as an output", .0.display())]
    NamedTwice(PathBuf),
    #[error(
        "`{}` would be written twice: two boards have the id `{id}`, or ids that give the same file name",
        path.display()
    )]
    SharedId { path: PathBuf, id: String },
    #[error("`{}` is no name of a file", .0.display())]
    NoName(PathBuf),
    #[error("`{}` was not written: {}", path.display(), why(source))]
    Failed { path: PathBuf, source: io::Error },
}

impl OutputError {
    pub(super) fn failed(path: &Path, source: io::Error) -> Self {
        let path = path.to_owned();
        Self::Failed { path, source }
    }
}

fn why(error: &io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "its folder does not exist".to_owned(),
        ErrorKind::NotADirectory => "what should be its folder is a file".to_owned(),
        ErrorKind::PermissionDenied => "its folder may not be written to".to_owned(),
        ErrorKind::InvalidFilename => "the system does not take this name".to_owned(),
        other => other.to_string(),
    }
}
