//! The raw shape of single lengths: alone, with an uncertainty, or as readings.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::forms;
use super::length_text::{LengthText, WireText};
use super::readings_file::{ReadingsEntry, TakenEntry};
use super::snippets;
use crate::document::{Located, PlainOr};

/// A length, or the readings that it follows from.
pub type LengthEntry = Located<PlainOr<LengthText, ReadingsEntry>>;

/// How well a length is known: a bare length is an expanded uncertainty with
/// k = 2; a group of keys says which kind it is.
pub type UncertaintyEntry = Located<PlainOr<LengthText, StatedUncertainty>>;

/// An uncertainty with its kind: either `expanded` (with `k`, 2 if left out) or
/// `standard`.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::expanded_or_standard)]
pub struct StatedUncertainty {
    /// Expanded uncertainty U = k·u.
    #[schemars(transform = forms::uncertainty)]
    pub expanded: Option<Located<LengthText>>,
    /// The coverage factor of `expanded`; 2 if left out.
    #[schemars(range(min = 1.0, max = 15.0))]
    pub k: Option<f64>,
    /// The degrees of freedom behind it; left out, many.
    #[schemars(range(min = 1.0))]
    pub degrees_of_freedom: Option<f64>,
    /// Standard uncertainty u, in place of `expanded`.
    #[schemars(transform = forms::uncertainty)]
    pub standard: Option<Located<LengthText>>,
}

/// One wire's thickness, alone or with its uncertainty.
pub type WireEntry = Located<PlainOr<WireText, StatedWire>>;

/// A wire with the uncertainty of its thickness.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::size_or_readings)]
#[schemars(transform = snippets::wire)]
pub struct StatedWire {
    /// The gauge or width.
    pub size: Option<Located<WireText>>,
    /// Readings of the width, in place of `size`.
    #[schemars(length(min = 1))]
    #[schemars(transform = forms::wire_reading)]
    pub readings: Option<Vec<Located<LengthText>>>,
    /// What each of several people read of the width, in place of `size`.
    #[schemars(length(min = 1))]
    pub taken: Option<Vec<TakenEntry>>,
    /// The uncertainty of the width.
    #[schemars(transform = forms::uncertainty)]
    pub uncertainty: Option<UncertaintyEntry>,
    /// The name of the instrument, where it is not the file's.
    pub instrument: Option<Located<String>>,
    /// Where the value came from, in words.
    pub from: Option<String>,
}
