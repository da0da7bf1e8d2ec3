//! One contract that the boundary of every bed keeps, whatever board it is of:
//! its area by an independent method, its orientation, that it is closed, and
//! where it begins and ends.
#![allow(clippy::expect_used, clippy::indexing_slicing)]

mod common;

use std::f64::consts::TAU;

use common::board;
use ringrule::board::{Band, Edge, RingWire};
use ringrule::geometry::{
    Bed, Curve, Outline, Point, Region, RingShape, SectorShape, Spider, Staple, band_area,
    free_area,
};
use ringrule::units::{Angle, Length};

fn round() -> Spider {
    Spider::of(&board(common::BOARD_R).construction)
}

/// Invented: every ring off its centre or out of round, every sector wire off its
/// bearing and beside the centre, one wire thicker, staples on two rings.
fn uneven() -> Spider {
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
struct Independent<'s> {
    spider: &'s Spider,
    outer: Vec<(f64, f64)>,
    inner: Option<Vec<(f64, f64)>>,
}

impl<'s> Independent<'s> {
    fn of(spider: &'s Spider, band: Band) -> Self {
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

    fn is_free(&self, bed: Bed, (x, y): (f64, f64)) -> bool {
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
fn uniform(state: &mut u64) -> f64 {
    *state = state
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*state >> 11) as f64 / 9_007_199_254_740_992.0
}

fn bounds(region: &Region) -> (f64, f64, f64, f64) {
    let mut all = (f64::MAX, f64::MIN, f64::MAX, f64::MIN);
    for piece in region.pieces() {
        for i in 0..=16 {
            let point = match piece.curve {
                Curve::Arc(arc) => arc.at(f64::from(i) / 16.0),
                Curve::Segment(segment) => segment.from,
            };
            let (x, y) = (point.x().as_mm(), point.y().as_mm());
            all = (all.0.min(x), all.1.max(x), all.2.min(y), all.3.max(y));
        }
    }
    (all.0 - 1.0, all.1 + 1.0, all.2 - 1.0, all.3 + 1.0)
}

#[test]
fn areas_are_those_of_points_thrown_at_random() {
    // Four standard errors, seeded: no published value.
    const POINTS: u32 = 40_000;
    let mut state = 20_261_126;
    for spider in [round(), uneven()] {
        for band in Band::ALL {
            let independent = Independent::of(&spider, band);
            for bed in Bed::of_band(band).filter(|bed| bed.sector() % 3 == 0 || bed.sector() == 7) {
                let region = spider.free_region(bed).expect("known");
                let (left, right, below, above) = bounds(&region);
                let box_area = (right - left) * (above - below);
                let mut hits = 0_u32;
                for _ in 0..POINTS {
                    let x = left + (right - left) * uniform(&mut state);
                    let y = below + (above - below) * uniform(&mut state);
                    hits += u32::from(independent.is_free(bed, (x, y)));
                }
                let share = f64::from(hits) / f64::from(POINTS);
                let error = box_area * libm::sqrt(share * (1.0 - share) / f64::from(POINTS));
                let (thrown, exact) = (share * box_area, region.area().as_mm2());
                assert!(
                    (thrown - exact).abs() < 4.0 * error,
                    "{bed}: {exact} mm², thrown {thrown} ± {error}"
                );
            }
        }
    }
}

#[test]
fn every_boundary_is_closed_and_runs_anticlockwise() {
    for spider in [round(), uneven()] {
        for bed in Bed::all() {
            for region in [spider.free_region(bed), spider.apex_region(bed)] {
                let region = region.expect("known");
                assert!(region.largest_gap().as_mm() < 1e-9, "{bed}");
                let first = &region.loops[0];
                let area: f64 = first.iter().map(|p| p.curve.swept_area().as_mm2()).sum();
                assert!(area > 0.0, "{bed}: {area}");
                for hole in &region.loops[1..] {
                    let area: f64 = hole.iter().map(|p| p.curve.swept_area().as_mm2()).sum();
                    assert!(area < 0.0, "{bed}: a hole of {area}");
                }
            }
        }
    }
}

#[test]
fn a_turn_by_a_sector_moves_the_beds_and_keeps_the_ring() {
    // The same board with its number ring turned by one sector, the bend of its
    // rings with it.
    let spider = uneven();
    let mut turned = spider.clone();
    let step = Angle::degrees(18.0);
    let sectors = turned.sectors.as_mut().expect("known");
    let from = spider.sectors.expect("known");
    for wire in 0..20 {
        let next = (wire + 1) % 20;
        sectors.bearings[next] = from.bearings[wire] + step;
        sectors.offsets[next] = from.offsets[wire];
        sectors.widths[next] = from.widths[wire];
    }
    let (sin, cos) = libm::sincos(step.as_radians());
    for ring in RingWire::ALL {
        let shape = &mut turned.rings[ring];
        let (x, y) = (shape.centre.x().as_mm(), shape.centre.y().as_mm());
        shape.centre = Point::mm(x * cos + y * sin, y * cos - x * sin);
        if let Some(outline) = &shape.outline {
            // Read its places off it, and lay it anew.
            let radius = shape.apex.expect("known");
            let arcs: Vec<_> = outline.arcs(Point::ORIGIN, radius).collect();
            let places: Vec<_> = arcs
                .iter()
                .map(|arc| {
                    let at = arc.at(0.0);
                    let bearing = libm::atan2(at.x().as_mm(), at.y().as_mm());
                    (Angle::radians(bearing) + step, at.distance())
                })
                .collect();
            // Every second joint is a place, the others follow.
            let places: Vec<_> = places.into_iter().step_by(2).collect();
            shape.outline = Outline::through(radius, &places).ok();
        }
    }
    for staple in &mut turned.staples {
        staple.bearing = staple.bearing + step;
    }
    for band in Band::ALL.into_iter().filter(|band| band.has_sectors()) {
        let (a, b) = (
            band_area(&spider, band).expect("known"),
            band_area(&turned, band).expect("known"),
        );
        assert!((a.free / b.free - 1.0).abs() < 1e-6, "{band}");
        for sector in 0..20 {
            let (own, moved) = (a.beds[sector].free, b.beds[(sector + 1) % 20].free);
            assert!((own / moved - 1.0).abs() < 1e-6, "{band} {sector}");
        }
    }
}

#[test]
fn an_uneven_board_without_unevenness_is_the_even_one() {
    let even = round();
    let mut written = round();
    for ring in RingWire::ALL {
        written.rings[ring].centre = Point::mm(0.0, 0.0);
    }
    assert_eq!(written, even);
    // As a file: offsets of zero, and the bearings of an even board.
    let bearings: Vec<String> = (0..20).map(|k| (9 + 18 * k).to_string()).collect();
    let text = common::BOARD_R
        .replace("radius: 107.0,", "radius: 107.0, offset: [0, 0],")
        .replace("edge: inside }", "edge: inside, offset: [0, 0] }")
        + &format!("sectors: {{ bearings: [{}] }}\n", bearings.join(", "));
    let spider = Spider::of(&board(&text).construction);
    assert_eq!(spider, even, "bit for bit");
    for band in Band::ALL {
        assert_eq!(free_area(&spider, band), free_area(&even, band));
    }
}

#[test]
fn wires_of_no_width_leave_the_whole_board() {
    let mut spider = uneven();
    spider.staples.clear();
    for ring in RingWire::ALL {
        let shape = &mut spider.rings[ring];
        let apex = shape.apex.expect("known");
        let (centre, outline) = (shape.centre, shape.outline.clone());
        *shape = RingShape::around_apex(centre, apex, Length::ZERO);
        shape.outline = outline;
    }
    let sectors = spider.sectors.as_mut().expect("known");
    sectors.widths = SectorShape::even(Length::ZERO).widths;
    for band in Band::ALL {
        let area = band_area(&spider, band).expect("known");
        let share = area.metal_share().expect("apexes").value();
        assert!(share.abs() < 1e-9, "{band}: {share}");
    }
    // The beds of an even fan, and nothing between them: with offsets the wires
    // leave slivers that belong to no bed.
    let straight = SectorShape::even(Length::ZERO);
    spider.sectors = Some(straight);
    let beds: f64 = Band::ALL
        .into_iter()
        .filter_map(|band| Some(band_area(&spider, band)?.free.as_mm2()))
        .sum();
    let rim = spider
        .ring_edge(RingWire::DoubleOuter, Edge::Inside)
        .expect("known");
    assert!((beds / rim.area().as_mm2() - 1.0).abs() < 1e-9);
}

#[test]
fn numbers_that_are_none_are_refused_where_they_come_in() {
    assert!(Point::try_mm(f64::NAN, 0.0).is_err());
    assert!(Length::try_mm(f64::INFINITY).is_err());
    assert!(Angle::try_degrees(f64::NAN).is_err());
}
