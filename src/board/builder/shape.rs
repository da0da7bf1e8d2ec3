//! Rings off-centre and sector wires one by one.

use super::{BoardBuilder, stated};
use crate::board::{Axis, LengthText, Quantity, RingWire, SectorsFile};
use crate::document::Located;
use crate::units::{Length, Uncertainty};

impl BoardBuilder {
    /// Where the centre of a ring lies, whose radius or diameter is set too: to
    /// the right of the middle of the board and above it.
    #[must_use]
    pub fn offset(mut self, ring: RingWire, right: Length, up: Length) -> Self {
        for (axis, value) in [(Axis::Across, right), (Axis::Up, up)] {
            self.is_finite(Quantity::Offset(ring, axis), value, None);
        }
        let by = [right, up].map(LengthText::length).to_vec();
        let rings = self.file.rings.get_or_insert_default();
        let ring = rings.entry(ring).get_or_insert_default();
        ring.offset = Some(Located::unplaced(by));
        self
    }

    /// How well a ring's offset is known, in both directions.
    pub(crate) fn offset_known(mut self, ring: RingWire, uncertainty: Uncertainty) -> Self {
        let rings = self.file.rings.get_or_insert_default();
        let ring = rings.entry(ring).get_or_insert_default();
        ring.offset_uncertainty = Some(stated(uncertainty));
        self
    }

    /// The sector wires one by one.
    #[must_use]
    pub fn sectors(mut self, sectors: SectorsFile) -> Self {
        self.file.sectors = Some(sectors);
        self
    }
}
