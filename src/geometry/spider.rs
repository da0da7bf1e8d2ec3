//! The wires in millimetres, and the regions that they leave free.

use super::{Arc, Bed, Boundary, Curve, Point, Region, Segment, Side, Turn};
use crate::board::{Construction, Edge, PerRing, RingWire};
use crate::units::{Angle, Length};

/// A ring wire. An edge that cannot be derived from what was recorded is
/// `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RingShape {
    /// Centre of the ring.
    pub centre: Point,
    /// Radius of the edge towards the bull.
    pub inside: Option<Length>,
    /// Radius of the apex.
    pub apex: Option<Length>,
    /// Radius of the far edge.
    pub outside: Option<Length>,
}

impl RingShape {
    /// A wire of a given width whose apex has a given radius.
    pub fn around_apex(centre: Point, apex: Length, width: Length) -> Self {
        Self {
            centre,
            inside: Some(apex - width / 2.0),
            apex: Some(apex),
            outside: Some(apex + width / 2.0),
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

/// The twenty sector wires: straight strips whose centrelines start at the
/// origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectorShape {
    /// Bearings of the centrelines, clockwise; wire `k` is the anticlockwise
    /// border of sector `k`, so the first lies to the left of the top.
    pub bearings: [Angle; 20],
    /// Width of the strips.
    pub width: Length,
}

impl SectorShape {
    /// Twenty equal sectors, the first centred at the top.
    pub fn even(width: Length) -> Self {
        let bearing = |wire: usize| Angle::degrees(18.0 * wire as f64 - 9.0);
        Self {
            bearings: std::array::from_fn(bearing),
            width,
        }
    }
}

/// All wires of a board.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spider {
    /// The six ring wires.
    pub rings: PerRing<RingShape>,
    /// The sector wires, if their width is known.
    pub sectors: Option<SectorShape>,
}

/// A circle that a region may be bounded by.
#[derive(Clone, Copy)]
struct Rim {
    centre: Point,
    radius: Length,
    side: Side,
}

/// The edge of a sector wire, as a ray.
#[derive(Clone, Copy)]
struct Ray {
    origin: Point,
    direction: Point,
    side: Side,
}

impl Ray {
    /// The edge of a sector wire at a signed distance to the clockwise side of
    /// its centreline.
    fn beside(bearing: Angle, offset: f64, side: Side) -> Self {
        let (sin, cos) = libm::sincos(bearing.as_radians());
        Self {
            origin: Point::new(cos, -sin) * offset,
            direction: Point::new(sin, cos),
            side,
        }
    }

    /// Where the ray leaves a circle; `None` if it misses it.
    fn exit(&self, rim: Rim) -> Option<Point> {
        let from = self.origin - rim.centre;
        let along = from.dot(self.direction);
        let across = from.cross(self.direction);
        let radius = rim.radius.as_mm();
        let square = radius * radius - across * across;
        if square < 0.0 {
            return None;
        }
        Some(self.origin + self.direction * (libm::sqrt(square) - along))
    }

    /// Where two rays' lines meet; `None` if they are parallel.
    fn meet(&self, other: &Self) -> Option<Point> {
        let sine = self.direction.cross(other.direction);
        if sine.abs() < 1e-12 {
            return None;
        }
        let along = (other.origin - self.origin).cross(other.direction) / sine;
        Some(self.origin + self.direction * along)
    }
}

impl Spider {
    /// The spider of a construction, as far as it was recorded: concentric
    /// rings and even sectors.
    pub fn of(construction: &Construction) -> Self {
        let radius = |ring, edge| {
            let form = construction.edge_radius(ring, edge)?;
            Some(construction.value(&form))
        };
        let rings = PerRing::from_fn(|ring| RingShape {
            centre: Point::ORIGIN,
            inside: radius(ring, Edge::Inside),
            apex: radius(ring, Edge::Apex),
            outside: radius(ring, Edge::Outside),
        });
        let width = construction.sector_wires.as_ref();
        Self {
            rings,
            sectors: width.map(|width| SectorShape::even(construction.value(width))),
        }
    }

    /// Whether all twenty beds of a band are the same but for a rotation.
    pub fn is_regular(&self, bed: Bed) -> bool {
        let centred = |wire: RingWire| self.rings[wire].centre == Point::ORIGIN;
        let band = bed.band();
        centred(band.outer_wire())
            && band.inner_wire().is_none_or(centred)
            && self
                .sectors
                .is_none_or(|s| s.bearings == SectorShape::even(Length::ZERO).bearings)
    }

    /// The part of a bed that is not metal: between the facing edges of its
    /// ring wires, beside its sector wires. `None` if a wire that bounds it is
    /// not known.
    pub fn free_region(&self, bed: Bed) -> Option<Region> {
        let width = self.sectors.map(|sectors| sectors.width);
        self.region(bed, Edge::Inside, Edge::Outside, width)
    }

    /// The bed out to the apexes of the wires around it.
    pub fn apex_region(&self, bed: Bed) -> Option<Region> {
        self.region(bed, Edge::Apex, Edge::Apex, Some(Length::ZERO))
    }

    fn region(
        &self,
        bed: Bed,
        outer_edge: Edge,
        inner_edge: Edge,
        sector_width: Option<Length>,
    ) -> Option<Region> {
        let rim = |wire: RingWire, edge: Edge| {
            let ring = &self.rings[wire];
            Some(Rim {
                centre: ring.centre,
                radius: ring.radius(edge)?,
                side: Side::Ring(wire, edge),
            })
        };
        let band = bed.band();
        let outer = rim(band.outer_wire(), outer_edge)?;
        let inner = match band.inner_wire() {
            Some(wire) => Some(rim(wire, inner_edge)?),
            None => None,
        };
        match (inner, band.has_sectors()) {
            (Some(inner), true) => {
                let bearings = &self.sectors.as_ref()?.bearings;
                let half = sector_width?.as_mm() / 2.0;
                let (left, right) = (bed.sector(), (bed.sector() + 1) % 20);
                let left_side = Side::SectorClockwise(left);
                let left = Ray::beside(*bearings.get(left)?, half, left_side);
                let right_side = Side::SectorAnticlockwise(right);
                let right = Ray::beside(*bearings.get(right)?, -half, right_side);
                sector_bed(left, right, inner, outer)
            }
            (inner, _) => Some(disc_or_annulus(inner, outer)),
        }
    }
}

fn disc_or_annulus(inner: Option<Rim>, outer: Rim) -> Region {
    let circle = |rim: Rim, way| {
        vec![Boundary {
            curve: Curve::Arc(Arc::full(rim.centre, rim.radius, way)),
            side: rim.side,
        }]
    };
    let mut loops = vec![circle(outer, Turn::Anticlockwise)];
    loops.extend(inner.map(|rim| circle(rim, Turn::Clockwise)));
    Region { loops }
}

/// The region between two rays and two circles, anticlockwise: out along the
/// right ray, along the outer circle, in along the left ray, and back along
/// the inner circle. Where thick wires meet before the inner circle is left
/// behind, their meeting point takes its place.
fn sector_bed(left: Ray, right: Ray, inner: Rim, outer: Rim) -> Option<Region> {
    let meeting = left.meet(&right);
    let beyond = |rim: Rim| {
        meeting.is_some_and(|point| {
            (point - rim.centre).norm() > rim.radius.as_mm() && point.dot(left.direction) > 0.0
        })
    };
    if beyond(outer) {
        return Some(Region::default());
    }
    let (far_right, far_left) = (right.exit(outer)?, left.exit(outer)?);
    let straight = |from, to, side| Boundary {
        curve: Curve::Segment(Segment { from, to }),
        side,
    };
    let arc = |rim: Rim, from, to, way| Boundary {
        curve: Curve::Arc(Arc::between(rim.centre, rim.radius, from, to, way)),
        side: rim.side,
    };
    let rim_arc = arc(outer, far_right, far_left, Turn::Anticlockwise);
    let chain = match meeting {
        Some(tip) if beyond(inner) => vec![
            straight(tip, far_right, right.side),
            rim_arc,
            straight(far_left, tip, left.side),
        ],
        _ => {
            let (near_right, near_left) = (right.exit(inner)?, left.exit(inner)?);
            vec![
                straight(near_right, far_right, right.side),
                rim_arc,
                straight(far_left, near_left, left.side),
                arc(inner, near_left, near_right, Turn::Clockwise),
            ]
        }
    };
    Some(Region { loops: vec![chain] })
}
