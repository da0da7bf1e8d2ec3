//! What an instrument adds to the uncertainty of a reading.

use jiff::civil::Date;

use super::{Length, Uncertainty};

/// A measuring instrument, as far as it is described.
#[derive(Clone, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct Instrument {
    /// What it is, and which one.
    pub name: Option<String>,
    /// The step of its display or scale.
    pub resolution: Option<Length>,
    /// The largest error that its specification or certificate permits.
    pub max_error: Option<Length>,
    /// Whether that error is the same for all lengths taken with it.
    pub errors: Errors,
    /// The shortest and the longest length that it is made for.
    pub range: Option<(Length, Length)>,
    /// What is added to its readings.
    pub correction: Option<Correction>,
    /// The number of its certificate.
    pub certificate: Option<String>,
    /// When it was calibrated, as a date.
    pub calibrated: Option<Date>,
    /// When it has to be calibrated again.
    pub due: Option<Date>,
}

/// Whether an instrument's error is the same for all lengths taken with it.
#[derive(
    Clone,
    Copy,
    Debug,
    Default,
    PartialEq,
    Eq,
    Hash,
    serde::Deserialize,
    serde::Serialize,
    schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum Errors {
    /// It is: a calliper that reads short reads short everywhere.
    #[default]
    Common,
    /// Each length has its own, as where the error depends on the place along
    /// the scale.
    Independent,
    /// That is not known: what gives the larger uncertainty counts.
    Unknown,
}

/// A known error of an instrument, with its sign turned: what is added to a
/// reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What is added.
    pub value: Length,
    /// How well that is known, in mm.
    pub uncertainty: Option<Uncertainty>,
}

impl Instrument {
    /// The part from the resolution: a reading lies anywhere within half a
    /// step, so u = step/√12 (rectangular; JCGM 100, F.2.2.1, from memory).
    /// Independent from reading to reading.
    pub fn resolution_part(&self) -> Option<f64> {
        self.resolution.map(|step| step.as_mm() / libm::sqrt(12.0))
    }

    /// The part from the maximum permissible error: an error anywhere within
    /// ± MPE, so u = MPE/√3 (rectangular; JCGM 100, 4.3.7, from memory).
    pub fn error_part(&self) -> Option<f64> {
        self.max_error.map(|error| error.as_mm() / libm::sqrt(3.0))
    }

    /// All parts together for a single length, in mm; `None` if nothing is
    /// known of any.
    pub fn type_b(&self) -> Option<Uncertainty> {
        let parts = [self.resolution_part(), self.error_part()];
        let correction = self.correction.and_then(|known| known.uncertainty);
        let known: Vec<_> = parts
            .into_iter()
            .flatten()
            .map(Uncertainty::finite)
            .chain(correction)
            .map(|u| (1.0, u))
            .collect();
        (!known.is_empty()).then(|| Uncertainty::combined(known))
    }

    /// Whether it is made for lengths of this size.
    pub fn reaches(&self, length: Length) -> bool {
        self.range
            .is_none_or(|(least, most)| least <= length && length <= most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn resolution_and_permissible_error_are_rectangular() {
        // JCGM 100, F.2.2.1 and 4.3.7, from memory: 0.29 of the step, 0.58 of
        // the half-width.
        let calliper = Instrument {
            resolution: Some(Length::mm(0.01)),
            max_error: Some(Length::mm(0.03)),
            ..Instrument::default()
        };
        let close = |value: Option<f64>, expected: f64| {
            (value.expect("known") / expected - 1.0).abs() < 1e-12
        };
        assert!(close(calliper.resolution_part(), 0.01 / 12.0_f64.sqrt()));
        assert!(close(calliper.error_part(), 0.03 / 3.0_f64.sqrt()));
        let both = calliper.type_b().expect("known").standard();
        let expected = (0.01_f64.powi(2) / 12.0 + 0.03_f64.powi(2) / 3.0).sqrt();
        assert!((both - expected).abs() < 1e-15);
        assert_eq!(Instrument::default().type_b(), None);
    }
}
