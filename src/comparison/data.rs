//! Small pieces that several tables share.

use crate::board::{Band, Metal};

/// One figure under the chosen setting of metal and under both extremes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct ByMetal<T> {
    /// Each board with its own setting.
    pub chosen: T,
    /// On every board a dart on metal is lost.
    pub lost: T,
    /// On every board a dart on metal glances to its side of the apex.
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

/// One figure about two boards where what metal does differs between them as far as it
/// can. Whatever share of darts each board's metal loses, the figure lies between these
/// two: it changes one way with either share.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Crossed<T> {
    /// Every dart on the first board's metal glances, every one on the other's is lost.
    pub first_glances: T,
    /// The other way round.
    pub first_lost: T,
}

impl<T> Crossed<T> {
    /// From a rule for the first board's metal and the other's.
    pub(super) fn of(rule: impl Fn(Metal, Metal) -> T) -> Self {
        Self {
            first_glances: rule(Metal::Glances, Metal::Lost),
            first_lost: rule(Metal::Lost, Metal::Glances),
        }
    }
}

/// The bands in the order of a comparison: those that games are decided by
/// come first.
pub(super) const TARGETS: [Band; 6] = [
    Band::Treble,
    Band::Double,
    Band::OuterSingle,
    Band::InnerSingle,
    Band::OuterBull,
    Band::InnerBull,
];

/// The place of the treble in them.
pub(super) const TREBLE: usize = 0;
