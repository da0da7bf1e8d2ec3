//! A board's radii and widths at every place where they are known.

use super::{Around, Band, Bearing, Construction, Edge, Linear, RingWire};

impl Construction {
    /// How far an edge of a ring wire lies from the middle of the board at every
    /// place where it was taken or, where the ring's offset was recorded, in the
    /// middle of every sector; empty where neither was.
    pub fn radii_around(&self, ring: RingWire, edge: Edge) -> Vec<Around> {
        let bearings = self.bearings_of(&[ring]);
        let radius = |at: Bearing| {
            let own = self.edge_radius_at(ring, edge, at)?;
            let length = own.plus(1.0, &self.offset_along(ring, at));
            Some(Around { at, length })
        };
        bearings.into_iter().filter_map(radius).collect()
    }

    /// A band's width at every place where it was taken, where both its radii
    /// were or, where a ring's offset was recorded, in the middle of every sector.
    pub fn widths_around(&self, band: Band, edge: Edge) -> Vec<Around> {
        if let Some(direct) = self.widths[band].as_ref().filter(|w| !w.around.is_empty()) {
            let moved = direct.around.iter().filter_map(|own| {
                let length = self.width_between(band, direct.edge, edge, own.length.clone())?;
                Some(Around { at: own.at, length })
            });
            return moved.collect();
        }
        let (Some(inner), outer) = (band.inner_wire(), band.outer_wire()) else {
            return Vec::new();
        };
        let width = |at: Bearing| {
            let near = self.edge_radius_at(inner, edge.facing(), at)?;
            let far = self.edge_radius_at(outer, edge, at)?;
            let moved = self
                .offset_along(outer, at)
                .plus(-1.0, &self.offset_along(inner, at));
            Some(Around {
                at,
                length: far.plus(-1.0, &near).plus(1.0, &moved),
            })
        };
        let bearings = self.bearings_of(&[outer, inner]);
        bearings.into_iter().filter_map(width).collect()
    }

    /// The places of the first of these rings that has any, or all sectors if one
    /// of them was recorded off its centre.
    fn bearings_of(&self, rings: &[RingWire]) -> Vec<Bearing> {
        let places = || rings.iter().filter_map(|&ring| self.rings[ring].as_ref());
        let taken = places().map(|place| &place.around);
        if let Some(around) = taken.into_iter().find(|around| !around.is_empty()) {
            return around.iter().map(|own| own.at).collect();
        }
        if places().any(|place| place.offset.is_some()) {
            return (0..20).map(Bearing::Sector).collect();
        }
        Vec::new()
    }

    /// How far a ring is moved outwards at a bearing: to first order, which for
    /// offsets of a millimetre on a ring of a hundred is right to 0.005 mm.
    fn offset_along(&self, ring: RingWire, at: Bearing) -> Linear {
        let place = self.rings[ring].as_ref();
        let Some([across, up]) = place.and_then(|place| place.offset.as_ref()) else {
            return Linear::default();
        };
        let (sin, cos) = libm::sincos(at.angle().as_radians());
        Linear::default().plus(sin, across).plus(cos, up)
    }
}
