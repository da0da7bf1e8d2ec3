//! Colours and marks of the terminal. Words say everything that colours say.

use std::fmt;

use anstyle::{AnsiColor, Effects};

use crate::conformity::Verdict;

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
