//! The files that a run writes: all of them or none, whole, and never over
//! something by accident.

use std::collections::HashSet;
use std::ffi::OsString;
use std::fs::{self, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::error::OutputError;
use super::inputs::{Identity, Inputs, identity};
use super::temporary::{Named, Naming, Temporary};

/// Files in the making. They appear under their names together, when they are
/// [kept](Outputs::keep), and nothing appears if they are dropped.
pub(crate) struct Outputs {
    inputs: Arc<Inputs>,
    overwrite: bool,
    /// Whether the run's own inputs are what it writes.
    rewrites: bool,
    files: Vec<Claimed>,
    targets: HashSet<(PathBuf, OsString)>,
    identities: HashSet<Identity>,
}

struct Claimed {
    /// As the user called it.
    path: PathBuf,
    /// In its folder's real place.
    target: PathBuf,
    /// What is there and will be replaced.
    replaced: Option<Metadata>,
    file: Temporary,
}

/// A file that can be written to.
#[derive(Clone, Debug)]
pub(crate) struct Claim {
    path: PathBuf,
    temporary: PathBuf,
}

impl Outputs {
    pub(super) fn new(inputs: Arc<Inputs>, overwrite: bool) -> Self {
        Self {
            inputs,
            overwrite,
            rewrites: false,
            files: Vec::new(),
            targets: HashSet::new(),
            identities: HashSet::new(),
        }
    }

    /// For a command whose business it is to change the files that it reads.
    pub(super) fn rewriting(inputs: Arc<Inputs>) -> Self {
        Self {
            rewrites: true,
            ..Self::new(inputs, true)
        }
    }

    /// Begins a file, or says why it may not be written: it is an input or
    /// another output of the run, or there already and not to be replaced.
    pub(crate) fn claim(&mut self, path: &Path) -> Result<Claim, OutputError> {
        self.spare_inputs(path)?;
        let replaced = match fs::symlink_metadata(path) {
            // Links, pipes and devices are not files to be replaced.
            Ok(found) if !found.is_file() => {
                return Err(OutputError::NotOrdinary(path.to_owned()));
            }
            Ok(_) if !self.overwrite => return Err(OutputError::Exists(path.to_owned())),
            Ok(found) => Some(found),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(OutputError::failed(path, error)),
        };
        let (folder, file_name) = place(path)?;
        let known = replaced.as_ref().and_then(identity);
        let new = self.targets.insert((folder.clone(), file_name.clone()));
        if !new || known.is_some_and(|known| !self.identities.insert(known)) {
            return Err(OutputError::NamedTwice(path.to_owned()));
        }
        let file = Temporary::new(&folder, replaced.is_some());
        let file = file.map_err(|error| OutputError::failed(path, error))?;
        let temporary = file.path().unwrap_or(path).to_owned();
        let path = path.to_owned();
        self.files.push(Claimed {
            path: path.clone(),
            target: folder.join(file_name),
            replaced,
            file,
        });
        Ok(Claim { path, temporary })
    }

    /// Gives every file its name, and returns the names; or none of them, and
    /// says why.
    pub(crate) fn keep(mut self) -> Result<Vec<PathBuf>, OutputError> {
        for file in &self.files {
            // Some inputs may have been read since.
            self.spare_inputs(&file.path)?;
            if let (Some(path), Some(before)) = (file.file.path(), &file.replaced) {
                alike(path, before).map_err(|error| OutputError::failed(&file.path, error))?;
            }
        }
        let mut naming = Naming::begin();
        let mut done: Vec<Named> = Vec::new();
        for own in &mut self.files {
            match naming.name(&mut own.file, &own.target, own.replaced.is_some()) {
                Ok(named) => done.push(named),
                Err(error) => {
                    for named in done.into_iter().rev() {
                        named.undo();
                    }
                    return Err(if error.kind() == ErrorKind::AlreadyExists {
                        OutputError::Exists(own.path.clone())
                    } else {
                        OutputError::failed(&own.path, error)
                    });
                }
            }
        }
        drop(naming);
        let mut paths: Vec<PathBuf> = self.files.iter().map(|file| file.path.clone()).collect();
        paths.sort();
        Ok(paths)
    }

    fn spare_inputs(&self, path: &Path) -> Result<(), OutputError> {
        if self.rewrites || !self.inputs.contain(path) {
            return Ok(());
        }
        Err(OutputError::Input(path.to_owned()))
    }
}

impl Claim {
    /// Adds to the file, or says why not.
    pub(crate) fn append(&self, bytes: &[u8]) -> Result<(), OutputError> {
        let file = OpenOptions::new().append(true).open(&self.temporary);
        let put = file.and_then(|mut file| file.write_all(bytes));
        put.map_err(|error| OutputError::failed(&self.path, error))
    }

    /// Adds text for people. A file has no colours.
    pub(crate) fn append_text(&self, text: &str) -> Result<(), OutputError> {
        let plain = anstream::adapter::strip_str(text).to_string();
        self.append(plain.as_bytes())
    }
}

/// A path's folder, its links followed, and the name in it.
fn place(path: &Path) -> Result<(PathBuf, OsString), OutputError> {
    let name = path.file_name().filter(|name| {
        // `a.html/` is a folder, though the last part of it is `a.html`.
        path.as_os_str().len() >= name.len()
            && path
                .as_os_str()
                .as_encoded_bytes()
                .ends_with(name.as_encoded_bytes())
    });
    let Some(name) = name else {
        return Err(OutputError::NoName(path.to_owned()));
    };
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let folder = folder
        .canonicalize()
        .map_err(|error| OutputError::failed(path, error))?;
    Ok((folder, name.to_owned()))
}

/// Makes a new file its predecessor's like: the owner where the system permits,
/// and the mode.
fn alike(path: &Path, before: &Metadata) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, chown};
        let now = fs::metadata(path)?;
        if (now.uid(), now.gid()) != (before.uid(), before.gid())
            && chown(path, Some(before.uid()), Some(before.gid())).is_err()
        {
            let _ = chown(path, None, Some(before.gid()));
        }
    }
    fs::set_permissions(path, before.permissions())
}

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn what_was_there_comes_back_when_a_later_file_cannot_be_named() {
        let folder = tempfile::tempdir().expect("a folder");
        let [old, new, last] = ["a", "b", "c"].map(|name| folder.path().join(name));
        fs::write(&old, "before").expect("written");
        let mut outputs = Outputs::new(Arc::default(), true);
        for path in [&old, &new, &last] {
            let claim = outputs.claim(path).expect("free");
            claim.append(b"after").expect("written");
        }
        // Somebody else was faster.
        fs::create_dir(&last).expect("made");
        assert!(outputs.keep().is_err());
        assert_eq!(fs::read_to_string(&old).expect("read"), "before");
        assert!(!new.exists());
        fs::remove_dir(&last).expect("removed");
        let left: Vec<_> = fs::read_dir(folder.path()).expect("read").collect();
        assert_eq!(left.len(), 1, "{left:?}");
    }
}
