//! The raw shape of an event file. The doc comments here are what an editor
//! shows: they become the descriptions in `specs/event.schema.json`.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::board::forms;
use crate::document::{Located, PlainOr};

/// The name of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum EventFormat {
    /// The first version.
    #[serde(rename = "ringrule/event/1")]
    V1,
}

/// The occasion of an inspection: what a report says beside the boards.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct EventFile {
    /// The format of this file: `ringrule/event/1`.
    #[schemars(required)]
    pub format: Option<Located<EventFormat>>,
    /// What the boards were inspected for, such as a tournament or a season.
    #[schemars(required)]
    pub name: Option<Located<String>>,
    /// Where the inspection took place.
    pub place: Option<String>,
    /// The day of the inspection, as `2026-11-14`, for boards whose own file
    /// does not say.
    #[schemars(transform = forms::day)]
    pub inspected: Option<Located<String>>,
    /// The number of the report, unique among yours. With several boards, each
    /// board's part adds its own mark.
    pub report_number: Option<Located<String>>,
    /// The day on which the report is issued, as `2026-11-20`.
    #[schemars(transform = forms::day)]
    pub issued: Option<Located<String>>,
    /// Who ordered the inspection.
    pub ordered_by: Option<PersonEntry>,
    /// Who inspected boards whose own file does not say.
    pub inspected_by: Option<PersonEntry>,
    /// Who authorises the report and will sign it.
    pub authorised_by: Option<PersonEntry>,
    /// The conditions of the inspection as far as they matter, such as the
    /// temperature.
    pub conditions: Option<String>,
    /// What was done otherwise than the method says.
    pub departures: Option<String>,
    /// Anything else that a reader of the report should know.
    pub remarks: Option<String>,
}

/// A name, or a name with more about it.
pub type PersonEntry = Located<PlainOr<String, PersonFile>>;

/// A person or a body.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct PersonFile {
    /// The name.
    #[schemars(required)]
    pub name: Option<Located<String>>,
    /// In which capacity, such as `equipment officer`.
    pub role: Option<String>,
    /// How to reach them.
    pub contact: Option<String>,
}
