//! The wires in millimetres, and the regions that they leave free.

use super::rim::{Ray, Rim, between};
use super::{Bed, Boundary, Outline, Point, Region, Side, Staple, Turn};
use crate::board::{Band, Edge, PerRing, RingWire};
use crate::units::{Angle, Length};

/// A ring wire. An edge that cannot be derived from what was recorded is
/// `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RingShape {
    /// Centre of the ring.
    pub centre: Point,
    /// Radius of the edge towards the bull.
    pub inside: Option<Length>,
    /// Radius of the apex.
    pub apex: Option<Length>,
    /// Radius of the far edge.
    pub outside: Option<Length>,
    /// The shape of a ring that is not round; its radii are then those of the
    /// circle that it differs from.
    pub outline: Option<Outline>,
}

impl RingShape {
    /// A wire of a given width whose apex has a given radius.
    pub fn around_apex(centre: Point, apex: Length, width: Length) -> Self {
        Self {
            centre,
            inside: Some(apex - width / 2.0),
            apex: Some(apex),
            outside: Some(apex + width / 2.0),
            outline: None,
        }
    }

    /// The radius of one of its edges.
    pub const fn radius(&self, edge: Edge) -> Option<Length> {
        match edge {
            Edge::Inside => self.inside,
            Edge::Apex => self.apex,
            Edge::Outside => self.outside,
        }
    }
}

/// The twenty sector wires: straight strips. Wire `k` is the anticlockwise
/// border of sector `k`, so the first lies to the left of the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectorShape {
    /// Bearings of the centrelines, clockwise.
    pub bearings: [Angle; 20],
    /// How far each centreline passes to the clockwise side of the origin.
    pub offsets: [Length; 20],
    /// Width of each strip.
    pub widths: [Length; 20],
}

impl SectorShape {
    /// Twenty equal sectors, the first centred at the top.
    pub fn even(width: Length) -> Self {
        let bearing = |wire: usize| Angle::degrees(18.0 * wire as f64 - 9.0);
        Self {
            bearings: std::array::from_fn(bearing),
            offsets: [Length::ZERO; 20],
            widths: [width; 20],
        }
    }

    /// The same with every strip wider by so much.
    #[must_use]
    pub fn widened(mut self, by: Length) -> Self {
        for width in &mut self.widths {
            *width = *width + by;
        }
        self
    }

    /// Whether they divide a round ring into twenty equal beds.
    fn is_even(&self) -> bool {
        let [width, ..] = self.widths;
        *self == Self::even(width)
    }

    /// The two sides of a sector, `widened` the strips' width times so much:
    /// one for the free bed, zero for that out to the apexes.
    fn sides(&self, sector: usize, widened: f64) -> Option<(Ray, Ray)> {
        let (left, right) = (sector % 20, (sector + 1) % 20);
        let ray = |wire: usize, way: f64, side| {
            let half = self.widths.get(wire)?.as_mm() / 2.0 * widened;
            let offset = self.offsets.get(wire)?.as_mm() + way * half;
            Some(Ray::beside(*self.bearings.get(wire)?, offset, side))
        };
        Some((
            ray(left, 1.0, Side::SectorClockwise(left))?,
            ray(right, -1.0, Side::SectorAnticlockwise(right))?,
        ))
    }
}

/// All wires of a board.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spider {
    /// The six ring wires.
    pub rings: PerRing<RingShape>,
    /// The sector wires, if their width is known.
    pub sectors: Option<SectorShape>,
    /// The staples that are recorded.
    pub staples: Vec<Staple>,
}

impl Spider {
    /// Whether all twenty beds of a band are the same but for a rotation.
    pub fn is_regular(&self, bed: Bed) -> bool {
        let band = bed.band();
        let rings = || {
            [Some(band.outer_wire()), band.inner_wire()]
                .into_iter()
                .flatten()
        };
        let is_round = |wire: RingWire| {
            let ring = &self.rings[wire];
            ring.centre == Point::ORIGIN && ring.outline.is_none()
        };
        rings().all(is_round)
            && self.sectors.is_none_or(|sectors| sectors.is_even())
            && !self
                .staples
                .iter()
                .any(|staple| rings().any(|wire| wire == staple.ring))
    }

    /// The part of a bed that is not metal: between the facing edges of its
    /// ring wires, beside its sector wires and staples. `None` if a wire that
    /// bounds it is not known.
    pub fn free_region(&self, bed: Bed) -> Option<Region> {
        let (outer, inner) = self.rims(bed.band(), Edge::Inside, Edge::Outside)?;
        let mut region = self.region(bed, inner, outer, 1.0)?;
        if !region.loops.is_empty() {
            region.loops.extend(self.holes(bed, inner, outer));
        }
        Some(region)
    }

    /// The bed out to the apexes of the wires around it.
    pub fn apex_region(&self, bed: Bed) -> Option<Region> {
        let (outer, inner) = self.rims(bed.band(), Edge::Apex, Edge::Apex)?;
        self.region(bed, inner, outer, 0.0)
    }

    /// How far the edge of a ring wire lies from the origin at a bearing.
    pub fn reach(&self, wire: RingWire, edge: Edge, bearing: Angle) -> Option<Length> {
        let rim = self.rim(wire, edge)?;
        let ray = Ray::beside(bearing, 0.0, rim.side);
        Some(ray.exit(&rim)?.point.distance())
    }

    /// The outline of one edge of a ring wire, anticlockwise.
    pub fn ring_edge(&self, wire: RingWire, edge: Edge) -> Option<Region> {
        let loops = vec![self.rim(wire, edge)?.whole(Turn::Anticlockwise)];
        Some(Region { loops })
    }

    fn rim(&self, wire: RingWire, edge: Edge) -> Option<Rim<'_>> {
        let ring = &self.rings[wire];
        Some(Rim {
            centre: ring.centre,
            radius: ring.radius(edge)?,
            side: Side::Ring(wire, edge),
            outline: ring.outline.as_ref(),
        })
    }

    /// The rims of a band, at these edges of its outer and its inner wire.
    fn rims(&self, band: Band, outer: Edge, inner: Edge) -> Option<(Rim<'_>, Option<Rim<'_>>)> {
        let outer = self.rim(band.outer_wire(), outer)?;
        let inner = match band.inner_wire() {
            Some(wire) => Some(self.rim(wire, inner)?),
            None => None,
        };
        Some((outer, inner))
    }

    fn region(
        &self,
        bed: Bed,
        inner: Option<Rim<'_>>,
        outer: Rim<'_>,
        widened: f64,
    ) -> Option<Region> {
        let loops = match inner {
            Some(inner) if bed.band().has_sectors() => {
                let (left, right) = self.sectors.as_ref()?.sides(bed.sector(), widened)?;
                let chain = between(&left, &right, &inner, &outer)?;
                if chain.is_empty() {
                    Vec::new()
                } else {
                    vec![chain]
                }
            }
            inner => {
                let mut loops = vec![outer.whole(Turn::Anticlockwise)];
                loops.extend(inner.map(|inner| inner.whole(Turn::Clockwise)));
                loops
            }
        };
        Some(Region { loops })
    }

    /// What staples take out of a bed, beyond the wires that they hold.
    fn holes(&self, bed: Bed, inner: Option<Rim<'_>>, outer: Rim<'_>) -> Vec<Vec<Boundary>> {
        let band = bed.band();
        let sides = if band.has_sectors() {
            self.sectors
                .as_ref()
                .and_then(|sectors| sectors.sides(bed.sector(), 1.0))
        } else {
            None
        };
        let hole = |staple: &Staple| {
            let ring = &self.rings[staple.ring];
            let wire = ring.outside? - ring.inside?;
            let beyond = (staple.length - wire) / 2.0;
            if beyond <= Length::ZERO {
                return None;
            }
            if staple.ring == band.outer_wire() {
                staple.hole(&outer.moved(-beyond), &outer, sides)
            } else if Some(staple.ring) == band.inner_wire() {
                let inner = inner?;
                staple.hole(&inner, &inner.moved(beyond), sides)
            } else {
                None
            }
        };
        self.staples.iter().filter_map(hole).collect()
    }
}
