//! A length as it was evaluated, and what stood beside it.

use super::entries::UncertaintyEntry;
use super::error_part::ErrorPart;
use super::{Basis, Bearing};
use crate::document::{Located, Span};
use crate::units::Length;

/// What an entry says beside its value.
#[derive(Clone, Copy, Default)]
pub(crate) struct Beside<'f> {
    pub(crate) uncertainty: Option<&'f UncertaintyEntry>,
    pub(crate) instrument: Option<&'f Located<String>>,
    /// Whether it is taken across the board, so that a place and the one opposite
    /// are one.
    pub(crate) across: bool,
}

/// A length with the causes of its error, and what both rest on.
pub(crate) struct Evaluated {
    pub(crate) value: Length,
    pub(crate) errors: Vec<ErrorPart>,
    pub(crate) basis: Basis,
    pub(crate) instrument: Option<usize>,
    /// The same at each place where it was taken, if the file says.
    pub(crate) places: Vec<EvaluatedPlace>,
}

/// A length at one place around the board.
pub(crate) struct EvaluatedPlace {
    pub(crate) at: Bearing,
    pub(crate) evaluated: Evaluated,
    pub(crate) span: Span,
}
