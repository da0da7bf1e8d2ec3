//! One contract that the boundary of every bed keeps, whatever board it is of:
//! its area by an independent method, its orientation, that it is closed, and
//! where it begins and ends.
#![allow(clippy::expect_used, clippy::indexing_slicing)]

mod common;

use std::f64::consts::TAU;

use common::board;
use common::independent::{Independent, round, uneven, uniform};
use ringrule::board::{Band, Edge, RingWire};
use ringrule::geometry::{
    Bed, Curve, Outline, Point, Region, RingShape, SectorShape, Spider, Staple, band_area,
    free_area,
};
use ringrule::play::{Face, Metal, Spread, Throw};
use ringrule::units::{Angle, Length};

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
fn hits_are_those_of_darts_thrown_at_random() {
    // Normal throws at the treble 20 of the uneven board; four standard errors,
    // seeded (Box and Muller).
    const DARTS: u32 = 100_000;
    const SIGMA: f64 = 9.0;
    let spider = uneven();
    let face = Face::of(&spider).expect("every wire is known");
    let spread = Spread::new(SIGMA).expect("plausible");
    let throw = Throw::at(Point::mm(1.0, 102.0), spread);
    let hits = face.hits(&throw, Metal::Lost);
    let mut state = 7;
    let darts: Vec<(f64, f64)> = (0..DARTS)
        .map(|_| {
            let away = SIGMA * libm::sqrt(-2.0 * libm::log(1.0 - uniform(&mut state)));
            let (sin, cos) = libm::sincos(TAU * uniform(&mut state));
            (1.0 + away * cos, 102.0 + away * sin)
        })
        .collect();
    let mut free = 0.0;
    for band in [Band::InnerSingle, Band::Treble, Band::OuterSingle] {
        let independent = Independent::of(&spider, band);
        for sector in [19, 0, 1] {
            let bed = Bed::new(band, sector);
            let hit = darts
                .iter()
                .filter(|dart| independent.is_free(bed, **dart))
                .count();
            let share = hit as f64 / f64::from(DARTS);
            let error = libm::sqrt(share * (1.0 - share) / f64::from(DARTS));
            let exact = hits.of(bed);
            assert!(
                (share - exact).abs() < 4.0 * error,
                "{bed}: {exact}, thrown {share} ± {error}"
            );
            free += exact;
        }
    }
    // Nearly all darts land in these nine beds or on the metal between them.
    assert!(free > 0.7 && free < 0.9, "{free}");
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
fn a_single_thicker_wire_takes_half_of_it_from_the_beds_on_both_sides() {
    // Closed form to first order: half the difference in width times the length of
    // the wire in the bed, which is some 8.0 mm; other beds keep their area.
    let even = round();
    let mut thick = round();
    let mut sectors = thick.sectors.expect("known");
    sectors.widths[7] = sectors.widths[7] + Length::mm(0.4);
    thick.sectors = Some(sectors);
    let beds = |spider: &Spider| band_area(spider, Band::Treble).expect("known").beds;
    for (sector, (a, b)) in beds(&even).iter().zip(beds(&thick)).enumerate() {
        let taken = (a.free - b.free).as_mm2();
        let expected = if [6, 7].contains(&sector) {
            0.2 * 8.0
        } else {
            0.0
        };
        assert!((taken - expected).abs() < 0.01, "{sector}: {taken}");
    }
}

#[test]
fn a_staple_takes_its_width_times_what_lies_beyond_the_wire() {
    // Closed form: 2 mm wide, 7 mm long over a wire of 1.6256 mm, so that 2.6872 mm
    // lie on either side; its ends follow the ring, which is some 0.01 mm² here.
    let even = round();
    let mut stapled = round();
    let turned = Angle::degrees(0.0);
    let (width, length) = (Length::mm(2.0), Length::mm(7.0));
    let staple = Staple::new(RingWire::TrebleOuter, turned, width, length);
    stapled.staples.push(staple);
    for band in [Band::Treble, Band::OuterSingle] {
        let bed = Bed::new(band, 0);
        let area = |spider: &Spider| spider.free_region(bed).expect("known").area().as_mm2();
        let taken = area(&even) - area(&stapled);
        assert!((taken - 2.0 * 2.6872).abs() < 0.02, "{band}: {taken}");
        let next = Bed::new(band, 1);
        assert_eq!(even.free_region(next), stapled.free_region(next));
    }
}

#[test]
fn numbers_that_are_none_are_refused_where_they_come_in() {
    assert!(Point::try_mm(f64::NAN, 0.0).is_err());
    assert!(Length::try_mm(f64::INFINITY).is_err());
    assert!(Angle::try_degrees(f64::NAN).is_err());
}
