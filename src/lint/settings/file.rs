//! The raw shape of a settings file. The doc comments here are what an editor
//! shows: they become the descriptions in `specs/settings.schema.json`.

use schemars::{JsonSchema, Schema};
use serde::Deserialize;
use serde_json::{Map, Value as Json, json};

use crate::board::forms;
use crate::document::for_editors::add;
use crate::document::{Located, Named};
use crate::lint::{Rule, RuleLevel};
use crate::units::patterns;

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
    #[schemars(transform = level_of_each_rule)]
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
    #[schemars(transform = rule_names)]
    pub rule: Option<Located<String>>,
    /// In which files, as patterns relative to this file; left out, in all.
    pub files: Option<Vec<Located<String>>>,
    /// Why it is accepted.
    #[schemars(required)]
    #[schemars(transform = forms::something)]
    pub because: Option<Located<String>>,
    /// The last day on which the waiver holds, as `2027-03-01`.
    #[schemars(transform = forms::day)]
    pub until: Option<Located<String>>,
}

/// How long the inspection of a board counts.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InspectionsEntry {
    /// How long it is valid, such as `1 year`, `6 months`, `90 days`.
    #[schemars(required)]
    #[schemars(transform = period)]
    pub valid: Option<Located<String>>,
    /// How long before its end a board counts as due; 4 weeks if left out.
    #[schemars(transform = period)]
    pub remind: Option<Located<String>>,
}

/// The rules by their names, each with what it finds, and no others.
fn level_of_each_rule(schema: &mut Schema) {
    let level = schema.get("additionalProperties").cloned();
    let level = level.unwrap_or_default();
    let mut rules = Map::new();
    for rule in Rule::ALL {
        let mut own = level.clone();
        if let Some(own) = own.as_object_mut() {
            own.insert("description".to_owned(), Json::from(rule.summary));
        }
        rules.insert(rule.code.to_owned(), own);
    }
    add(
        schema,
        json!({ "properties": rules, "additionalProperties": false }),
    );
}

/// One of the rules, each with what it finds.
fn rule_names(schema: &mut Schema) {
    let names: Vec<&str> = Rule::ALL.iter().map(|rule| rule.code).collect();
    let meanings: Vec<&str> = Rule::ALL.iter().map(|rule| rule.summary).collect();
    add(
        schema,
        json!({ "enum": names, "markdownEnumDescriptions": meanings }),
    );
}

fn period(schema: &mut Schema) {
    let write = "write a number and a unit, such as `1 year`, `6 months` or `90 days`";
    add(schema, forms::pattern(&patterns::period(), write));
}
