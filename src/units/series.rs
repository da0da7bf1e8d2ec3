//! Repeated readings of one quantity.

use super::Uncertainty;

/// Repeated readings, at least one, all in one unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    readings: Vec<f64>,
    mean: f64,
    deviation: Option<f64>,
}

/// Readings of which no series can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SeriesError {
    /// There is none.
    #[error("a series needs at least one reading")]
    Empty,
    /// One of them is not a finite number.
    #[error("reading {} is not a finite number", index + 1)]
    NotFinite {
        /// Its index.
        index: usize,
    },
}

impl Series {
    /// The standard deviation of a single reading, in mm, from all series of more
    /// than one; `None` if there is none, or all readings of each are equal.
    pub(crate) fn pooled(all: &[Self]) -> Option<Uncertainty> {
        let (mut squares, mut degrees) = (0.0, 0.0);
        for series in all {
            let free = series.readings().len() as f64 - 1.0;
            squares += free * series.deviation().map_or(0.0, |s| s * s);
            degrees += free;
        }
        (squares > 0.0).then(|| Uncertainty::with_degrees(libm::sqrt(squares / degrees), degrees))
    }

    /// From at least one reading, all of them finite.
    ///
    /// ```
    /// use ringrule::units::{Series, SeriesError};
    ///
    /// let series = Series::new(vec![8.01, 7.98, 8.02])?;
    /// assert!((series.mean() - 8.003_333).abs() < 1e-6);
    /// assert_eq!(Series::new(Vec::new()), Err(SeriesError::Empty));
    /// # Ok::<(), SeriesError>(())
    /// ```
    pub fn new(readings: Vec<f64>) -> Result<Self, SeriesError> {
        if readings.is_empty() {
            return Err(SeriesError::Empty);
        }
        if let Some(index) = readings.iter().position(|reading| !reading.is_finite()) {
            return Err(SeriesError::NotFinite { index });
        }
        let n = readings.len() as f64;
        let mean = exact_sum(readings.iter().copied()) / n;
        let deviation = (readings.len() > 1).then(|| {
            // Two passes, and the second corrected by the rounding of the mean:
            // readings that differ in their last digits keep them.
            let squares = exact_sum(readings.iter().map(|x| (x - mean) * (x - mean)));
            let rest = exact_sum(readings.iter().map(|x| x - mean));
            libm::sqrt(((squares - rest * rest / n) / (n - 1.0)).max(0.0))
        });
        Ok(Self {
            readings,
            mean,
            deviation,
        })
    }

    /// The readings in the order given.
    pub fn readings(&self) -> &[f64] {
        &self.readings
    }

    /// The arithmetic mean (JCGM 100, 4.2.1, from memory).
    pub const fn mean(&self) -> f64 {
        self.mean
    }

    /// The experimental standard deviation with n − 1 degrees of freedom
    /// (JCGM 100, 4.2.2, from memory); `None` for a single reading.
    pub const fn deviation(&self) -> Option<f64> {
        self.deviation
    }

    /// The standard uncertainty of the mean, s/√n, with n − 1 degrees of
    /// freedom (type A; JCGM 100, 4.2.3, from memory); `None` for a single
    /// reading, of which nothing can be said.
    pub fn type_a(&self) -> Option<Uncertainty> {
        let n = self.readings.len() as f64;
        let standard = self.deviation? / libm::sqrt(n);
        Some(Uncertainty::with_degrees(standard, n - 1.0))
    }
}

/// A sum that keeps what ordinary addition rounds away (Neumaier, Z. Angew.
/// Math. Mech. 54, 1974, from memory).
fn exact_sum(terms: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut lost) = (0.0_f64, 0.0_f64);
    for term in terms {
        let next = sum + term;
        lost += if sum.abs() >= term.abs() {
            (sum - next) + term
        } else {
            (term - next) + sum
        };
        sum = next;
    }
    sum + lost
}

#[cfg(test)]
mod tests {
    use super::*;

    fn series(readings: impl IntoIterator<Item = f64>) -> Series {
        Series::new(readings.into_iter().collect()).expect("readings")
    }

    #[test]
    fn repeated_readings_of_the_guide() {
        // Published: JCGM 100 (GUM) 4.4.3, twenty temperatures.
        let series = series([
            96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42,
            100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
        ]);
        assert!((series.mean() - 100.145).abs() < 1e-12);
        assert!((series.deviation().expect("twenty") - 1.48884).abs() < 5e-6);
        let u = series.type_a().expect("twenty");
        assert!((u.standard() - 0.332_916).abs() < 5e-7);
        assert!((u.degrees_of_freedom() - 19.0).abs() < 1e-12);
    }

    #[test]
    fn nist_statistical_reference_sets() {
        // Published: NIST StRD, univariate summary statistics. The allowance
        // is what the data allow in doubles: x.1, x.2 and x.3 are not exact
        // there, and an error of their last digit is 2e-9 of 0.1 for x = 1e7.
        let acc1 = series([10_000_001.0, 10_000_003.0, 10_000_002.0]);
        assert!((acc1.mean() - 10_000_002.0).abs() < 1e-9);
        assert!((acc1.deviation().expect("three") - 1.0).abs() < 1e-14);
        for (x, allowance) in [(1.0, 1e-14), (1e6, 1e-9), (1e7, 2e-8)] {
            let pairs = (0..500).flat_map(|_| [x + 0.1, x + 0.3]);
            let acc = series(std::iter::once(x + 0.2).chain(pairs));
            assert!((acc.mean() / (x + 0.2) - 1.0).abs() < 1e-15, "{x}");
            let s = acc.deviation().expect("many");
            assert!((s / 0.1 - 1.0).abs() < allowance, "{x}: {s}");
        }
        let mavro = [
            18, 17, 18, 19, 18, 17, 15, 14, 15, 15, 17, 18, 18, 19, 19, 21, 20, 16, 14, 13, 13, 15,
            15, 16, 15, 14, 13, 14, 15, 14, 15, 16, 15, 16, 19, 20, 20, 21, 22, 23, 24, 25, 27, 26,
            26, 26, 27, 26, 25, 24,
        ];
        let mavro = series(mavro.map(|k| 2.0 + f64::from(k) * 1e-4));
        assert!((mavro.mean() - 2.001_856).abs() < 1e-14);
        let s = mavro.deviation().expect("fifty");
        assert!((s / 0.000_429_123_454_003_053 - 1.0).abs() < 1e-11, "{s}");
    }

    #[test]
    fn one_reading_says_nothing_of_its_spread_and_equal_ones_have_none() {
        assert_eq!(series([107.0]).deviation(), None);
        assert_eq!(series([107.0]).type_a(), None);
        let equal = series([107.02, 107.02, 107.02]);
        assert_eq!(equal.deviation(), Some(0.0));
        assert_eq!(Series::new(Vec::new()), Err(SeriesError::Empty));
        let not_finite = Series::new(vec![8.0, f64::NAN]);
        assert_eq!(not_finite, Err(SeriesError::NotFinite { index: 1 }));
    }
}
