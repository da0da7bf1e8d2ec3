//! How a measured value and its uncertainty become a verdict.

use std::fmt;

use crate::units::Percent;

/// A decision rule.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Decision {
    /// A value conforms when it lies within the limits, if it was measured well
    /// enough; its uncertainty does not count otherwise. JCGM 106 calls this
    /// simple acceptance (from memory).
    Simple {
        /// The largest expanded uncertainty (k = 2), as a share of the distance
        /// between the limits; `None` for any.
        max_uncertainty: Option<Percent>,
    },
    /// A value conforms, or does not, only if the probability of that reaches
    /// the confidence; otherwise the verdict is inconclusive.
    Guarded {
        /// The probability that is asked for, above 50 % and below 100 %.
        confidence: Percent,
        /// Of what.
        of: DecisionScope,
    },
}

/// What a guarded rule asks its confidence of.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, Hash, serde::Deserialize, schemars::JsonSchema,
)]
#[serde(rename_all = "snake_case")]
pub enum DecisionScope {
    /// Each check by itself.
    #[default]
    Check,
    /// Each check, and the board as a whole: that it meets all its limits.
    Board,
}

impl Decision {
    /// Simple acceptance of values however badly they were measured.
    pub const BARE: Self = Self::Simple {
        max_uncertainty: None,
    };

    /// Simple acceptance as it is meant unless a table says otherwise: the
    /// expanded uncertainty at most a fifth of the distance between the limits.
    /// Common practice, no source seen: a tenth to a fifth is what metrologists
    /// ask for.
    pub const USUAL: Self = Self::Simple {
        max_uncertainty: Some(Percent::finite(20.0)),
    };
}

impl fmt::Display for Decision {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Simple {
                max_uncertainty: None,
            } => f.write_str("simple"),
            Self::Simple {
                max_uncertainty: Some(most),
            } => write!(f, "simple, U at most {most:.0} of the interval"),
            Self::Guarded {
                confidence,
                of: DecisionScope::Check,
            } => write!(f, "guarded at {confidence:.0}"),
            Self::Guarded {
                confidence,
                of: DecisionScope::Board,
            } => write!(f, "guarded at {confidence:.0} for the whole board"),
        }
    }
}
