//! Patterns of paths, relative to a settings file.

use std::path::{Component, Path, PathBuf};

use globset::{GlobBuilder, GlobSet, GlobSetBuilder};

/// Patterns such as `old/**` and `*.csv`; `*` stops at a folder, `**` does not.
#[derive(Clone, Debug, Default)]
pub struct Patterns(GlobSet);

impl Patterns {
    /// From their texts; the first that is none is given back with the reason.
    pub fn new<'t>(texts: impl IntoIterator<Item = &'t str>) -> Result<Self, (String, String)> {
        let mut set = GlobSetBuilder::new();
        for text in texts {
            let glob = GlobBuilder::new(text).literal_separator(true).build();
            set.add(glob.map_err(|error| (text.to_owned(), error.kind().to_string()))?);
        }
        let set = set.build();
        set.map(Self)
            .map_err(|error| (String::new(), error.kind().to_string()))
    }

    /// Whether a path, seen from a folder, fits one of them.
    pub fn matches(&self, folder: &Path, path: &Path) -> bool {
        if self.0.is_empty() {
            return false;
        }
        let (folder, path) = (plain(folder), plain(path));
        // Settings found above the folder of the run have a whole path, the
        // files of the run need not.
        let (folder, path) = if folder.is_absolute() == path.is_absolute() {
            (folder, path)
        } else {
            let whole = |path: PathBuf| std::path::absolute(&path).unwrap_or(path);
            // The folder of the run itself has an empty path, which none is.
            let here = folder.as_os_str().is_empty();
            let folder = if here { PathBuf::from(".") } else { folder };
            (plain(&whole(folder)), plain(&whole(path)))
        };
        let relative = path.strip_prefix(&folder).unwrap_or(&path);
        self.0.is_match(relative)
    }
}

/// A path without `.`, and with `..` taken back, so that two ways of writing it
/// compare. Links are not followed: a pattern speaks of names.
pub(super) fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if plain.file_name().is_some() => {
                plain.pop();
            }
            part => plain.push(part),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns_are_relative_to_the_folder() {
        let patterns = Patterns::new(["old/**", "*.csv"]).expect("patterns");
        let fits = |path: &str| patterns.matches(Path::new("./league"), Path::new(path));
        assert!(fits("league/old/a.yaml"));
        assert!(fits("league/x/../old/a/b.yaml"));
        assert!(fits("league/a.csv"));
        assert!(!fits("league/sheets/a.csv"), "`*` stops at a folder");
        assert!(!fits("league/new/a.yaml"));
        assert!(Patterns::new(["a[b"]).is_err());
        let here = std::env::current_dir().expect("a folder");
        assert!(patterns.matches(&here, Path::new("old/a.yaml")));
        assert!(patterns.matches(Path::new(""), &here.join("old/a.yaml")));
        assert!(!patterns.matches(&here, Path::new("new/a.yaml")));
    }
}
