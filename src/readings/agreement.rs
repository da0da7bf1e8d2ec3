//! Do several people agree?

use statrs::distribution::{ChiSquared, ContinuousCDF};

use crate::units::{Uncertainty, UncertaintyError};

/// One person's result: a value and its standard uncertainty (k = 1).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measurement {
    value: f64,
    standard_uncertainty: f64,
}

/// Numbers that are not a person's result.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MeasurementError {
    /// A value that is infinite or not a number.
    #[error("{0} is not a value that can be measured; give a finite number")]
    Value(f64),
    /// An uncertainty that is none.
    #[error(transparent)]
    Uncertainty(#[from] UncertaintyError),
}

impl Measurement {
    /// A finite value with its standard uncertainty, in the same unit.
    ///
    /// ```
    /// use ringrule::readings::{Measurement, weighted_mean};
    ///
    /// let results = [Measurement::new(8.01, 0.02)?, Measurement::new(7.98, 0.01)?];
    /// let mean = weighted_mean(&results).map(Measurement::value);
    /// assert!(mean.is_some_and(|mean| (mean - 7.986).abs() < 1e-9));
    /// assert!(Measurement::new(8.01, -0.02).is_err());
    /// # Ok::<(), ringrule::readings::MeasurementError>(())
    /// ```
    pub fn new(value: f64, standard_uncertainty: f64) -> Result<Self, MeasurementError> {
        if !value.is_finite() {
            return Err(MeasurementError::Value(value));
        }
        let u = Uncertainty::known(standard_uncertainty)?;
        Ok(Self::finite(value, u.standard()))
    }

    /// Of numbers that are known to be such.
    pub(super) const fn finite(value: f64, standard_uncertainty: f64) -> Self {
        Self {
            value,
            standard_uncertainty,
        }
    }

    /// The value.
    pub const fn value(self) -> f64 {
        self.value
    }

    /// Its standard uncertainty.
    pub const fn standard_uncertainty(self) -> f64 {
        self.standard_uncertainty
    }
}

/// How well results of the same quantity agree within their uncertainties.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Agreement {
    /// Σ ((x − x̄)/u)² about the weighted mean.
    pub chi_square: f64,
    /// Results less one.
    pub degrees_of_freedom: f64,
    /// The probability of a chi-square that large, if nothing but the stated
    /// uncertainties were at work.
    pub probability: f64,
    /// √(χ²/ν): by how much the uncertainties would have to be larger.
    pub birge_ratio: f64,
    /// `E_n` = (a − b) / √(U² of a + U² of b), with k = 2, for each pair of
    /// results by their index (ISO 13528:2022, E.4). Above 1 in size: they disagree.
    pub pairs: Vec<(usize, usize, f64)>,
}

/// The probability below which probability no longer explains a difference. House
/// rule: the usual 5 %.
const LEAST_PROBABILITY: f64 = 0.05;

impl Agreement {
    /// Whether probability explains the differences: by chi-square, and for each
    /// pair.
    pub fn agree(&self) -> bool {
        self.probability >= LEAST_PROBABILITY && self.pairs.iter().all(|pair| pair.2.abs() <= 1.0)
    }
}

/// The mean weighted by 1/u², and its standard uncertainty if the results are
/// independent. `None` without results, or if one has no positive uncertainty.
pub fn weighted_mean(results: &[Measurement]) -> Option<Measurement> {
    let sound = |m: &Measurement| m.standard_uncertainty > 0.0 && m.value.is_finite();
    if results.is_empty() || !results.iter().all(sound) {
        return None;
    }
    let weight = |m: &Measurement| 1.0 / (m.standard_uncertainty * m.standard_uncertainty);
    let whole: f64 = results.iter().map(weight).sum();
    let sum: f64 = results.iter().map(|m| weight(m) * m.value).sum();
    Some(Measurement {
        value: sum / whole,
        standard_uncertainty: libm::sqrt(1.0 / whole),
    })
}

/// One person's result, with the part of its uncertainty that it shares with
/// whoever used the same instrument.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shared {
    pub(super) own: Measurement,
    pub(super) error: f64,
    pub(super) instrument: usize,
}

impl Shared {
    /// A value with the standard uncertainty that is its own, that of the error
    /// of the instrument, and which instrument that was.
    pub fn new(own: Measurement, error: f64, instrument: usize) -> Result<Self, MeasurementError> {
        let error = Uncertainty::known(error)?.standard();
        Ok(Self {
            own,
            error,
            instrument,
        })
    }
}

/// Tests whether independent results agree. `None` for fewer than two, or if
/// one has no positive uncertainty.
pub fn agreement(results: &[Measurement]) -> Option<Agreement> {
    let apart = results.iter().enumerate().map(|(instrument, &own)| Shared {
        own,
        error: 0.0,
        instrument,
    });
    shared_agreement(&apart.collect::<Vec<_>>())
}

/// Tests whether results agree, some of which share an instrument. An error
/// that two share cannot show in their difference, so it counts between
/// instruments only: chi-square is that within each instrument plus that
/// between the instruments' means, which is the generalised least-squares one.
pub fn shared_agreement(results: &[Shared]) -> Option<Agreement> {
    if results.len() < 2 {
        return None;
    }
    let mut instruments: Vec<usize> = results.iter().map(|result| result.instrument).collect();
    instruments.sort_unstable();
    instruments.dedup();
    let mut chi_square = 0.0;
    let mut means = Vec::with_capacity(instruments.len());
    for &instrument in &instruments {
        let users = results
            .iter()
            .filter(|result| result.instrument == instrument);
        let error = users.clone().map(|user| user.error).fold(0.0, f64::max);
        let own: Vec<Measurement> = users.map(|user| user.own).collect();
        // A person alone with an instrument may have nothing but its error.
        let mean = match own.as_slice() {
            [only] => *only,
            several => weighted_mean(several)?,
        };
        if own.len() > 1 {
            chi_square += spread(&own, mean.value);
        }
        means.push(Measurement {
            value: mean.value,
            standard_uncertainty: libm::hypot(mean.standard_uncertainty, error),
        });
    }
    chi_square += spread(&means, weighted_mean(&means)?.value);
    let degrees_of_freedom = (results.len() - 1) as f64;
    let mut pairs = Vec::new();
    for (i, a) in results.iter().enumerate() {
        for (j, b) in results.iter().enumerate().skip(i + 1) {
            let own = libm::hypot(a.own.standard_uncertainty, b.own.standard_uncertainty);
            let errors = if a.instrument == b.instrument {
                0.0
            } else {
                libm::hypot(a.error, b.error)
            };
            let u = libm::hypot(own, errors);
            pairs.push((i, j, (a.own.value - b.own.value) / (2.0 * u)));
        }
    }
    Some(Agreement {
        chi_square,
        degrees_of_freedom,
        probability: ChiSquared::new(degrees_of_freedom).ok()?.sf(chi_square),
        birge_ratio: libm::sqrt(chi_square / degrees_of_freedom),
        pairs,
    })
}

/// Σ ((x − mean)/u)².
fn spread(results: &[Measurement], mean: f64) -> f64 {
    let square = |m: &Measurement| {
        let distance = (m.value - mean) / m.standard_uncertainty;
        distance * distance
    };
    results.iter().map(square).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn result(value: f64, standard_uncertainty: f64) -> Measurement {
        Measurement::finite(value, standard_uncertainty)
    }

    #[test]
    fn the_weighted_mean_of_three() {
        // Recomputed independently, by hand: χ² 50/9 on 2 degrees, Birge 5/3.
        let results = [result(10.0, 0.1), result(10.2, 0.1), result(10.5, 0.2)];
        let mean = weighted_mean(&results).expect("sound");
        assert!((mean.value - 10.144_444_444).abs() < 1e-9);
        assert!((mean.standard_uncertainty - 0.066_666_667).abs() < 1e-9);
        let agreement = agreement(&results).expect("three");
        assert!((agreement.chi_square - 50.0 / 9.0).abs() < 1e-9);
        assert!((agreement.probability - 0.062_176_5).abs() < 1e-7);
        assert!((agreement.birge_ratio - 5.0 / 3.0).abs() < 1e-9);
    }

    #[test]
    fn e_n_of_the_standard() {
        // Published: ISO 13528:2022, E.4. Assigned 0.044 with U 0.0082; results
        // 0.013 (U 0.003) and 0.053 (U 0.007): E_n −3.55 and 0.83.
        for (value, expanded, expected) in [(0.013, 0.003, -3.55), (0.053, 0.007, 0.83)] {
            let pair = [result(value, expanded / 2.0), result(0.044, 0.0041)];
            let e_n = agreement(&pair).expect("two").pairs[0].2;
            assert!((e_n - expected).abs() < 0.005, "{e_n} is not {expected}");
        }
    }

    #[test]
    fn nothing_is_tested_without_two_uncertainties() {
        assert_eq!(agreement(&[result(1.0, 0.1)]), None);
        assert_eq!(agreement(&[result(1.0, 0.1), result(1.0, 0.0)]), None);
        assert_eq!(weighted_mean(&[]), None);
    }
}
