//! Lengths that a limit asks for, before they are judged.

use super::Missing;
use crate::board::{Linear, RingWire, between};

/// A measurand of one board: the lengths that it asks for, and what would have
/// to be measured for the rest.
#[derive(Clone, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct Measured {
    /// One length for each part that was measured.
    pub parts: Vec<Part>,
    /// What is missing; empty if nothing is.
    pub missing: Vec<Missing>,
}

/// The length of one part.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Part {
    /// Which wires, where a measurand asks for several.
    pub wires: Option<WirePart>,
    /// The length, in terms of measured ones.
    pub form: Linear,
}

/// Wires whose thickness is one part of a measurand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum WirePart {
    /// One ring wire.
    Ring(RingWire),
    /// The ring wires that share one entry in the file.
    RingWires,
    /// The sector wire with this index.
    SectorWire(u8),
}

impl WirePart {
    /// The name in sentences.
    pub fn name(self) -> String {
        match self {
            Self::Ring(ring) => ring.name().to_owned(),
            Self::RingWires => "ring wires".to_owned(),
            Self::SectorWire(wire) => format!("sector wire {}", between(wire)),
        }
    }
}
