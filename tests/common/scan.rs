//! An invented board on a scanner: points as they might be read off it.

use std::fmt::Write;

use ringrule::board::{RingWire, SECTOR_ORDER};
use ringrule::readings::Feature;

/// The truth of the demo board, invented, in mm: each ring's radius, edge and
/// centre, and how many points are taken.
pub(crate) const RINGS: [Ring; 6] = [
    ring(RingWire::InnerBull, 6.35, "inside", (0.0, 0.0), 16),
    ring(RingWire::OuterBull, 15.9, "inside", (0.05, 0.0), 16),
    ring(RingWire::TrebleInner, 97.37, "outside", (0.45, -0.3), 24),
    ring(RingWire::TrebleOuter, 107.0, "outside", (0.45, -0.3), 24),
    ring(RingWire::DoubleInner, 160.37, "outside", (0.0, 0.1), 24),
    ring(RingWire::DoubleOuter, 170.0, "outside", (0.0, 0.1), 36),
];

/// A ring of the demo board.
pub(crate) struct Ring {
    pub(crate) wire: RingWire,
    pub(crate) radius: f64,
    edge: &'static str,
    pub(crate) centre: (f64, f64),
    points: u32,
}

const fn ring(
    wire: RingWire,
    radius: f64,
    edge: &'static str,
    centre: (f64, f64),
    points: u32,
) -> Ring {
    Ring {
        wire,
        radius,
        edge,
        centre,
        points,
    }
}

/// The scale of the scan, mm to the pixel.
pub(crate) const SCALE: f64 = 0.1695;
/// Where the centre of the board lay, in pixels.
const CENTRE: (f64, f64) = (1412.0, 1388.0);
/// By how much the board lay turned clockwise, in degrees.
pub(crate) const TURNED: f64 = 3.7;

/// The standard deviation of a point, mm.
const SCATTER: f64 = 0.04;

/// The bearing of a sector wire, in degrees, and its offset: nominal but for one
/// that is bent, between 16 and 8, and one that misses the centre, between 3 and 19.
pub(crate) fn wire(sector: usize) -> (f64, f64) {
    let bearing = 18.0 * sector as f64 - 9.0;
    match SECTOR_ORDER[sector] {
        8 => (bearing + 0.8, 0.0),
        19 => (bearing, 0.5),
        _ => (bearing, 0.0),
    }
}

/// Splitmix64 with Box and Muller's normal numbers.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((z >> 11) as f64 + 1.0) / 9_007_199_254_740_992.0
    }

    fn normal(&mut self) -> f64 {
        let (u, v) = (self.uniform(), self.uniform());
        libm::sqrt(-2.0 * libm::log(u)) * libm::cos(std::f64::consts::TAU * v)
    }
}

/// A row: a place on the board in mm, seen by the scanner to a tenth of a pixel.
fn row(out: &mut String, random: &mut Random, name: &str, place: (f64, f64), edge: &str) {
    let (sin, cos) = libm::sincos(TURNED.to_radians());
    let (x, y) = (
        place.0 + SCATTER * random.normal(),
        place.1 + SCATTER * random.normal(),
    );
    let (x, y) = (x * cos + y * sin, y * cos - x * sin);
    let (x, y) = (CENTRE.0 + x / SCALE, CENTRE.1 - y / SCALE);
    let edge = if edge.is_empty() {
        String::new()
    } else {
        format!(",{edge}")
    };
    let _ = writeln!(out, "{name},{x:.1},{y:.1}{edge}");
}

/// The demo's points, as its comment says.
pub(crate) fn simulated(seed: u64) -> String {
    let mut random = Random(seed);
    let mut out = "\
# INVENTED. Points of a board that nobody scanned, as they might be read off a scan.
# Simulated with seed 15 (tests/common/scan.rs): 0.1695 mm to the pixel, the board turned
# by 3.7 degrees, 0.04 mm of scatter in x and in y; the treble ring 0.54 mm off the
# centre, the wire 16/8 bent by 0.8 degrees, the wire 3/19 passing 0.5 mm beside.
feature,x,y,edge
board,FL-15
name,Ferry cottage
mounting,staples
ring wires,16 SWG
sector wires,16 SWG
inspector,A. Ashdown
date,2026-11-14
instrument,flatbed scanner with a steel rule on the glass
unit,px
y axis,down
scale uncertainty,0.02 %
"
    .to_owned();
    for mark in [0.0, 100.0, 200.0, 300.0] {
        let name = format!("ruler {mark} mm");
        for _ in 0..3 {
            row(&mut out, &mut random, &name, (mark - 150.0, -240.0), "");
        }
    }
    for ring in RINGS {
        for index in 0..ring.points {
            let angle = (360.0 * f64::from(index) / f64::from(ring.points) + 4.0).to_radians();
            let (sin, cos) = libm::sincos(angle);
            let (x, y) = ring.centre;
            let place = (x + ring.radius * sin, y + ring.radius * cos);
            row(&mut out, &mut random, ring.wire.key(), place, ring.edge);
        }
    }
    for index in 0..12 {
        let (sin, cos) = libm::sincos(f64::from(30 * index + 4).to_radians());
        let place = (225.4 * sin + 0.7, 225.4 * cos);
        row(&mut out, &mut random, "overall", place, "");
    }
    for sector in 0..20 {
        let (bearing, offset) = wire(sector);
        let (sin, cos) = libm::sincos(bearing.to_radians());
        for index in 0..8 {
            let along = 25.0 + 19.0 * f64::from(index);
            let place = (along * sin + offset * cos, along * cos - offset * sin);
            let name = Feature::SectorWire(sector).to_string();
            row(&mut out, &mut random, &name, place, "");
        }
    }
    out
}
