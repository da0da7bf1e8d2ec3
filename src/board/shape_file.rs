//! The raw shape of what a board file says of rings off-centre, uneven sectors
//! and staples.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::bearing::BearingText;
use super::entries::{UncertaintyEntry, WireEntry};
use super::forms;
use super::length_text::LengthText;
use crate::document::{Located, Named};

/// The twenty sector wires one by one, clockwise: first the wire on the clockwise
/// side of the 20, between 20 and 1.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SectorsFile {
    /// The bearing of each wire, in degrees clockwise from the top: 9, 27, … on
    /// an even board.
    #[schemars(length(equal = 20))]
    #[schemars(transform = forms::bearings)]
    pub bearings: Option<Located<Vec<f64>>>,
    /// The expanded uncertainty (k = 2) of a bearing, in degrees.
    #[schemars(transform = forms::bearing_uncertainty)]
    pub uncertainty: Option<Located<f64>>,
    /// How far each wire passes to the clockwise side of the middle of the board.
    #[schemars(length(equal = 20))]
    #[schemars(transform = forms::offset)]
    pub offsets: Option<Located<Vec<LengthText>>>,
    /// The uncertainty of the offsets, in place of the file's.
    #[schemars(transform = forms::uncertainty)]
    pub offset_uncertainty: Option<UncertaintyEntry>,
    /// The widths of single wires that differ from the others, each under the
    /// number of the sector whose clockwise border it is.
    #[schemars(transform = forms::by_sector)]
    pub widths: Option<Named<WireEntry>>,
}

/// The staples on each ring wire.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StaplesFile {
    /// On the wire between inner and outer bull.
    pub inner_bull: Option<StaplesEntry>,
    /// On the wire around the outer bull.
    pub outer_bull: Option<StaplesEntry>,
    /// On the inner wire of the treble ring.
    pub treble_inner: Option<StaplesEntry>,
    /// On the outer wire of the treble ring.
    pub treble_outer: Option<StaplesEntry>,
    /// On the inner wire of the double ring.
    pub double_inner: Option<StaplesEntry>,
    /// On the outer wire of the double ring.
    pub double_outer: Option<StaplesEntry>,
}

/// The staples on one ring wire: how many, or where each of them is.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::counted_or_placed)]
pub struct StaplesEntry {
    /// How many, evenly spaced from the top, where their places were not taken.
    #[schemars(range(min = 1, max = 100))]
    pub count: Option<Located<u16>>,
    /// Where each of them is: sectors by their numbers, or degrees clockwise
    /// from the top.
    pub at: Option<Vec<Located<BearingText>>>,
    /// The width along the wire and the length across it.
    #[schemars(required, length(equal = 2))]
    #[schemars(transform = forms::staple)]
    pub size: Option<Located<Vec<LengthText>>>,
}
