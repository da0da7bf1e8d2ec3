//! One person's readings of one row of a sheet.

use crate::units::Series;

/// What arithmetic leaves of equal readings, relative to their size: less than
/// that is no scatter.
pub(super) const ROUNDING: f64 = 1e-12;

/// One person's readings of one row, with what is known of the instrument. All
/// lengths are in mm.
#[derive(Clone, Copy, Debug)]
pub struct Cell<'a> {
    /// Which row.
    pub row: usize,
    /// Which person.
    pub person: usize,
    /// The readings.
    pub series: &'a Series,
    /// The step of the instrument's display, if known.
    pub step: Option<f64>,
    /// The instrument's maximum permissible error, if known.
    pub max_error: Option<f64>,
}

impl Cell<'_> {
    /// The sum of squares about the mean, and its degrees of freedom; `None`
    /// for a single reading.
    pub(super) fn squares(&self) -> Option<(f64, f64)> {
        let degrees = self.series.readings().len() as f64 - 1.0;
        let deviation = self.series.deviation()?;
        let deviation = if deviation > ROUNDING * self.series.mean().abs() {
            deviation
        } else {
            0.0
        };
        Some((deviation * deviation * degrees, degrees))
    }

    /// The standard deviation below which the display cannot show any scatter:
    /// step/√12, that of rounding to a step (rectangular; JCGM 100, F.2.2.1,
    /// from memory). Zero if the step is not known.
    pub(super) fn least_deviation(&self) -> f64 {
        known(self.step) / libm::sqrt(12.0)
    }
}

/// A length that is known and usable, or else zero.
pub(super) fn known(length: Option<f64>) -> f64 {
    length.filter(|x| x.is_finite()).map_or(0.0, f64::abs)
}
