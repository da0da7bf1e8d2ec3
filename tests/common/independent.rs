//! An uneven board, and what lies on its beds by distances alone.
#![allow(clippy::indexing_slicing, reason = "there are twenty wires")]

use std::f64::consts::TAU;

use super::board;
use ringrule::board::{Band, Edge, RingWire};
use ringrule::geometry::{Bed, Outline, Point, Spider, Staple};
use ringrule::units::{Angle, Length};

/// Board R in millimetres.
pub(crate) fn round() -> Spider {
    Spider::of(&board(super::BOARD_R).construction)
}

/// Invented: every ring off its centre or out of round, every sector wire off its
/// bearing and beside the centre, one wire thicker, staples on two rings.
pub(crate) fn uneven() -> Spider {
    let mut spider = round();
    let shifts = [
        (0.1, -0.2),
        (0.1, 0.3),
        (-0.4, 0.2),
        (0.6, -0.3),
        (0.0, 0.5),
        (-0.4, -0.3),
    ];
    for (ring, (x, y)) in RingWire::ALL.into_iter().zip(shifts) {
        spider.rings[ring].centre = Point::mm(x, y);
    }
    for (ring, bend) in [(RingWire::TrebleInner, 0.15), (RingWire::DoubleOuter, 0.3)] {
        let shape = &mut spider.rings[ring];
        let radius = shape.apex.expect("known");
        let places: Vec<_> = (0..8)
            .map(|i| {
                let bearing = 45.0 * f64::from(i) + 3.0;
                let lobe = bend * libm::cos(2.0 * bearing.to_radians() + 0.3);
                (Angle::degrees(bearing), radius + Length::mm(lobe))
            })
            .collect();
        shape.outline = Some(Outline::through(radius, &places).expect("an outline"));
    }
    let mut sectors = spider.sectors.expect("known");
    for wire in 0..20 {
        let turn = 0.5 * libm::sin(wire as f64);
        sectors.bearings[wire] = sectors.bearings[wire] + Angle::degrees(turn);
        sectors.offsets[wire] = Length::mm(0.4 * libm::cos(2.0 * wire as f64));
    }
    sectors.widths[7] = Length::mm(2.1);
    spider.sectors = Some(sectors);
    for (ring, bearing) in [
        (RingWire::TrebleOuter, 0.0),
        (RingWire::TrebleOuter, 171.5),
        (RingWire::DoubleOuter, 9.0),
        (RingWire::OuterBull, 200.0),
    ] {
        let staple = Staple::new(
            ring,
            Angle::degrees(bearing),
            Length::mm(2.0),
            Length::mm(7.0),
        );
        spider.staples.push(staple);
    }
    spider
}

/// Whether a point lies on the free face of a bed, from distances alone: none of
/// the engine's regions. A ring's edge is looked up in a fine polygon.
pub(crate) struct Independent<'s> {
    spider: &'s Spider,
    outer: Vec<(f64, f64)>,
    inner: Option<Vec<(f64, f64)>>,
}

impl<'s> Independent<'s> {
    pub(crate) fn of(spider: &'s Spider, band: Band) -> Self {
        let polygon = |wire: RingWire, edge: Edge| {
            let shape = &spider.rings[wire];
            let radius = shape.radius(edge).expect("known").as_mm();
            let (x, y) = (shape.centre.x().as_mm(), shape.centre.y().as_mm());
            // The radius at a bearing, as the outline's own arcs have it.
            let mut vertices: Vec<(f64, f64)> = match &shape.outline {
                None => (0..20_000)
                    .map(|i| {
                        let (sin, cos) = libm::sincos(TAU * f64::from(i) / 20_000.0);
                        (x + radius * cos, y + radius * sin)
                    })
                    .collect(),
                Some(outline) => outline
                    .arcs(shape.centre, Length::mm(radius))
                    .flat_map(|arc| {
                        (0..1000).map(move |i| {
                            let point = arc.at(f64::from(i) / 1000.0);
                            (point.x().as_mm(), point.y().as_mm())
                        })
                    })
                    .collect(),
            };
            let turn = |p: &(f64, f64)| libm::atan2(p.1, p.0);
            vertices.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
            vertices
        };
        Self {
            spider,
            outer: polygon(band.outer_wire(), Edge::Inside),
            inner: band.inner_wire().map(|wire| polygon(wire, Edge::Outside)),
        }
    }

    /// Whether a point lies within a polygon around the origin.
    fn within(polygon: &[(f64, f64)], (x, y): (f64, f64)) -> bool {
        let turn = libm::atan2(y, x);
        let index = polygon.partition_point(|p| libm::atan2(p.1, p.0) <= turn);
        let a = polygon[(index + polygon.len() - 1) % polygon.len()];
        let b = polygon[index % polygon.len()];
        (b.0 - a.0) * (y - a.1) - (b.1 - a.1) * (x - a.0) > 0.0
    }

    pub(crate) fn is_free(&self, bed: Bed, (x, y): (f64, f64)) -> bool {
        if !Self::within(&self.outer, (x, y)) {
            return false;
        }
        if let Some(inner) = &self.inner
            && Self::within(inner, (x, y))
        {
            return false;
        }
        if bed.band().has_sectors() {
            let sectors = self.spider.sectors.expect("known");
            // To the clockwise side of a wire's centreline, less half its width.
            let beside = |wire: usize| {
                let (sin, cos) = libm::sincos(sectors.bearings[wire].as_radians());
                x * cos - y * sin - sectors.offsets[wire].as_mm()
            };
            let (left, right) = (bed.sector(), (bed.sector() + 1) % 20);
            let half = |wire: usize| sectors.widths[wire].as_mm() / 2.0;
            if beside(left) < half(left) || -beside(right) < half(right) {
                return false;
            }
        }
        !self.spider.staples.iter().any(|staple| {
            let (sin, cos) = libm::sincos(staple.bearing.as_radians());
            let (along, across) = (x * sin + y * cos, x * cos - y * sin);
            let wire = self
                .spider
                .reach(staple.ring, Edge::Apex, staple.bearing)
                .expect("known");
            across.abs() < staple.width.as_mm() / 2.0
                && (along - wire.as_mm()).abs() < staple.length.as_mm() / 2.0
        })
    }
}

/// A seeded number from 0 to 1 (a linear congruential generator, Knuth's
/// constants, from memory).
pub(crate) fn uniform(state: &mut u64) -> f64 {
    *state = state
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*state >> 11) as f64 / 9_007_199_254_740_992.0
}
