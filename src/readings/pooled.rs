//! What pooling several sheets comes to.

use super::item::Item;
use super::sheet::name;
use crate::board::{Bearing, Board, BoardFile, Edge, Taken};
use crate::units::{Length, Uncertainty, WireSize};

/// The sheets of one board together.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Pooled {
    /// The board as its new file describes it.
    pub board: Board,
    /// Who measured, each once.
    pub inspectors: Vec<String>,
    /// The items, in the order in which a person goes round the board, and the
    /// places of each clockwise from the top.
    pub items: Vec<PooledItem>,
    /// The new file.
    pub file: BoardFile,
}

/// One item, or one item at one place, from everybody who measured it.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct PooledItem {
    /// What was measured.
    pub item: Item,
    /// Where around the board, if the sheets say.
    pub at: Option<Bearing>,
    /// To which edge, where edges matter.
    pub edge: Option<Edge>,
    /// The value.
    pub value: PooledValue,
}

/// The value of a pooled item.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum PooledValue {
    /// A gauge that everybody named.
    Gauge(WireSize),
    /// A length.
    Length {
        /// The weighted value.
        value: Length,
        /// Its uncertainty, in mm; `None` if somebody's is not known.
        uncertainty: Option<Uncertainty>,
        /// What each person contributed, and how well they agree.
        taken: Box<Taken>,
    },
}

impl PooledItem {
    /// What was measured, and where if the sheets say.
    pub fn name(&self) -> String {
        name(self.item, self.at)
    }

    /// What people read; `None` of a gauge.
    pub fn taken(&self) -> Option<&Taken> {
        match &self.value {
            PooledValue::Gauge(_) => None,
            PooledValue::Length { taken, .. } => Some(taken),
        }
    }
}

impl Pooled {
    /// The items on which people disagree.
    pub fn disputed(&self) -> impl Iterator<Item = &PooledItem> {
        let items = self.items.iter();
        items.filter(|item| item.taken().is_some_and(Taken::is_disputed))
    }
}
