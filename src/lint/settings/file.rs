//! The raw shape of a settings file. The doc comments here are what an editor
//! shows: they become the descriptions in `specs/settings.schema.json`.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::document::Located;
use crate::document::Named;
use crate::lint::RuleLevel;

/// The name of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
pub enum SettingsFormat {
    /// The first version.
    #[serde(rename = "ringrule/settings/1")]
    V1,
}

/// What a project asks of its board files, tables and sheets.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettingsFile {
    /// The format of this file: `ringrule/settings/1`.
    #[schemars(required)]
    pub format: Option<Located<SettingsFormat>>,
    /// How much findings of a rule count: `ignore`, `note`, `warning` or `error`.
    pub(crate) levels: Option<Named<Located<RuleLevel>>>,
    /// The tolerance table that every command takes when none is named, by its
    /// path relative to this file.
    pub table: Option<Located<String>>,
    /// Files that are left out when a folder is looked through, as patterns
    /// relative to this file, such as `old` or `*.csv`. A folder stands for
    /// everything below it. A run over the whole folder notes a pattern that
    /// excludes nothing.
    pub exclude: Option<Vec<Located<String>>>,
    /// Days for which an instrument's calibration is taken to hold; 366 if left
    /// out.
    #[schemars(range(min = 1, max = 10000))]
    pub calibrated_within: Option<u16>,
    /// How long the inspection of a board counts; left out, no board is ever due.
    pub inspections: Option<InspectionsEntry>,
    /// Findings that are known and accepted, with the reason.
    pub waivers: Option<Vec<Located<WaiverEntry>>>,
}

/// A finding that is known and accepted.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaiverEntry {
    /// The rule whose findings are waived.
    #[schemars(required)]
    pub rule: Option<Located<String>>,
    /// In which files, as patterns relative to this file; left out, in all.
    pub files: Option<Vec<Located<String>>>,
    /// Why it is accepted.
    #[schemars(required)]
    pub because: Option<Located<String>>,
    /// The last day on which the waiver holds, as `2027-03-01`.
    pub until: Option<Located<String>>,
}

/// How long the inspection of a board counts.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InspectionsEntry {
    /// How long it is valid, such as `1 year`, `6 months`, `90 days`.
    #[schemars(required)]
    pub valid: Option<Located<String>>,
    /// How long before its end a board counts as due; 4 weeks if left out.
    pub remind: Option<Located<String>>,
}
