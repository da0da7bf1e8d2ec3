//! Evaluated lengths, put among the inputs of a construction.

use super::evaluated::Evaluated;
use super::{Construction, ErrorPart, Input, InputId, Quantity};
use crate::document::Span;
use crate::units::Uncertainty;

/// Adds a length.
pub(super) fn add(construction: &mut Construction, input: Input) -> InputId {
    construction.inputs.push(input);
    InputId::new(construction.inputs.len() - 1)
}

/// A length without what only some have: a place, an edge, a size of wire.
pub(super) fn plain_input(quantity: Quantity, evaluated: Evaluated, span: Span) -> Input {
    Input {
        quantity,
        value: evaluated.value,
        at: None,
        edge: None,
        wire: None,
        uncertainty: together(&evaluated.errors),
        errors: evaluated.errors,
        instrument: evaluated.instrument,
        basis: evaluated.basis,
        span,
    }
}

/// All causes of error of one length; `None` if none is known.
pub(super) fn together(errors: &[ErrorPart]) -> Option<Uncertainty> {
    let parts = errors.iter().map(|part| (1.0, part.uncertainty));
    (!errors.is_empty()).then(|| Uncertainty::combined(parts))
}
