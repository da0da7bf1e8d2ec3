//! Files are written whole or not at all, and never over something by accident.

use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};

use clap::Args;
use tempfile::{NamedTempFile, TempPath};

/// Where the result goes.
#[derive(Debug, Args)]
pub(crate) struct Output {
    /// Write to this file instead of standard output.
    #[arg(long, short, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Replace the file if it is there already.
    #[arg(long, requires = "output")]
    overwrite: bool,
}

impl Output {
    /// Writes all bytes, or says why nothing was written. A file that the
    /// run has read is never written over.
    pub(crate) fn write(
        &self,
        path: &Path,
        bytes: &[u8],
        inputs: &[PathBuf],
    ) -> Result<PathBuf, String> {
        let mut pending = Pending::begin(path, self.overwrite, inputs)?;
        pending.put(bytes)?;
        pending.finish()?.keep()
    }
}

/// A file in the making: what is written to it appears under its name when it
/// is finished and [kept](Ready::keep), and nothing appears if it is dropped.
pub(crate) struct Pending {
    path: PathBuf,
    overwrite: bool,
    file: BufWriter<NamedTempFile>,
}

/// A finished file that has not got its name yet. It is closed, so that a run
/// may have any number of them.
pub(crate) struct Ready {
    path: PathBuf,
    overwrite: bool,
    file: TempPath,
}

impl Pending {
    /// Begins a file, or says why it may not be written: it is an input of the
    /// run, or there already and not to be replaced.
    pub(crate) fn begin(path: &Path, overwrite: bool, inputs: &[PathBuf]) -> Result<Self, String> {
        let name = path.display();
        let real = |path: &Path| path.canonicalize().ok();
        if real(path).is_some() && inputs.iter().any(|input| real(input) == real(path)) {
            return Err(format!(
                "`{name}` is an input of this run and was left as it is"
            ));
        }
        match std::fs::symlink_metadata(path) {
            // Links, pipes and devices are not files to be replaced.
            Ok(found) if !found.is_file() => {
                return Err(format!(
                    "`{name}` is no ordinary file and was left as it is"
                ));
            }
            Ok(_) if !overwrite => return Err(there_already(path)),
            _ => {}
        }
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let mut builder = tempfile::Builder::new();
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // Readable like any other file that the user makes.
            builder.permissions(std::fs::Permissions::from_mode(0o666));
        }
        let file = builder
            .tempfile_in(folder)
            .map_err(|error| failed(path, &error))?;
        Ok(Self {
            path: path.to_owned(),
            overwrite,
            file: BufWriter::new(file),
        })
    }

    /// Adds to the file, or says why not.
    pub(crate) fn put(&mut self, bytes: &[u8]) -> Result<(), String> {
        let put = self.file.write_all(bytes);
        put.map_err(|error| failed(&self.path, &error))
    }

    /// Closes the file, complete.
    pub(crate) fn finish(self) -> Result<Ready, String> {
        let file = self.file.into_inner();
        let file = file.map_err(|error| failed(&self.path, error.error()))?;
        Ok(Ready {
            path: self.path,
            overwrite: self.overwrite,
            file: file.into_temp_path(),
        })
    }
}

impl Ready {
    /// Gives the file its name, and returns it.
    pub(crate) fn keep(self) -> Result<PathBuf, String> {
        let Self {
            path,
            overwrite,
            file,
        } = self;
        let kept = if overwrite {
            file.persist(&path)
        } else {
            file.persist_noclobber(&path)
        };
        match kept {
            Ok(()) => Ok(path),
            Err(error) if !overwrite && error.error.kind() == ErrorKind::AlreadyExists => {
                Err(there_already(&path))
            }
            Err(error) => Err(failed(&path, &error.error)),
        }
    }
}

fn there_already(path: &Path) -> String {
    let name = path.display();
    format!("`{name}` is there already: choose another name, or add `--overwrite`")
}

fn failed(path: &Path, error: &io::Error) -> String {
    let name = path.display();
    let why = match error.kind() {
        ErrorKind::NotFound => "its folder does not exist".to_owned(),
        ErrorKind::PermissionDenied => "its folder may not be written to".to_owned(),
        other => other.to_string(),
    };
    format!("`{name}` was not written: {why}")
}
