//! Colours, and the signs and words for what came of a check. Words say everything
//! that colours say.

use std::fmt;

use anstyle::{AnsiColor, Effects};

use crate::conformity::{BandOutcome, Verdict};

/// How text is set off from other text. Writers put styles in always; whoever
/// owns the stream strips them where they are not wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// A heading or a board's name.
    Strong,
    /// Places and sources.
    Faint,
    /// A verdict.
    Verdict(Verdict),
    /// A check that could not be made, or a suspicion.
    Caution,
}

impl Style {
    /// The text in this style.
    pub fn paint<T: fmt::Display>(self, text: T) -> impl fmt::Display {
        let style = match self {
            Self::Strong => anstyle::Style::new().effects(Effects::BOLD),
            Self::Faint => anstyle::Style::new().effects(Effects::DIMMED),
            Self::Verdict(Verdict::Conforms) => AnsiColor::Cyan.on_default(),
            Self::Verdict(Verdict::DoesNotConform) => {
                AnsiColor::Magenta.on_default().effects(Effects::BOLD)
            }
            Self::Verdict(Verdict::Inconclusive) | Self::Caution => AnsiColor::Yellow.on_default(),
        };
        Painted { style, text }
    }
}

struct Painted<T> {
    style: anstyle::Style,
    text: T,
}

impl<T: fmt::Display> fmt::Display for Painted<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}{}{}",
            self.style.render(),
            self.text,
            self.style.render_reset()
        )
    }
}

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

impl fmt::Display for Mark {
    /// Sign and word.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
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
            BandOutcome::NoNominal(_) | BandOutcome::NotComputable(_) => Self::NoLimit,
            BandOutcome::NotChecked(_) => Self::NotChecked,
        }
    }
}
