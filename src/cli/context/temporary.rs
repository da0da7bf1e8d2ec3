//! Unfinished files. None of them outlives the run, however it ends.

use std::collections::BTreeSet;
use std::fs::{self, Permissions};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::{Builder, TempPath};

/// Every unfinished file of the run.
static UNFINISHED: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());

fn unfinished() -> MutexGuard<'static, BTreeSet<PathBuf>> {
    // A set of names is sound whatever happened to who held it.
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file that has no name of its own yet. It is closed, so that a run may have
/// any number of them, and is removed if it never gets one.
pub(super) struct Temporary(Option<TempPath>);

impl Temporary {
    /// An empty file in a folder: for everybody's eyes as far as the system's
    /// settings go, or for the user's alone.
    pub(super) fn new(folder: &Path, private: bool) -> io::Result<Self> {
        signals::watch();
        let mut builder = Builder::new();
        #[cfg(unix)]
        if !private {
            use std::os::unix::fs::PermissionsExt;
            builder.permissions(Permissions::from_mode(0o666));
        }
        // Made and entered in one step: a signal finds both or neither.
        let mut known = unfinished();
        let path = builder.tempfile_in(folder)?.into_temp_path();
        known.insert(path.to_path_buf());
        Ok(Self(Some(path)))
    }

    pub(super) fn path(&self) -> Option<&Path> {
        self.0.as_deref()
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        if let Some(path) = self.0.take() {
            unfinished().remove(&*path);
        }
    }
}

/// Names are being given: a signal waits until that is done or undone.
pub(super) struct Naming(MutexGuard<'static, BTreeSet<PathBuf>>);

/// A file that has got its name, and what was there before.
pub(super) struct Named {
    target: PathBuf,
    before: Option<TempPath>,
}

impl Naming {
    pub(super) fn begin() -> Self {
        Self(unfinished())
    }

    /// Gives a file its name; what had that name before is kept beside it if it
    /// is to be replaced, and in the way if it is not.
    pub(super) fn name(
        &mut self,
        file: &mut Temporary,
        target: &Path,
        replace: bool,
    ) -> io::Result<Named> {
        let Some(path) = file.0.take() else {
            return Err(io::ErrorKind::NotFound.into());
        };
        let before = replace.then(|| kept(target)).transpose();
        let before = match before {
            Ok(before) => before,
            Err(error) => {
                file.0 = Some(path);
                return Err(error);
            }
        };
        let own = path.to_path_buf();
        let named = if replace {
            path.persist(target)
        } else {
            path.persist_noclobber(target)
        };
        let named = named.map_err(|failed| {
            file.0 = Some(failed.path);
            failed.error
        });
        let target = target.to_owned();
        match named {
            Ok(()) => {
                self.0.remove(&own);
                Ok(Named { target, before })
            }
            Err(error) => {
                Named { target, before }.restore();
                Err(error)
            }
        }
    }
}

impl Named {
    /// Takes the name away again, and gives it back to what had it.
    pub(super) fn undo(self) {
        if self.before.is_none() {
            let _ = fs::remove_file(&self.target);
        }
        self.restore();
    }

    fn restore(self) {
        if let Some(before) = self.before
            && let Err(failed) = before.persist(&self.target)
        {
            // Better under a strange name than gone.
            let _ = failed.path.keep();
        }
    }
}

/// The file under a second name in the same folder: a link where the system has
/// them, else the file itself for the moment.
fn kept(target: &Path) -> io::Result<TempPath> {
    let folder = target.parent().unwrap_or(Path::new("."));
    let linked = Builder::new().make_in(folder, |path| fs::hard_link(target, path));
    let kept = linked.or_else(|_| Builder::new().make_in(folder, |path| fs::rename(target, path)));
    Ok(kept?.into_temp_path())
}

#[cfg(unix)]
mod signals {
    use std::fs;
    use std::sync::Once;

    use signal_hook::consts::{SIGHUP, SIGINT, SIGQUIT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;

    /// From now on a run that is ended removes its unfinished files first, and
    /// then ends as it would have.
    pub(super) fn watch() {
        static ONCE: Once = Once::new();
        ONCE.call_once(|| {
            let ending = [SIGINT, SIGTERM, SIGHUP, SIGQUIT];
            let heard = ending.into_iter().filter(|&signal| !ignored(signal));
            // Without it, files may be left behind, and nothing worse.
            let Ok(mut signals) = Signals::new(heard) else {
                return;
            };
            std::thread::spawn(move || {
                for signal in signals.forever() {
                    // Held to the end: no file is begun any more.
                    let files = super::unfinished();
                    for file in files.iter() {
                        let _ = fs::remove_file(file);
                    }
                    let _ = emulate_default_handler(signal);
                }
            });
        });
    }

    /// Whether whoever started the run wants it to go on regardless, as `nohup`
    /// does. Where the system does not say so, nobody does.
    fn ignored(signal: i32) -> bool {
        let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("SigIgn:"));
        let mask = line.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok());
        mask.is_some_and(|mask| mask >> (signal - 1) & 1 == 1)
    }
}

#[cfg(not(unix))]
mod signals {
    pub(super) const fn watch() {}
}
