//! Files are written whole or not at all, and never over something by accident.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use clap::Args;

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
    /// Writes the whole text, or says why nothing was written. A file that the
    /// run has read is never written over.
    pub(crate) fn write(&self, path: &Path, text: &str, inputs: &[PathBuf]) -> Result<(), String> {
        let name = path.display();
        let real = |path: &Path| path.canonicalize().ok();
        if real(path).is_some() && inputs.iter().any(|input| real(input) == real(path)) {
            return Err(format!(
                "`{name}` is an input of this run and was left as it is"
            ));
        }
        // Links, pipes and devices are not files to be replaced.
        if std::fs::symlink_metadata(path).is_ok_and(|found| !found.is_file()) {
            return Err(format!(
                "`{name}` is no ordinary file and was left as it is"
            ));
        }
        let folder = match path.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder,
            _ => Path::new("."),
        };
        let failed = |error: &std::io::Error| {
            let why = match error.kind() {
                ErrorKind::NotFound => "its folder does not exist".to_owned(),
                ErrorKind::PermissionDenied => "its folder may not be written to".to_owned(),
                other => other.to_string(),
            };
            format!("`{name}` was not written: {why}")
        };
        let mut builder = tempfile::Builder::new();
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // Readable like any other file that the user makes.
            builder.permissions(std::fs::Permissions::from_mode(0o666));
        }
        let mut file = builder
            .tempfile_in(folder)
            .map_err(|error| failed(&error))?;
        file.write_all(text.as_bytes())
            .map_err(|error| failed(&error))?;
        if self.overwrite {
            file.persist(path).map_err(|error| failed(&error.error))?;
            return Ok(());
        }
        file.persist_noclobber(path).map_err(|error| {
            if error.error.kind() == ErrorKind::AlreadyExists {
                format!("`{name}` is there already: choose another name, or add `--overwrite`")
            } else {
                failed(&error.error)
            }
        })?;
        Ok(())
    }
}
