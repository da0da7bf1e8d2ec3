//! Where wires are drawn that were not measured, or only in part.

use std::fmt::Write;

use super::face::{self, edge};
use super::svg::circle;
use crate::board::{Band, Edge, PerRing, RingWire, usual};
use crate::geometry::{Point, SectorShape, Spider};
use crate::units::Length;

/// The wires of a board, with stand-ins for what was not recorded.
pub(super) struct Places<'a> {
    pub(super) spider: &'a Spider,
    /// A radius for every ring: its own, the nominal board's, or the usual one.
    radii: PerRing<f64>,
}

impl<'a> Places<'a> {
    pub(super) fn new(spider: &'a Spider, nominal: Option<&Spider>) -> Self {
        let radii = PerRing::from_fn(|wire| {
            let own = face::known(&spider.rings[wire]);
            let nominal = || face::known(&nominal?.rings[wire]);
            own.or_else(nominal).unwrap_or_else(|| usual::apex(wire))
        });
        Self { spider, radii }
    }

    /// The facing edges of a band: centre and radius, inner one first. The
    /// inner bull has no inner one.
    pub(super) fn edges(&self, band: Band) -> [(Point, f64); 2] {
        let of = |wire: RingWire, side: Edge| {
            edge(self.spider, wire, side)
                .unwrap_or((self.spider.rings[wire].centre, self.radii[wire]))
        };
        let (centre, outer) = of(band.outer_wire(), Edge::Inside);
        let inner = band.inner_wire().map(|wire| of(wire, Edge::Outside));
        // Measured and stand-in wires may lie in any order.
        let (inner_centre, inner) = inner.unwrap_or((centre, 0.0));
        [
            (inner_centre, inner.min(outer).max(0.0)),
            (centre, outer.max(inner).max(0.0)),
        ]
    }

    /// Where the sector wires run from and to.
    pub(super) fn sector_wires(&self) -> (f64, f64) {
        (
            self.radii[RingWire::OuterBull],
            self.radii[RingWire::DoubleOuter],
        )
    }

    /// Wires of which the place or the thickness is missing, in words.
    pub(super) fn missing(&self) -> Vec<String> {
        let mut missing = Vec::new();
        for (wire, ring) in self.spider.rings.iter() {
            match (ring.inside, ring.apex, ring.outside) {
                (Some(_), _, Some(_)) => {}
                (None, None, None) => missing.push(format!("place of the {wire}")),
                _ => missing.push(format!("thickness of the {wire}")),
            }
        }
        if self.spider.sectors.is_none() {
            missing.push("thickness of the sector wires".to_owned());
        }
        missing
    }

    /// The same wires as dashed lines.
    pub(super) fn draw_missing(&self, out: &mut String) {
        let mut lines = String::new();
        for (wire, ring) in self.spider.rings.iter() {
            if ring.inside.is_none() || ring.outside.is_none() {
                lines.push_str(&circle(ring.centre, self.radii[wire]));
            }
        }
        if self.spider.sectors.is_none() {
            let (from, to) = self.sector_wires();
            for bearing in SectorShape::even(Length::ZERO).bearings {
                let ends = [from, to].map(|along| face::place(bearing, along, 0.0));
                let _ = write!(lines, "M{}", ends.join("L"));
            }
        }
        if !lines.is_empty() {
            let _ = write!(
                out,
                "<path d=\"{lines}\" stroke-dasharray=\"4 2\" \
                 style=\"stroke:var(--wire);stroke-width:.5;fill:none\"/>"
            );
        }
    }
}
