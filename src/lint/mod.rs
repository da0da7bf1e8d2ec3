//! Whether a file can be trusted to say what was measured.
//!
//! This is about the file itself: units, digits, edges, who and when, ids,
//! tables that contradict themselves. Whether a board is built to rule is
//! [`crate::conformity`]'s question, and needs a table; this needs none.
//!
//! A [`Rule`] is data with a function that looks at one [`Subject`]. Files are
//! looked at one by one, in any number of threads, and forgotten; what is left
//! are [findings](Finding), the waivers in the file, and a board's id, by which
//! files are compared at the end.

mod engine;
mod finding;
mod level;
#[cfg(test)]
mod mutated;
mod notation;
mod rule;
mod rules;
mod run;
mod settings;
mod settle;
mod subject;
mod tidy;
mod waiver;

pub use engine::{FileFindings, Identified, lint_file};
pub use finding::{Finding, Flagged, Waived};
pub use level::{RuleLevel, UnknownRuleLevel};
pub use rule::{Example, Rule, Scope};
pub use run::{Input, Job, Linted, Options, lint, lint_example};
pub use settings::{
    Finder, InspectionsEntry, Levels, PatternError, Patterns, SETTINGS_NAME, Settings,
    SettingsFile, SettingsFormat, SettingsWaiver, Thresholds, WaiverEntry, is_settings_name,
    shape as settings_shape,
};
pub use subject::{Content, Subject};
pub use tidy::tidy;
pub use waiver::{Malformed, Waiver, WaiverFault};
