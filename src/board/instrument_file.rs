//! The raw shape of an instrument in a board file.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::forms;
use super::length_text::LengthText;
use crate::document::Located;
use crate::units::{Errors, Instrument, Length};

/// A measuring instrument. The uncertainty that follows (type B) is the step
/// over √12, the permissible error over √3 and that of the correction, taken
/// together.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InstrumentFile {
    /// What it is, and which one.
    pub name: Option<String>,
    /// `true` if it is not known which instrument this was: it may be any of
    /// the others, and the larger uncertainty counts.
    pub unidentified: Option<bool>,
    /// The step of its display or scale.
    #[schemars(transform = forms::step)]
    pub resolution: Option<Located<LengthText>>,
    /// The largest error that its specification or certificate permits, as one
    /// length: 0.03 stands for ± 0.03.
    #[schemars(transform = forms::step)]
    pub max_error: Option<Located<LengthText>>,
    /// Whether that error is `common` to all lengths taken with it, which holds
    /// if this is left out, `independent` from length to length, or `unknown`:
    /// then the larger uncertainty counts.
    pub errors: Option<Errors>,
    /// The shortest and the longest length that it is made for.
    #[schemars(length(min = 2, max = 2))]
    pub range: Option<Vec<Located<LengthText>>>,
    /// What is added to its readings, such as for a known zero error.
    pub correction: Option<CorrectionFile>,
    /// The number of its certificate.
    pub certificate: Option<String>,
    /// The day of its last calibration, as `2026-05-02`.
    #[schemars(transform = forms::day)]
    pub calibrated: Option<Located<String>>,
    /// The day on which it is due for calibration.
    #[schemars(transform = forms::day)]
    pub due: Option<Located<String>>,
}

/// What is added to an instrument's readings, and how well that is known: either
/// `expanded` (with `k`, 2 if left out) or `standard`.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::perhaps_expanded_or_standard)]
pub struct CorrectionFile {
    /// What is added: the certificate's error with its sign turned.
    #[schemars(required)]
    #[schemars(transform = forms::correction)]
    pub value: Option<Located<LengthText>>,
    /// Expanded uncertainty U = k·u.
    #[schemars(transform = forms::uncertainty)]
    pub expanded: Option<Located<LengthText>>,
    /// The coverage factor of `expanded`; 2 if left out.
    #[schemars(range(min = 1.0, max = 15.0))]
    pub k: Option<f64>,
    /// Standard uncertainty u, in place of `expanded`.
    #[schemars(transform = forms::uncertainty)]
    pub standard: Option<Located<LengthText>>,
}

impl From<&Instrument> for InstrumentFile {
    fn from(instrument: &Instrument) -> Self {
        let length = |length: Length| Located::unplaced(LengthText::length(length));
        let day = |day: jiff::civil::Date| Located::unplaced(day.to_string());
        Self {
            name: instrument.name.clone(),
            unidentified: None,
            resolution: instrument.resolution.map(length),
            max_error: instrument.max_error.map(length),
            calibrated: instrument.calibrated.map(day),
            due: instrument.due.map(day),
            certificate: instrument.certificate.clone(),
            errors: Some(instrument.errors).filter(|errors| *errors != Errors::Common),
            range: instrument.range.map(|(a, b)| vec![length(a), length(b)]),
            correction: instrument.correction.map(|known| CorrectionFile {
                value: Some(length(known.value)),
                expanded: None,
                k: None,
                standard: known.uncertainty.map(|u| length(Length::mm(u.standard()))),
            }),
        }
    }
}
