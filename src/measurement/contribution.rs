//! What one person contributes to a row: a mean, and what is known of its error.

use super::cell::{Cell, known};
use super::least_squares::Errors;
use super::repeatability::Repeatability;
use crate::units::Uncertainty;

/// One person's result of one row, all lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contribution {
    /// Whose it is: the results of one person have the bias of one touch.
    pub person: usize,
    /// The mean of the readings.
    pub value: f64,
    /// How many readings; at least one.
    pub readings: usize,
    /// The standard deviation of a single reading; `None` if nothing is known
    /// of it, and then nothing of this result's uncertainty either.
    pub repeatability: Option<Repeatability>,
    /// The step of the display; `None` if not known.
    pub step: Option<f64>,
    /// The instrument's maximum permissible error; `None` if not known, and
    /// then the instrument is taken as exact.
    pub max_error: Option<f64>,
    /// Which instrument; `None` if it is not known whether it is the one that
    /// somebody else used.
    pub instrument: Option<usize>,
}

impl Contribution {
    /// From a cell and the repeatability that holds for it.
    pub fn of(
        cell: &Cell<'_>,
        repeatability: Option<Repeatability>,
        instrument: Option<usize>,
    ) -> Self {
        Self {
            person: cell.person,
            value: cell.series.mean(),
            readings: cell.series.readings().len(),
            repeatability,
            step: cell.step,
            max_error: cell.max_error,
            instrument,
        }
    }

    /// The standard uncertainty from scatter: s/√n, with the degrees of freedom
    /// of s (type A; JCGM 100, 4.2.3, from memory).
    pub fn scatter(&self) -> Option<Uncertainty> {
        let repeatability = self.repeatability?;
        Some(Uncertainty::with_degrees(
            repeatability.deviation / libm::sqrt(self.readings.max(1) as f64),
            repeatability.degrees_of_freedom,
        ))
    }

    /// The standard uncertainty from the display's step, step/√12 (rectangular;
    /// JCGM 100, F.2.2.1, from memory). It is not divided by the number of
    /// readings: where readings hardly scatter, all are rounded alike.
    pub fn resolution(&self) -> f64 {
        known(self.step) / libm::sqrt(12.0)
    }

    /// The standard uncertainty from the instrument's error, MPE/√3
    /// (rectangular; JCGM 100, 4.3.7, from memory). Common to everybody who
    /// used the instrument.
    pub fn instrument_error(&self) -> f64 {
        known(self.max_error) / libm::sqrt(3.0)
    }

    /// The standard uncertainty of what other people's results do not share:
    /// scatter and resolution.
    pub fn own(&self) -> Option<Uncertainty> {
        let parts = [self.scatter()?, Uncertainty::finite(self.resolution())];
        Some(Uncertainty::combined(parts.map(|part| (1.0, part))))
    }

    /// The variances, if that instrument was used.
    pub(super) fn errors(&self, instrument: usize) -> Option<Errors> {
        self.errors_if(instrument, 1.0)
    }

    /// The same where the variance of a reading is `ratio` times its estimate.
    pub(super) fn errors_if(&self, instrument: usize, ratio: f64) -> Option<Errors> {
        let (scatter, resolution) = (self.scatter()?.standard(), self.resolution());
        let common = self.instrument_error();
        Some(Errors {
            own: ratio * scatter * scatter + resolution * resolution,
            common: common * common,
            instrument,
        })
    }
}

/// Every way in which the instruments that are not known may be the same as
/// others that is worth a look, as an instrument for each result: each of them
/// another one; all of them one; all of them one of those that are known.
pub(super) fn assumptions(people: &[Contribution]) -> Vec<Vec<usize>> {
    let instruments = people.iter().filter_map(|person| person.instrument);
    let mut named: Vec<usize> = instruments.collect();
    named.sort_unstable();
    named.dedup();
    let place = |instrument: usize| named.iter().position(|&known| known == instrument);
    let with = |unknown: &dyn Fn(usize) -> usize| {
        let chosen = people.iter().enumerate().map(|(index, person)| {
            let place = person.instrument.and_then(place);
            place.unwrap_or_else(|| unknown(index))
        });
        chosen.collect::<Vec<usize>>()
    };
    let new = named.len();
    let mut all = vec![with(&|index| new + index)];
    if people.iter().any(|person| person.instrument.is_none()) {
        all.extend((0..=new).map(|same| with(&|_| same)));
    }
    all
}
