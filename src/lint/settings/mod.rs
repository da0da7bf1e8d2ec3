//! What a project asks of its files: the settings file `ringrule.yaml`.

mod file;
mod find;
mod patterns;
mod read;

pub use file::{InspectionsEntry, SettingsFile, SettingsFormat, WaiverEntry};
pub use find::{Finder, SETTINGS_NAME, is_settings_name};
pub use patterns::{PatternError, Patterns};
pub use read::{SettingsWaiver, shape};

use std::path::{Path, PathBuf};

use super::{Rule, RuleLevel};
use crate::board::Validity;
use crate::document::Level;
use crate::table::TableName;

/// Days for which a calibration is taken to hold. Common practice, no source:
/// instruments are calibrated yearly; a day is added for the leap year.
const CALIBRATED_WITHIN: u16 = 366;

/// The numbers of rules that settings may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thresholds {
    /// Days for which a calibration is taken to hold.
    pub calibrated_within: u16,
}

impl Default for Thresholds {
    fn default() -> Self {
        Self {
            calibrated_within: CALIBRATED_WITHIN,
        }
    }
}

/// How much findings of some rules count, in place of the rules' own levels.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Levels(Vec<(&'static str, RuleLevel)>);

impl Levels {
    /// Sets the level of a rule; the last word counts.
    pub fn set(&mut self, rule: &Rule, level: RuleLevel) {
        match self.0.iter_mut().find(|(code, _)| *code == rule.code) {
            Some((_, own)) => *own = level,
            None => self.0.push((rule.code, level)),
        }
    }

    /// The level of a rule, if it is set.
    pub fn get(&self, rule: &Rule) -> Option<RuleLevel> {
        let found = self.0.iter().find(|(code, _)| *code == rule.code);
        found.map(|&(_, level)| level)
    }
}

/// A settings file, read and checked; by default, one that says nothing.
#[derive(Clone, Debug, Default)]
pub struct Settings {
    /// The folder that patterns and paths are relative to.
    pub folder: PathBuf,
    /// Levels that it sets.
    pub levels: Levels,
    /// The table that commands take when none is named.
    pub table: Option<TableName>,
    /// Files that are left out when a folder is looked through.
    pub exclude: Patterns,
    /// The numbers of rules.
    pub thresholds: Thresholds,
    /// How long an inspection counts, if it says.
    pub validity: Option<Validity>,
    /// Findings that are known and accepted.
    pub waivers: Vec<SettingsWaiver>,
}

impl Settings {
    /// The level of a rule; `None` if it is not to be looked for.
    pub fn level(&self, rule: &Rule) -> Option<Level> {
        let chosen = self.levels.get(rule);
        chosen.map_or(Some(rule.level), RuleLevel::level)
    }

    /// Whether a file that was found in a folder is to be left out.
    pub fn excludes(&self, path: &Path) -> bool {
        self.exclude.matches(&self.folder, path)
    }
}
