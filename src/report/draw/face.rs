//! A board's face: metal at its true width, beds, and the numbers around.

use std::fmt::Write;

use super::svg::{circle, number, path, text};
use crate::board::usual::DOUBLE_OUTER;
use crate::board::{Edge, RingWire, SECTOR_ORDER};
use crate::geometry::{Bed, Point, RingShape, Spider};
use crate::units::{Angle, Length};

/// Room outside the rim for the numbers. Invented.
const NUMBERS: f64 = 20.0;

/// The radius that a drawing is laid out around: the outermost edge, if it is
/// known and not smaller than usual.
pub(in crate::report) fn rim(spider: &Spider) -> f64 {
    let edges = spider.rings.iter().filter_map(|(_, ring)| {
        let radius = ring.outside.or(ring.apex).or(ring.inside)?;
        Some((radius + ring.centre.distance()).as_mm())
    });
    edges.fold(DOUBLE_OUTER, f64::max)
}

/// Half the side of a drawing with its numbers, in mm.
pub(in crate::report) fn half(spider: &Spider) -> f64 {
    rim(spider) + NUMBERS
}

/// Every wire whose place and width are known. `from` and `to` are where the
/// sector wires begin and end.
pub(in crate::report) fn metal(out: &mut String, spider: &Spider, (from, to): (f64, f64)) {
    let mut outlines = String::new();
    for (wire, ring) in spider.rings.iter() {
        match (ring.inside, ring.outside, &ring.outline) {
            (Some(inside), Some(outside), None) => {
                let (inside, outside) = (inside.as_mm(), outside.as_mm());
                outlines.push_str(&circle(ring.centre, outside));
                outlines.push_str(&circle(ring.centre, inside.max(0.0)));
            }
            (Some(_), Some(_), Some(_)) => {
                let edges = [Edge::Outside, Edge::Inside].into_iter();
                let edges = edges.filter_map(|edge| spider.ring_edge(wire, edge));
                outlines.extend(edges.map(|edge| path(&edge)));
            }
            _ => {}
        }
    }
    let _ = write!(
        out,
        "<path d=\"{outlines}\" fill-rule=\"evenodd\" style=\"fill:var(--wire)\"/>"
    );
    staples(out, spider);
    let Some(sectors) = &spider.sectors else {
        return;
    };
    let mut strips = String::new();
    let wires = sectors.offsets.iter().zip(&sectors.widths);
    for (bearing, (offset, width)) in sectors.bearings.iter().zip(wires) {
        let (offset, half) = (offset.as_mm(), width.as_mm() / 2.0);
        let (left, right) = (offset - half, offset + half);
        let vertices = [(from, left), (to, left), (to, right), (from, right)];
        let places = vertices.map(|(along, across)| place(*bearing, along, across));
        let _ = write!(strips, "M{}Z", places.join("L"));
    }
    let _ = write!(out, "<path d=\"{strips}\" style=\"fill:var(--wire)\"/>");
}

/// The staples, where they lie across their wires.
fn staples(out: &mut String, spider: &Spider) {
    let mut outlines = String::new();
    for staple in &spider.staples {
        let Some(apex) = spider.reach(staple.ring, Edge::Apex, staple.bearing) else {
            continue;
        };
        let (apex, half) = (apex.as_mm(), staple.length.as_mm() / 2.0);
        let side = staple.width.as_mm() / 2.0;
        let (near, far) = (apex - half, apex + half);
        let vertices = [(near, -side), (far, -side), (far, side), (near, side)];
        let places = vertices.map(|(along, across)| place(staple.bearing, along, across));
        let _ = write!(outlines, "M{}Z", places.join("L"));
    }
    if !outlines.is_empty() {
        let _ = write!(out, "<path d=\"{outlines}\" style=\"fill:var(--wire)\"/>");
    }
}

/// Where the sector wires of a spider run from and to, if nothing says
/// otherwise.
pub(in crate::report) fn sector_wires(spider: &Spider) -> (f64, f64) {
    (
        known(&spider.rings[RingWire::OuterBull]).unwrap_or_default(),
        known(&spider.rings[RingWire::DoubleOuter]).unwrap_or(DOUBLE_OUTER),
    )
}

/// Some radius of a ring wire in mm, its apex before its edges, if any was
/// recorded.
pub(super) fn known(ring: &RingShape) -> Option<f64> {
    let radius = ring.apex.or(ring.outside).or(ring.inside);
    radius.map(Length::as_mm)
}

/// A place at a bearing, so far along it and so far to its clockwise side.
pub(super) fn place(bearing: Angle, along: f64, across: f64) -> String {
    let (sin, cos) = libm::sincos(bearing.as_radians());
    let x = along * sin + across * cos;
    let y = along * cos - across * sin;
    format!("{} {}", number(x), number(-y))
}

/// Every bed whose wires are known, with the hatching that it asks for and its colour.
pub(in crate::report) fn beds(
    out: &mut String,
    spider: &Spider,
    names: &str,
    hatching: impl Fn(Bed) -> Option<&'static str>,
) {
    for bed in Bed::all() {
        let Some(region) = spider.free_region(bed) else {
            continue;
        };
        let outline = path(&region);
        let hatched = hatching(bed);
        // The colour of a deviation bears the name of its hatching.
        let shade = hatched.unwrap_or(if bed.sector() % 2 == 0 { "bed" } else { "bed2" });
        let _ = write!(out, "<path d=\"{outline}\" style=\"fill:var(--{shade})\"/>");
        if let Some(pattern) = hatched {
            let _ = write!(
                out,
                "<path d=\"{outline}\" fill=\"url(#{names}{pattern})\"/>"
            );
        }
    }
}

/// The sectors' numbers, around the rim.
pub(in crate::report) fn numbers(out: &mut String, rim: f64) {
    for (sector, value) in SECTOR_ORDER.iter().enumerate() {
        let (sin, cos) = libm::sincos((18.0 * sector as f64).to_radians());
        let away = rim + 11.0;
        let (x, y) = (away * sin, -away * cos + 5.0);
        text(out, x, y, 13.0, "middle", "", &value.to_string());
    }
}

/// An edge of a ring wire as drawn, if it is known.
pub(super) fn edge(spider: &Spider, wire: RingWire, edge: Edge) -> Option<(Point, f64)> {
    let ring = &spider.rings[wire];
    Some((ring.centre, ring.radius(edge)?.as_mm()))
}
