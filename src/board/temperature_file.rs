//! The raw shape of the temperature at which a board was measured.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::forms;
use super::length_text::{ExpansionText, TemperatureText};
use crate::document::Located;

/// The temperature at which lengths were measured, and what it did to them. All
/// uncertainties are expanded, with k = 2.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = forms::with_its_expansion)]
pub struct TemperatureFile {
    /// The temperature of the board: `27 °C` or `80.5 °F`.
    #[schemars(required)]
    pub at: Option<Located<TemperatureText>>,
    /// Its expanded uncertainty, such as `1 K`.
    #[schemars(transform = forms::kelvins)]
    pub uncertainty: Option<Located<TemperatureText>>,
    /// The board's coefficient of linear expansion, such as `11.5e-6 /K` of steel
    /// wire: every measured length is then brought to 20 °C. Left out, lengths
    /// stay as they were measured.
    pub expansion: Option<Located<ExpansionText>>,
    /// Its expanded uncertainty.
    pub expansion_uncertainty: Option<Located<ExpansionText>>,
    /// The coefficient of the instruments, where they were as warm as the board.
    /// Left out, their readings are taken as right as they stand.
    pub instrument_expansion: Option<Located<ExpansionText>>,
    /// Its expanded uncertainty.
    pub instrument_expansion_uncertainty: Option<Located<ExpansionText>>,
}
