//! What came of a check, as a word and as a sign that needs no colour.

use crate::conformity::{BandOutcome, Verdict};

/// What came of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Conforms,
    DoesNotConform,
    Inconclusive,
    /// The file lacks measurements.
    NotChecked,
    /// The table asks nothing of it.
    NoLimit,
}

impl Mark {
    /// The word.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Conforms => "conforms",
            Self::DoesNotConform => "does not conform",
            Self::Inconclusive => "inconclusive",
            Self::NotChecked => "not checked",
            Self::NoLimit => "no limit",
        }
    }

    /// The sign beside it, so that a column or a drawing can be read at a glance
    /// in black and white; empty where nothing was asked.
    pub(super) const fn sign(self) -> &'static str {
        match self {
            Self::Conforms => "✓",
            Self::DoesNotConform => "✗",
            Self::Inconclusive => "?",
            Self::NotChecked => "–",
            Self::NoLimit => "",
        }
    }
}

impl std::fmt::Display for Mark {
    /// Sign and word.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{} {}", self.sign(), self.word());
        f.pad(text.trim_start())
    }
}

impl From<Verdict> for Mark {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Conforms => Self::Conforms,
            Verdict::DoesNotConform => Self::DoesNotConform,
            Verdict::Inconclusive => Self::Inconclusive,
        }
    }
}

/// A check without a verdict could not be made.
impl From<Option<Verdict>> for Mark {
    fn from(verdict: Option<Verdict>) -> Self {
        verdict.map_or(Self::NotChecked, Self::from)
    }
}

impl From<&BandOutcome<'_>> for Mark {
    fn from(outcome: &BandOutcome<'_>) -> Self {
        match outcome {
            BandOutcome::Compared(band) => band.verdict.map_or(Self::NoLimit, Self::from),
            BandOutcome::NoNominal(_) => Self::NoLimit,
            BandOutcome::NotChecked(_) => Self::NotChecked,
        }
    }
}
