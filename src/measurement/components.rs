//! What a combined value and its uncertainty consist of.

use crate::units::{Coverage, Uncertainty};

/// What several results give together.
#[derive(Clone, Debug, PartialEq)]
pub struct Combined {
    /// The value.
    pub value: f64,
    /// The weight of each result; they add up to 1.
    pub weights: Vec<f64>,
    /// What its uncertainty consists of; `None` if somebody's is not known:
    /// then everybody counts alike.
    pub uncertainty: Option<Components>,
}

/// What the uncertainty of a combined value consists of, as standard
/// uncertainties.
#[derive(Clone, Debug, PartialEq)]
pub struct Components {
    /// Scatter and resolution, which nobody shares.
    pub own: Uncertainty,
    /// The scatter alone.
    pub scatter: Uncertainty,
    /// The resolution alone.
    pub resolution: f64,
    /// What else people do not share.
    pub between: Uncertainty,
    /// Where that comes from.
    pub between_from: Between,
    /// How many times as large the expanded uncertainty is as it would be with
    /// the touch alone; 1 where people's results show no more than that.
    pub widened: f64,
    /// The error of each instrument.
    pub instruments: Vec<InstrumentPart>,
    /// All of it, with its effective degrees of freedom.
    pub total: Uncertainty,
    /// The same expanded.
    pub coverage: Coverage,
    /// Whether some instruments are not known, so that it had to be assumed
    /// which of them are the same.
    pub instruments_assumed: bool,
}

/// Where the part comes from that people do not share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Between {
    /// Nothing was added.
    Nothing,
    /// From the results, which differ by more than the rest explains: the
    /// standard deviation between people after Mandel and Paule.
    Results(f64),
    /// From the bias that each person's touch may have, as given: the results
    /// show no more than that.
    Touch,
}

/// What one instrument's error contributes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InstrumentPart {
    /// Which; `None` if it is not known.
    pub instrument: Option<usize>,
    /// The index of the first result that has it.
    pub first: usize,
    /// How many results.
    pub users: usize,
    /// The standard uncertainty that it contributes.
    pub standard: f64,
}
