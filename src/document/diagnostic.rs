//! What is said about a place in a file: by a reader, by a rule, or by a
//! verdict. Every output format is written from this alone.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use super::Place;

words! {
    /// How much something counts, least first: the levels of SARIF (OASIS SARIF
    /// 2.1.0, 3.27.10).
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    pub enum Level {
        /// Worth knowing; what was measured is not in question.
        Note = "note",
        /// The file may say something other than what was measured.
        Warning = "warning",
        /// The file cannot be trusted as it stands.
        Error = "error",
    }

    /// The word in files and on the command line.
    fn word;
    impl Display = word;
}

/// A word that is no level.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a level: write note, warning or error")]
pub struct UnknownLevel(String);

impl FromStr for Level {
    type Err = UnknownLevel;

    fn from_str(text: &str) -> Result<Self, UnknownLevel> {
        let found = Self::ALL.into_iter().find(|level| level.word() == text);
        found.ok_or_else(|| UnknownLevel(text.to_owned()))
    }
}

/// One thing that is said about a file.
///
/// ```
/// use ringrule::document::{Diagnostic, Level, Place};
///
/// let place = Place::start_of("fl-03.yaml");
/// let found = Diagnostic::new("missing-date", Level::Warning, place, "there is no date")
///     .with_remedy("add `date:`");
/// assert_eq!(found.to_string(), "fl-03.yaml:1:1: there is no date");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Diagnostic {
    /// The code of a fault or a rule, or the name of a limit.
    pub code: Cow<'static, str>,
    /// How much it counts.
    pub level: Level,
    /// What is wrong, naming the value.
    pub message: String,
    /// Where.
    pub place: Place,
    /// Other places that the message refers to.
    pub related: Vec<Related>,
    /// What to write or do instead.
    pub remedy: Option<String>,
}

/// Another place, and what is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Related {
    /// Where.
    pub place: Place,
    /// What is there, in words.
    pub label: String,
}

impl Diagnostic {
    /// A diagnostic at one place.
    pub fn new(
        code: impl Into<Cow<'static, str>>,
        level: Level,
        place: Place,
        message: impl Into<String>,
    ) -> Self {
        Self {
            code: code.into(),
            level,
            message: message.into(),
            place,
            related: Vec::new(),
            remedy: None,
        }
    }

    /// Says what to do; an empty text says nothing.
    #[must_use]
    pub fn with_remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = Some(remedy.into()).filter(|remedy| !remedy.is_empty());
        self
    }

    /// Points at another place too.
    #[must_use]
    pub fn and(mut self, place: Place, label: impl Into<String>) -> Self {
        let label = label.into();
        self.related.push(Related { place, label });
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.message)
    }
}

impl std::error::Error for Diagnostic {}
