//! What several people found of one length.

use jiff::civil::Date;

use crate::document::Span;
use crate::measurement::{Between, Components, Repeatability, RowAgreement};
use crate::units::{Length, Series};

/// What several people found of one length, and what it comes to.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Taken {
    /// What each of them read, in the order of the file.
    pub takings: Vec<Taking>,
    /// How well they agree, where that can be tested.
    pub agreement: Option<RowAgreement>,
    /// What the uncertainty of the weighted value consists of; `None` if
    /// somebody's is not known: then everybody counts alike.
    pub components: Option<Components>,
}

/// What one person read of a length with one instrument.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Taking {
    /// Who.
    pub by: String,
    /// On which day.
    pub date: Option<Date>,
    /// The instrument, by its index.
    pub instrument: Option<usize>,
    /// The readings, in mm.
    pub series: Series,
    /// Their mean with the instrument's correction.
    pub value: Length,
    /// Its weight in the value of the length; the weights add up to 1.
    pub weight: f64,
    /// The standard deviation of a single reading that holds for them.
    pub repeatability: Option<Repeatability>,
    /// Where each reading stands.
    pub places: Vec<Span>,
}

impl Taken {
    /// Whether people disagree by more than their uncertainties explain.
    pub fn is_disputed(&self) -> bool {
        self.agreement.as_ref().is_some_and(RowAgreement::disputed)
    }

    /// How many times as large the expanded uncertainty is because people
    /// differ; `None` where that did not make it larger.
    pub fn widened(&self) -> Option<f64> {
        let components = self.components.as_ref()?;
        matches!(components.between_from, Between::Results(_)).then_some(components.widened)
    }

    /// How many people.
    pub fn people(&self) -> usize {
        let mut names: Vec<&str> = self.takings.iter().map(|of| of.by.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        names.len()
    }

    /// How many readings.
    pub fn readings(&self) -> usize {
        let readings = self.takings.iter().map(|of| of.series.readings().len());
        readings.sum()
    }

    /// The standard deviation of this length's readings about each person's
    /// mean; `None` if nobody repeated one.
    pub fn deviation(&self) -> Option<f64> {
        let (mut squares, mut degrees) = (0.0, 0.0);
        for taking in &self.takings {
            if let Some(s) = taking.series.deviation() {
                let own = taking.series.readings().len() as f64 - 1.0;
                squares += s * s * own;
                degrees += own;
            }
        }
        (degrees > 0.0).then(|| libm::sqrt(squares / degrees))
    }
}
