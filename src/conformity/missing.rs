//! What keeps a limit or a band from being checked, as data.

use crate::board::{Band, Construction, Edge, Mounting, Profile, Quantity, RingWire};

/// One thing that a check lacks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Missing {
    /// A length that the board file does not give.
    Measured(Quantity),
    /// A length that would do instead of those listed before it.
    Instead(Quantity),
    /// A nominal board for this mounting, in the table.
    NominalBoard(Mounting),
    /// A nominal board with this profile: the table's has another.
    NominalProfile {
        /// The board's mounting.
        mounting: Mounting,
        /// The board's profile.
        board: Profile,
        /// The profile of the nominal board for that mounting.
        nominal: Profile,
    },
    /// Readings of a length that say where they were taken, at four places or
    /// more.
    Places(Quantity),
    /// The offset of a ring's centre, or its radius at four places.
    Offset(RingWire),
    /// The bearings of the sector wires.
    Bearings,
    /// This band of the table's nominal board: its wires leave no free area.
    NominalBand(Band),
}

impl Missing {
    /// What the radius of a wire's edge lacks; `None` if nothing.
    pub(super) fn at_edge(board: &Construction, ring: RingWire, edge: Edge) -> Option<Self> {
        if board.edge_radius(ring, edge).is_some() {
            return None;
        }
        Some(Self::Measured(if board.rings[ring].is_none() {
            Quantity::Ring(ring, false)
        } else {
            Quantity::RingWire(ring)
        }))
    }

    /// What a band's free area lacks.
    pub(super) fn for_area(board: &Construction, band: Band) -> Vec<Self> {
        let inner = band.inner_wire();
        let inner = inner.and_then(|ring| Self::at_edge(board, ring, Edge::Outside));
        let outer = Self::at_edge(board, band.outer_wire(), Edge::Inside);
        let sectors = (band.has_sectors() && board.sector_wires.is_none())
            .then_some(Self::Measured(Quantity::SectorWires));
        [inner, outer, sectors].into_iter().flatten().collect()
    }
}
