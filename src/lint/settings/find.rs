//! Which settings hold for a file: those of the nearest folder above it.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Settings;
use super::patterns::plain;
use crate::document::{Files, InvalidFile};

/// The name of a settings file.
pub const SETTINGS_NAME: &str = "ringrule.yaml";

/// Whether a path has the name of a settings file.
pub fn is_settings_name(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == SETTINGS_NAME)
}

/// Finds settings, reading each settings file once.
#[derive(Debug, Default)]
pub struct Finder {
    known: HashMap<PathBuf, Found>,
}

type Found = Result<Arc<Settings>, InvalidFile>;

impl Finder {
    /// The settings for a file: of its own folder, or of the nearest above it.
    /// Without any, those that say nothing.
    pub fn settings_for(
        &mut self,
        file: &Path,
        files: &dyn Files,
    ) -> Result<Arc<Settings>, InvalidFile> {
        let folder = file.parent().unwrap_or(Path::new(""));
        self.of_folder(&plain(folder), files)
    }

    fn of_folder(&mut self, folder: &Path, files: &dyn Files) -> Found {
        if let Some(found) = self.known.get(folder) {
            return found.clone();
        }
        let path = folder.join(SETTINGS_NAME);
        let found = if path.is_file() {
            files
                .read(&path, &path.display().to_string())
                .and_then(Settings::read)
                .map(Arc::new)
        } else {
            match above(folder) {
                Some(above) => self.of_folder(&above, files),
                None => Ok(Arc::default()),
            }
        };
        self.known.insert(folder.to_owned(), found.clone());
        found
    }
}

/// The folder above. A relative path goes on above the folder of the run.
fn above(folder: &Path) -> Option<PathBuf> {
    if folder.as_os_str().is_empty() {
        let here = std::env::current_dir().ok()?;
        return here.parent().map(Path::to_owned);
    }
    let above = folder.parent()?;
    // The parent of `..` is not the empty path; there it is simpler to start
    // from the whole path.
    if folder.ends_with("..") {
        let whole = folder.canonicalize().ok()?;
        return whole.parent().map(Path::to_owned);
    }
    Some(above.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::{Disk, Level};
    use crate::lint::Rule;

    #[test]
    fn the_nearest_settings_hold() {
        let folder = tempfile::tempdir().expect("a folder");
        let inner = folder.path().join("a/b");
        std::fs::create_dir_all(&inner).expect("made");
        let write = |path: PathBuf, level: &str| {
            let text = format!("format: ringrule/settings/1\nlevels: {{ unit-mixed: {level} }}\n");
            std::fs::write(path, text).expect("written");
        };
        write(folder.path().join(SETTINGS_NAME), "error");
        let rule = Rule::find("unit-mixed").expect("a rule");
        let level = |path: &Path| {
            let settings = Finder::default().settings_for(path, &Disk).expect("sound");
            settings.level(rule)
        };
        assert_eq!(level(&inner.join("x.yaml")), Some(Level::Error));
        write(folder.path().join("a").join(SETTINGS_NAME), "ignore");
        assert_eq!(level(&inner.join("x.yaml")), None);
        assert_eq!(level(&folder.path().join("x.yaml")), Some(Level::Error));
    }
}
