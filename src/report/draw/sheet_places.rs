//! The numbered places where a sheet asks for readings.

use std::fmt::Write;

use super::face;
use super::sheet_section::SIZE;
use super::svg::{Figure, circle, number, text};
use crate::board::usual::{self, DOUBLE_OUTER};
use crate::board::{RingWire, SECTOR_ORDER};
use crate::geometry::{Point, SectorShape};
use crate::readings::PlannedPlace;
use crate::units::Length;

/// Units of the drawing for a millimetre: small, so that a sheet stands on few pages.
/// Invented, like the lengths below, in units of the drawing.
const SCALE: f64 = 0.6;

/// How far from the middle the numbers of the places stand: between bull and treble,
/// where nothing is measured.
const MARKS: f64 = 40.0;

/// The radius of a mark.
const MARK: f64 = 9.0;

/// Room for the sectors' numbers.
const ROOM: f64 = 24.0;

/// A board as boards usually are, with its places, and a line along which to
/// measure at each.
pub(in crate::report) fn sheet_places(places: &[PlannedPlace]) -> Figure {
    let rim = SCALE * DOUBLE_OUTER;
    let half = rim + ROOM;
    let mut body = String::new();
    let _ = write!(body, "<g transform=\"translate({0} {0})\">", number(half));
    let mut wires = String::new();
    for ring in RingWire::ALL {
        wires.push_str(&circle(Point::ORIGIN, SCALE * usual::apex(ring)));
    }
    let (from, to) = (SCALE * usual::apex(RingWire::OuterBull), rim);
    for bearing in SectorShape::even(Length::ZERO).bearings {
        let ends = [from, to].map(|along| face::place(bearing, along, 0.0));
        let _ = write!(wires, "M{}", ends.join("L"));
    }
    let _ = write!(
        body,
        "<path d=\"{wires}\" style=\"stroke:var(--line);stroke-width:.8;fill:none\"/>"
    );
    for place in places {
        let bearing = place.at.angle();
        let ends = [MARKS + MARK, to + 3.0].map(|along| face::place(bearing, along, 0.0));
        let _ = write!(body, "<path d=\"M{}\" class=\"axis\"/>", ends.join("L"));
        let (sin, cos) = libm::sincos(bearing.as_radians());
        let (x, y) = (MARKS * sin, -MARKS * cos);
        let _ = write!(
            body,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"mark\"/>",
            number(x),
            number(y),
            number(MARK)
        );
        let words = place.number.to_string();
        text(&mut body, x, y + 4.2, SIZE, "middle", "", &words);
    }
    for (sector, value) in SECTOR_ORDER.iter().enumerate() {
        let (sin, cos) = libm::sincos((18.0 * sector as f64).to_radians());
        let (x, y) = ((rim + 12.0) * sin, -(rim + 12.0) * cos + 4.2);
        text(&mut body, x, y, SIZE, "middle", "", &value.to_string());
    }
    body.push_str("</g>");
    let each = places
        .iter()
        .map(|place| format!("{} at {}", place.number, place.at));
    Figure {
        group: "sheet",
        width: 2.0 * half,
        height: 2.0 * half,
        body,
        title: "Where to measure".to_owned(),
        description: format!(
            "A board with the places where to measure, numbered clockwise from the top: {}.",
            each.collect::<Vec<_>>().join(", ")
        ),
    }
}
