//! The independent errors behind a board's lengths, to be drawn from.

use crate::board::{Assumption, CommonError, Distribution, Input, InputId};
use crate::random::Random;

/// One independent error, and how it enters the lengths that have it.
pub(super) struct ErrorSource {
    distribution: Distribution,
    degrees_of_freedom: f64,
    /// The lengths by their index, and the standard uncertainty of each.
    lengths: Vec<(usize, f64)>,
}

/// Every independent error of a board's lengths, common ones once.
pub(super) fn sources(inputs: &[Input]) -> Vec<ErrorSource> {
    let mut sources: Vec<(Option<CommonError>, ErrorSource)> = Vec::new();
    for (index, input) in inputs.iter().enumerate() {
        for part in &input.errors {
            let effect = (index, part.uncertainty.standard());
            let common = part.common(Assumption::Common);
            let known = sources
                .iter_mut()
                .find(|(error, _)| error.is_some() && *error == common);
            match known {
                Some((_, source)) => source.lengths.push(effect),
                None => sources.push((
                    common,
                    ErrorSource {
                        distribution: part.cause.distribution(),
                        degrees_of_freedom: part.uncertainty.degrees_of_freedom(),
                        lengths: vec![effect],
                    },
                )),
            }
        }
    }
    sources.into_iter().map(|(_, source)| source).collect()
}

impl ErrorSource {
    /// Adds a possible error to every length that has it, in mm.
    pub(super) fn draw(&self, random: &mut Random, values: &mut [f64]) {
        let error = match self.distribution {
            Distribution::Rectangular => libm::sqrt(3.0) * (2.0 * random.uniform() - 1.0),
            Distribution::Normal if self.degrees_of_freedom.is_finite() => {
                random.student(self.degrees_of_freedom)
            }
            Distribution::Normal => random.normal(),
        };
        for &(index, effect) in &self.lengths {
            if let Some(value) = values.get_mut(index) {
                *value += effect * error;
            }
        }
    }

    /// Whether a length has it.
    pub(super) fn enters(&self, input: InputId) -> bool {
        self.lengths
            .iter()
            .any(|&(index, _)| index == input.index())
    }

    /// Whether such errors have a variance: Student's t has none with two
    /// degrees of freedom or fewer.
    pub(super) const fn has_variance(&self) -> bool {
        !matches!(self.distribution, Distribution::Normal) || self.degrees_of_freedom > 2.0
    }
}
