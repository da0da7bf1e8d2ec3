//! A length as it was evaluated, and what stood beside it.

use super::Basis;
use super::error_part::ErrorPart;
use super::file::UncertaintyEntry;
use crate::document::Located;
use crate::units::Length;

/// What an entry says beside its value.
#[derive(Clone, Copy, Default)]
pub(crate) struct Beside<'f> {
    pub(crate) uncertainty: Option<&'f UncertaintyEntry>,
    pub(crate) instrument: Option<&'f Located<String>>,
}

/// A length with the causes of its error, and what both rest on.
pub(crate) struct Evaluated {
    pub(crate) value: Length,
    pub(crate) errors: Vec<ErrorPart>,
    pub(crate) basis: Basis,
    pub(crate) instrument: Option<usize>,
}
