//! The raw shape of what a board file says of areas.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::Band;
use super::length_text::AreaText;
use crate::document::Located;

/// Free areas of beds: what is not metal, in the mean over a band's beds. Leave out
/// what is not known.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AreasFile {
    /// Of the inner bull, the 50.
    pub inner_bull: Option<BedAreaEntry>,
    /// Of the outer bull, the 25.
    pub outer_bull: Option<BedAreaEntry>,
    /// Of a single bed between the outer bull and the treble ring.
    pub inner_single: Option<BedAreaEntry>,
    /// Of a treble bed.
    pub treble: Option<BedAreaEntry>,
    /// Of a single bed between the treble and the double ring.
    pub outer_single: Option<BedAreaEntry>,
    /// Of a double bed.
    pub double: Option<BedAreaEntry>,
}

/// The free area of one bed of a band.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BedAreaEntry {
    /// The free area of one bed; where the beds differ, the mean.
    #[schemars(required)]
    pub bed: Option<Located<AreaText>>,
    /// How well it is known: an expanded uncertainty (k = 2), an area too. The file's
    /// `uncertainty` is a length, and does not hold for areas.
    pub uncertainty: Option<Located<AreaText>>,
    /// Where the value came from, in words.
    pub from: Option<String>,
}

impl AreasFile {
    /// One band's entry.
    pub(super) const fn get(&self, band: Band) -> Option<&BedAreaEntry> {
        match band {
            Band::InnerBull => self.inner_bull.as_ref(),
            Band::OuterBull => self.outer_bull.as_ref(),
            Band::InnerSingle => self.inner_single.as_ref(),
            Band::Treble => self.treble.as_ref(),
            Band::OuterSingle => self.outer_single.as_ref(),
            Band::Double => self.double.as_ref(),
        }
    }
}
