//! Which files a run is about.

use std::collections::HashSet;
use std::path::{Path, PathBuf};

use globset::{GlobBuilder, GlobMatcher};
use ignore::WalkBuilder;
use ringrule::document::InvalidFile;
use ringrule::lint::is_settings_name;

/// Which files of a folder are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// `.yaml` and `.yml`.
    Yaml,
    /// Sheets too: also `.csv` and `.tsv`.
    YamlAndSheets,
}

impl Wanted {
    /// Whether a file of this name is meant.
    pub(crate) fn includes(self, path: &Path) -> bool {
        let Some(extension) = path.extension().and_then(|e| e.to_str()) else {
            return false;
        };
        let is = |wanted: &str| extension.eq_ignore_ascii_case(wanted);
        // Settings say what to do with the files beside them.
        (is("yaml") || is("yml")) && !is_settings_name(path)
            || self == Self::YamlAndSheets && (is("csv") || is("tsv"))
    }

    const fn words(self) -> &'static str {
        match self {
            Self::Yaml => "there is no .yaml or .yml file in this folder",
            Self::YamlAndSheets => "there is no .yaml, .yml, .csv or .tsv file in this folder",
        }
    }
}

/// Files to read, in a fixed order, and paths that led nowhere.
#[derive(Debug, Default)]
pub(crate) struct Found {
    pub(crate) files: Vec<PathBuf>,
    pub(crate) invalid_files: Vec<InvalidFile>,
    /// Those of them that are only links which were not followed.
    pub(crate) links: Vec<InvalidFile>,
    /// Folders that were looked through.
    pub(super) folders: Vec<PathBuf>,
    /// Whether one of the files is a link.
    has_links: bool,
    /// Everything in them, wanted or not.
    pub(super) entries: Vec<PathBuf>,
}

/// Collects files: a file as it is given, a folder with every wanted file below
/// it that no ignore file excludes, sorted by path; a pattern likewise, for
/// shells that do not resolve it. A file that is named twice is read once.
pub(crate) fn collect(paths: &[PathBuf], wanted: Wanted) -> Found {
    let mut inputs = Found::default();
    let mut seen = HashSet::new();
    for path in paths {
        let found = if path.is_dir() {
            let (found, invalid_files) = below(path, &mut inputs, |path| wanted.includes(path));
            if found.is_empty() && invalid_files.is_empty() {
                inputs.invalid_files.push(InvalidFile::unreadable(
                    &path.display().to_string(),
                    wanted.words(),
                    "name a folder with board files, or the files themselves",
                ));
            }
            inputs.invalid_files.extend(invalid_files);
            found
        } else if let Some((folder, pattern)) = pattern(path) {
            let (found, invalid_files) = below(&folder, &mut inputs, |path| {
                pattern.is_match(path) && !is_settings_name(path)
            });
            if found.is_empty() && invalid_files.is_empty() {
                inputs.invalid_files.push(InvalidFile::unreadable(
                    &path.display().to_string(),
                    "no file fits this pattern",
                    "`*` stands for part of a name, `**` for any folders; ignore files are \
                     respected",
                ));
            }
            inputs.invalid_files.extend(invalid_files);
            found
        } else {
            vec![path.clone()]
        };
        // One file may be reached by two ways; not within one folder without links.
        let by_one_way = paths.len() == 1 && !inputs.has_links;
        let real = |path: &PathBuf| {
            let real = (!by_one_way).then(|| path.canonicalize().ok());
            real.flatten().unwrap_or_else(|| path.clone())
        };
        let new = found.into_iter().filter(|path| seen.insert(real(path)));
        inputs.files.extend(new);
    }
    inputs
}

/// A path with marks of a pattern in it that no file has for its name: the
/// folder to look through, and what fits.
fn pattern(path: &Path) -> Option<(PathBuf, GlobMatcher)> {
    let text = path.to_str()?;
    if !text.contains(['*', '?', '[', '{']) || path.exists() {
        return None;
    }
    let text = text.strip_prefix("./").unwrap_or(text);
    let glob = GlobBuilder::new(text)
        .literal_separator(true)
        .build()
        .ok()?;
    let plain = |part: &std::path::Component<'_>| {
        !part
            .as_os_str()
            .to_string_lossy()
            .contains(['*', '?', '[', '{'])
    };
    let folder: PathBuf = Path::new(text).components().take_while(plain).collect();
    Some((folder, glob.compile_matcher()))
}

/// Whether a file of a folder is a link to one outside of it: whoever put it there would
/// have its text shown.
fn leads_out(path: &Path, folder: &Path) -> bool {
    let here = folder.as_os_str().is_empty();
    let folder = if here { Path::new(".") } else { folder };
    let inside = |real: PathBuf| {
        folder
            .canonicalize()
            .is_ok_and(|folder| real.starts_with(folder))
    };
    !path.canonicalize().is_ok_and(inside)
}

/// The files below a folder that are meant.
fn below(
    folder: &Path,
    seen: &mut Found,
    wanted: impl Fn(&Path) -> bool,
) -> (Vec<PathBuf>, Vec<InvalidFile>) {
    seen.folders.push(folder.to_owned());
    // A pattern without a folder is one of the folder of the run, and its files
    // are named without it.
    let here = folder.as_os_str().is_empty();
    let start = if here { Path::new(".") } else { folder };
    let mut files = Vec::new();
    let mut invalid_files = Vec::new();
    let walk = WalkBuilder::new(start).require_git(false).build();
    for entry in walk {
        match entry {
            Ok(entry) => {
                let kind = entry.file_type();
                let is_link = kind.is_some_and(|kind| kind.is_symlink());
                let is_file = kind.is_some_and(|kind| kind.is_file());
                let path = entry.into_path();
                let path = match path.strip_prefix("./") {
                    Ok(plain) if here => plain.to_owned(),
                    _ => path,
                };
                if wanted(&path) && (is_file || path.is_file()) {
                    seen.has_links |= is_link;
                    if is_link && leads_out(&path, folder) {
                        let link = InvalidFile::unreadable(
                            &path.display().to_string(),
                            "this link leads out of the folder, and was not followed",
                            "name the file that it leads to, if it is meant",
                        );
                        seen.links.push(link.clone());
                        invalid_files.push(link);
                    } else {
                        files.push(path.clone());
                    }
                }
                seen.entries.push(path);
            }
            Err(error) => invalid_files.push(InvalidFile::unreadable(
                &folder.display().to_string(),
                &format!("part of this folder cannot be read: {error}"),
                "check that the folder exists and may be read",
            )),
        }
    }
    files.sort();
    (files, invalid_files)
}
