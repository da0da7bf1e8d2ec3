//! How much a finding counts.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How much a finding counts, least first.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Not looked for.
    Ignore,
    /// Worth knowing; what was measured is not in question.
    Note,
    /// The file may say something other than what was measured.
    Warning,
    /// The file cannot be trusted as it stands.
    Error,
}

impl Level {
    /// All, least first.
    pub const ALL: [Self; 4] = [Self::Ignore, Self::Note, Self::Warning, Self::Error];

    /// The word in files and on the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ignore => "ignore",
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl FromStr for Level {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let found = Self::ALL.into_iter().find(|level| level.word() == text);
        found.ok_or_else(|| format!("`{text}` is none of ignore, note, warning and error"))
    }
}
