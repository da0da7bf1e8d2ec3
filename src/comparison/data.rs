//! Small pieces that several tables share.

use std::fmt;

use crate::board::{Band, Metal};

/// One figure under the chosen setting of metal and under both extremes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ByMetal<T> {
    /// Each board with its own setting.
    pub chosen: T,
    /// On every board a dart on metal is lost.
    pub lost: T,
    /// On every board a dart on metal glances to its side of the crest.
    pub glances: T,
}

impl<T> ByMetal<T> {
    /// From a rule; `None` stands for each board's own setting.
    pub(super) fn of(mut rule: impl FnMut(Option<Metal>) -> T) -> Self {
        Self {
            chosen: rule(None),
            lost: rule(Some(Metal::Lost)),
            glances: rule(Some(Metal::Glances)),
        }
    }

    /// The same in another form.
    pub fn map<U>(&self, mut rule: impl FnMut(&T) -> U) -> ByMetal<U> {
        ByMetal {
            chosen: rule(&self.chosen),
            lost: rule(&self.lost),
            glances: rule(&self.glances),
        }
    }

    /// Chosen, lost, glances.
    pub fn into_array(self) -> [T; 3] {
        [self.chosen, self.lost, self.glances]
    }
}

/// A kind of target, in the trade's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TargetKind {
    /// A treble.
    Treble,
    /// A double.
    Double,
    /// The single bed outside the treble ring.
    BigSingle,
    /// The single bed inside the treble ring.
    SmallSingle,
    /// The 25 ring.
    TwentyFive,
    /// The bull.
    Bull,
}

impl TargetKind {
    /// All six, the ones that games are decided by first.
    pub const ALL: [Self; 6] = [
        Self::Treble,
        Self::Double,
        Self::BigSingle,
        Self::SmallSingle,
        Self::TwentyFive,
        Self::Bull,
    ];

    /// The band that it belongs to.
    pub const fn band(self) -> Band {
        match self {
            Self::Treble => Band::Treble,
            Self::Double => Band::Double,
            Self::BigSingle => Band::OuterSingle,
            Self::SmallSingle => Band::InnerSingle,
            Self::TwentyFive => Band::OuterBull,
            Self::Bull => Band::InnerBull,
        }
    }
}

impl From<Band> for TargetKind {
    fn from(band: Band) -> Self {
        match band {
            Band::Treble => Self::Treble,
            Band::Double => Self::Double,
            Band::OuterSingle => Self::BigSingle,
            Band::InnerSingle => Self::SmallSingle,
            Band::OuterBull => Self::TwentyFive,
            Band::InnerBull => Self::Bull,
        }
    }
}

impl fmt::Display for TargetKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Treble => "treble",
            Self::Double => "double",
            Self::BigSingle => "big single",
            Self::SmallSingle => "small single",
            Self::TwentyFive => "25",
            Self::Bull => "bull",
        })
    }
}
