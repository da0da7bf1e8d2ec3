//! How a measured value and its uncertainty become a verdict.

use std::fmt;

use crate::units::Percent;

/// A decision rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Decision {
    /// A value conforms when it lies within the limits; its uncertainty is
    /// printed but does not count. JCGM 106 calls this simple acceptance (from
    /// memory).
    Simple,
    /// A value conforms, or does not, only if the probability of that reaches
    /// the confidence; otherwise the verdict is inconclusive.
    Guarded {
        /// The probability that is asked for, above 50 % and below 100 %.
        confidence: Percent,
    },
}

impl fmt::Display for Decision {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Simple => f.write_str("simple"),
            Self::Guarded { confidence } => write!(f, "guarded at {confidence:.0}"),
        }
    }
}
