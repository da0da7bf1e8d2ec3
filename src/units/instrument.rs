//! What an instrument adds to the uncertainty of a reading.

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
    /// When it was calibrated, as a date.
    pub calibrated: Option<jiff::civil::Date>,
}

impl Instrument {
    /// The part from the resolution: a reading lies anywhere within half a
    /// step, so u = step/√12 (rectangular; JCGM 100, F.2.2.1, from memory).
    /// Independent from reading to reading.
    pub fn resolution_part(&self) -> Option<f64> {
        self.resolution.map(|step| step.as_mm() / libm::sqrt(12.0))
    }

    /// The part from the maximum permissible error: an error anywhere within
    /// ± MPE, so u = MPE/√3 (rectangular; JCGM 100, 4.3.7, from memory). The
    /// same for every reading with this instrument.
    pub fn error_part(&self) -> Option<f64> {
        self.max_error.map(|error| error.as_mm() / libm::sqrt(3.0))
    }

    /// Both parts together, in mm; `None` if nothing is known of either.
    pub fn type_b(&self) -> Option<Uncertainty> {
        let parts = [self.resolution_part(), self.error_part()];
        let known: Vec<f64> = parts.into_iter().flatten().collect();
        if known.is_empty() {
            return None;
        }
        let parts = known.into_iter().map(|u| (1.0, Uncertainty::finite(u)));
        Some(Uncertainty::combined(parts))
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
