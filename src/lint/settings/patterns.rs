//! Patterns of paths, relative to a settings file.

use std::path::{Component, Path, PathBuf};

use globset::{GlobBuilder, GlobSet, GlobSetBuilder};
use thiserror::Error;

/// A text that is not a pattern of paths.
#[derive(Clone, Debug, Error)]
#[error("{}; {}", self.message(), self.remedy())]
pub struct PatternError {
    pattern: String,
    source: globset::Error,
}

impl PatternError {
    /// The text; empty where all of them together are too much.
    pub fn pattern(&self) -> &str {
        &self.pattern
    }

    /// What is wrong, without the remedy.
    pub fn message(&self) -> String {
        let (pattern, why) = (&self.pattern, self.source.kind());
        format!("`{pattern}` is not a pattern of paths: {why}")
    }

    /// What to write instead.
    pub const fn remedy(&self) -> &'static str {
        "write a path relative to this file; `*` stands for part of a name, `**` for any folders"
    }
}

/// Patterns such as `old/**` and `*.csv`; `*` stops at a folder, `**` does not.
/// A pattern that fits a folder fits everything below it, as in an ignore file.
#[derive(Clone, Debug, Default)]
pub struct Patterns {
    texts: Vec<String>,
    set: GlobSet,
}

impl Patterns {
    /// From their texts; the first that is none is refused.
    pub fn new<'t>(texts: impl IntoIterator<Item = &'t str>) -> Result<Self, PatternError> {
        let texts: Vec<String> = texts.into_iter().map(str::to_owned).collect();
        let mut set = GlobSetBuilder::new();
        for text in &texts {
            // `./sheets/` is the folder `sheets`.
            let bare = text.strip_prefix("./").unwrap_or(text);
            let bare = bare.strip_suffix('/').unwrap_or(bare);
            let glob = GlobBuilder::new(bare).literal_separator(true).build();
            let fault = |source| PatternError {
                pattern: text.clone(),
                source,
            };
            set.add(glob.map_err(fault)?);
        }
        let set = set.build().map_err(|source| PatternError {
            pattern: String::new(),
            source,
        })?;
        Ok(Self { texts, set })
    }

    /// As they are written.
    pub fn texts(&self) -> &[String] {
        &self.texts
    }

    /// Whether a path, seen from a folder, fits one of them.
    pub fn matches(&self, folder: &Path, path: &Path) -> bool {
        !self.matching(folder, path).is_empty()
    }

    /// Which of them a path fits, by their places in [`texts`](Self::texts).
    pub fn matching(&self, folder: &Path, path: &Path) -> Vec<usize> {
        if self.set.is_empty() {
            return Vec::new();
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
        let ways = relative.ancestors().filter(|path| *path != Path::new(""));
        ways.flat_map(|path| self.set.matches(path)).collect()
    }
}

/// A path without `.`, and with `..` taken back, so that two ways of writing it
/// compare. Links are not followed: a pattern is about names.
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
        let folders = Patterns::new(["sheets", "./2025/"]).expect("patterns");
        let fits = |path: &str| folders.matches(Path::new(""), Path::new(path));
        assert!(fits("sheets/a.csv") && fits("sheets/deep/a.csv") && fits("2025/a.yaml"));
        assert!(!fits("sheets.csv") && !fits("boards/sheets/a.csv"));
        let error = Patterns::new(["*.csv", "a[b"]).expect_err("no pattern");
        assert_eq!(error.pattern(), "a[b");
        assert!(
            error
                .to_string()
                .contains("`a[b` is not a pattern of paths")
        );
        assert!(std::error::Error::source(&error).is_some());
        let here = std::env::current_dir().expect("a folder");
        assert!(patterns.matches(&here, Path::new("old/a.yaml")));
        assert!(patterns.matches(Path::new(""), &here.join("old/a.yaml")));
        assert!(!patterns.matches(&here, Path::new("new/a.yaml")));
    }
}
