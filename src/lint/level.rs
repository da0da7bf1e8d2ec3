//! What the findings of a rule count, where a person has a say.

use std::str::FromStr;

use schemars::JsonSchema;
use serde::Deserialize;

use crate::document::Level;

/// A level, or that a rule is not looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RuleLevel {
    /// Not looked for.
    Ignore,
    /// Worth knowing; what was measured is not in question.
    Note,
    /// The file may say something other than what was measured.
    Warning,
    /// The file cannot be trusted as it stands.
    Error,
}

impl RuleLevel {
    /// The level of findings; `None` if there shall be none.
    pub const fn level(self) -> Option<Level> {
        match self {
            Self::Ignore => None,
            Self::Note => Some(Level::Note),
            Self::Warning => Some(Level::Warning),
            Self::Error => Some(Level::Error),
        }
    }
}

impl From<Level> for RuleLevel {
    fn from(level: Level) -> Self {
        match level {
            Level::Note => Self::Note,
            Level::Warning => Self::Warning,
            Level::Error => Self::Error,
        }
    }
}

/// A word that is no level and not `ignore`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a level: write ignore, note, warning or error")]
pub struct UnknownRuleLevel(String);

impl FromStr for RuleLevel {
    type Err = UnknownRuleLevel;

    fn from_str(text: &str) -> Result<Self, UnknownRuleLevel> {
        if text == "ignore" {
            return Ok(Self::Ignore);
        }
        let level = text.parse::<Level>().map(Self::from);
        level.map_err(|_| UnknownRuleLevel(text.to_owned()))
    }
}
