//! A figure with how sure it is.

use super::super::Certainty;
use super::super::certainty::Causes;
use crate::units::Uncertainty;

/// A figure that follows from areas.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Figure {
    /// The figure.
    pub value: f64,
    /// How sure it is.
    pub certainty: Certainty,
}

impl Figure {
    /// A product, which is above zero, from its logarithm and what is not known of that;
    /// `None` if something that it rests on states no uncertainty.
    pub(super) fn product(log: f64, boards: Option<Uncertainty>) -> Self {
        // Areas know nothing of a player: all that is not known is of the boards.
        let causes = Causes {
            value: log,
            boards,
            player: Vec::new(),
        };
        Self {
            value: libm::exp(log),
            certainty: causes.certainty_of_product(),
        }
    }

    /// What follows from this one by a rule that grows or falls throughout.
    pub(super) fn map(self, rule: impl Fn(f64) -> f64) -> Self {
        Self {
            value: rule(self.value),
            certainty: self.certainty.map(rule),
        }
    }
}
