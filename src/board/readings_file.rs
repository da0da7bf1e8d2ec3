//! The raw shape of repeated readings in a board file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize, Serializer};
use serde_with::skip_serializing_none;

use super::bearing::BearingText;
use super::forms;
use super::length_text::LengthText;
use crate::document::{Located, PlainOr};

/// Repeated readings of one length, in place of its value: either one person's
/// `readings`, or what several people have `taken`.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::readings_or_taken)]
pub struct ReadingsEntry {
    /// The readings, one or more, in the order in which they were taken. The
    /// value is their mean; the scatter of the mean (type A) is added to the
    /// instrument's uncertainty (type B). Each may say where around the board it
    /// was taken: `{ at: 20, value: 7.98 }`. Then only what was read twice at
    /// one place is scatter; what differs from place to place is form.
    #[schemars(length(min = 1))]
    #[schemars(transform = forms::reading)]
    pub readings: Option<Vec<Located<PlainOr<LengthText, PlacedReading>>>>,
    /// What each person read, in place of `readings`. Value and uncertainty
    /// follow from all that was `taken` in this file.
    #[schemars(length(min = 1))]
    pub taken: Option<Vec<TakenEntry>>,
}

/// A reading and where around the board it was taken.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlacedReading {
    /// The number of a sector, or degrees clockwise from the top (`45°`).
    #[schemars(required)]
    pub at: Option<Located<BearingText>>,
    /// The reading.
    #[schemars(required)]
    #[schemars(transform = forms::reading)]
    pub value: Option<Located<LengthText>>,
}

/// What one person read of a length with one instrument.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TakenEntry {
    /// Who took the readings.
    #[schemars(required)]
    #[schemars(transform = forms::something)]
    pub by: Option<Located<String>>,
    /// Where around the board: the number of a sector, or degrees clockwise from
    /// the top (`45°`). All that was taken of a length says where, or nothing
    /// does; of each place there is an entry of its own.
    pub at: Option<Located<BearingText>>,
    /// The name of the instrument, where it is not the file's.
    pub instrument: Option<Located<String>>,
    /// The day on which they were taken, as `2026-11-14`.
    #[schemars(transform = forms::day)]
    pub date: Option<Located<String>>,
    /// The readings, one or more, in the order in which they were taken.
    #[schemars(required, length(min = 1))]
    #[serde(serialize_with = "on_one_line")]
    #[schemars(transform = forms::reading)]
    pub readings: Option<Vec<Located<LengthText>>>,
}

/// Readings are written side by side, as on a sheet.
#[allow(clippy::ref_option, reason = "that is how serde calls it")]
fn on_one_line<S: Serializer>(
    readings: &Option<Vec<Located<LengthText>>>,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    match readings {
        Some(readings) => serde_yaml::FlowSeq(readings).serialize(serializer),
        None => serializer.serialize_none(),
    }
}
