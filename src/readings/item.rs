//! What a sheet has rows for.

use std::fmt;
use std::str::FromStr;

use crate::board::{Band, Bearing, Quantity, RingWire};

/// Something that a sheet has a row for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Item(pub Quantity);

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            Quantity::Ring(ring, false) => write!(f, "{} radius", ring.key()),
            Quantity::Ring(ring, true) => write!(f, "{} diameter", ring.key()),
            Quantity::RingWires => f.write_str("ring wires"),
            Quantity::RingWire(ring) => write!(f, "{} wire", ring.key()),
            Quantity::SectorWires => f.write_str("sector wires"),
            Quantity::Width(band) => write!(f, "{} width", band.key()),
            Quantity::Overall => f.write_str("overall diameter"),
            other => write!(f, "{other}"),
        }
    }
}

impl Item {
    /// Every item that a sheet may hold.
    pub fn all() -> impl Iterator<Item = Self> {
        let rings = RingWire::ALL.into_iter();
        let lengths = rings.flat_map(|ring| {
            [
                Quantity::Ring(ring, true),
                Quantity::Ring(ring, false),
                Quantity::RingWire(ring),
            ]
        });
        let others = [
            Quantity::Width(Band::Treble),
            Quantity::Width(Band::Double),
            Quantity::Overall,
            Quantity::RingWires,
            Quantity::SectorWires,
        ];
        lengths.chain(others).map(Self)
    }

    /// Whether its readings are taken to an edge.
    pub const fn has_edge(self) -> bool {
        matches!(self.0, Quantity::Ring(..) | Quantity::Width(_))
    }

    /// Whether it may differ from place to place.
    pub const fn has_places(self) -> bool {
        !self.is_wire()
    }

    /// Whether it is taken across the board, so that a place and the one opposite
    /// are one.
    pub const fn is_across(self) -> bool {
        matches!(self.0, Quantity::Ring(_, true) | Quantity::Overall)
    }

    /// Whether two places of it are one.
    pub(super) fn is_one_place(self, one: Option<Bearing>, other: Option<Bearing>) -> bool {
        match (one, other) {
            (Some(one), Some(other)) => one.is_or_faces(other, self.is_across()),
            (one, other) => one.is_none() && other.is_none(),
        }
    }

    /// Whether it is a wire, which may be given as a gauge.
    pub const fn is_wire(self) -> bool {
        self.0.is_wire()
    }
}

/// A name of no item.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("there is no item `{0}`")]
pub struct NoSuchItem(String);

impl FromStr for Item {
    type Err = NoSuchItem;

    fn from_str(text: &str) -> Result<Self, NoSuchItem> {
        let name = text.to_lowercase();
        let mut items = Self::all();
        items
            .find(|item| item.to_string() == name)
            .ok_or_else(|| NoSuchItem(text.to_owned()))
    }
}
