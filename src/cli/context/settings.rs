//! What the settings files of a project say to a run.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use ringrule::document::InvalidFile;
use ringrule::lint::{Finder, Settings};

use super::find::Found;
use super::inputs::{Inputs, STANDARD_INPUT};

/// Whose settings hold.
#[derive(Debug)]
pub(crate) enum Chosen {
    /// The same for every file.
    One(Arc<Settings>),
    /// The same for every file, in this file, which is read when it is asked for.
    Named(PathBuf),
    /// Those of each file's folder.
    Nearest(Finder),
}

/// Names the settings file of every run.
const SETTINGS: &str = "RINGRULE_SETTINGS";

impl Chosen {
    /// Those that the environment names, or those of each file's folder.
    pub(super) fn by_environment() -> Self {
        match std::env::var_os(SETTINGS).filter(|named| !named.is_empty()) {
            Some(named) => Self::Named(PathBuf::from(named)),
            None => Self::Nearest(Finder::default()),
        }
    }

    /// The settings for a file; standard input has those of its name.
    pub(super) fn of(
        &mut self,
        path: &Path,
        inputs: &Inputs,
    ) -> Result<Arc<Settings>, InvalidFile> {
        match self {
            Self::One(settings) => Ok(Arc::clone(settings)),
            Self::Named(named) => {
                let settings = Arc::new(Settings::read(inputs.text(named)?)?);
                *self = Self::One(Arc::clone(&settings));
                Ok(settings)
            }
            Self::Nearest(finder) => {
                let standard_input = path.as_os_str() == STANDARD_INPUT;
                let path = if standard_input {
                    Path::new(inputs.standard_input_name())
                } else {
                    path
                };
                finder.settings_for(path, inputs)
            }
        }
    }

    /// Takes out the files that settings exclude, unless they were named
    /// themselves, and says which patterns exclude nothing that there is.
    pub(super) fn exclude(
        &mut self,
        found: &mut Found,
        named: &[PathBuf],
        inputs: &Inputs,
    ) -> Vec<String> {
        let mut invalid_files: Vec<InvalidFile> = Vec::new();
        found.files.retain(|path| match self.of(path, inputs) {
            Ok(settings) => named.contains(path) || !settings.excludes(path),
            Err(invalid_file) => {
                if !invalid_files.contains(&invalid_file) {
                    invalid_files.push(invalid_file);
                }
                true
            }
        });
        found.invalid_files.extend(invalid_files);
        self.idle_patterns(found, inputs)
    }

    /// Patterns of settings files whose whole folder was looked through.
    fn idle_patterns(&mut self, found: &Found, inputs: &Inputs) -> Vec<String> {
        let real = |path: &Path| {
            let here = path.as_os_str().is_empty();
            let path = if here { Path::new(".") } else { path };
            path.canonicalize().unwrap_or_else(|_| path.to_owned())
        };
        let folders: Vec<PathBuf> = found.folders.iter().map(|folder| real(folder)).collect();
        let mut used: BTreeMap<PathBuf, (Arc<Settings>, BTreeSet<usize>)> = BTreeMap::new();
        for path in &found.entries {
            let Ok(settings) = self.of(path, inputs) else {
                continue;
            };
            if settings.exclude.texts().is_empty() {
                continue;
            }
            let fits = settings.exclude.matching(&settings.folder, path);
            let own = used.entry(settings.folder.clone());
            own.or_insert_with(|| (settings, BTreeSet::new()))
                .1
                .extend(fits);
        }
        let mut notes = Vec::new();
        for (settings, used) in used.values() {
            let folder = real(&settings.folder);
            if !folders.iter().any(|looked| folder.starts_with(looked)) {
                continue;
            }
            for (index, text) in settings.exclude.texts().iter().enumerate() {
                if !used.contains(&index) {
                    let folder = settings.folder.display().to_string();
                    let folder = if folder.is_empty() { "." } else { &folder };
                    notes.push(format!(
                        "note: `exclude: {text}` in the settings of `{folder}` excludes nothing \
                         that is there"
                    ));
                }
            }
        }
        notes
    }
}
