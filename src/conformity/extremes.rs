//! The extreme free areas that boards within a table's limits can have.
//!
//! Limits are intervals on lengths that depend linearly on the apexes and wire
//! widths; a band's free area grows or shrinks steadily in each. So each
//! extreme lies at a vertex of the region that the limits leave, and a linear
//! programme on the area's slopes finds it; the slopes are then taken afresh at
//! the vertex until it stays the same.

use microlp::OptimizationDirection;

use super::programme::Model;
use crate::board::{Band, Construction, Edge, Linear, PerRing, RingWire};
use crate::geometry::{Point, RingShape, SectorShape, Spider, band_area};
use crate::table::{Interval, Limit};
use crate::units::Length;

/// How often a vertex is looked at again with the slopes found there. House
/// rule: two rounds have been enough for every table seen, the rest is margin.
const ROUNDS: usize = 6;

/// The limits of a table for one kind of board.
pub(super) struct Feasible {
    model: Model,
    /// The value of each of the model's lengths on the nominal board.
    nominal: Vec<f64>,
    bounds: Vec<(Linear, Interval)>,
    /// Wires that no limit is about: ring wires or, as `None`, the sector wires.
    unlimited: Vec<Option<RingWire>>,
}

impl Feasible {
    /// Boards of the nominal board's kind that meet these limits. `None` if
    /// the nominal board is not complete.
    pub(super) fn new(limits: &[Limit], nominal: &Construction) -> Option<Self> {
        let model = Model::new(nominal.mounting, nominal.profile);
        let applies = |limit: &&Limit| limit.when.matches(nominal.mounting, nominal.profile);
        let limits = limits.iter().filter(applies);
        let bounds: Vec<_> = limits.flat_map(|limit| model.bounds(limit)).collect();
        let wires = RingWire::ALL.into_iter().map(Some).chain([None]);
        let unlimited = wires.filter(|&ring| {
            let form = wire(&model.construction, ring);
            !bounds.iter().any(|(bound, _)| Some(bound) == form)
        });
        Some(Self {
            nominal: Model::values(nominal)?,
            unlimited: unlimited.collect(),
            bounds,
            model,
        })
    }

    /// The thickness, in mm, of each wire that no limit is about: a board's
    /// own, or the nominal board's where the file records none. No board may
    /// be condemned for what no limit forbids.
    pub(super) fn unlimited_wires(&self, board: &Construction) -> Vec<f64> {
        let nominal = |ring| wire(&self.model.construction, ring).map(|w| w.at(&self.nominal));
        let width = |&ring: &Option<RingWire>| match wire(board, ring) {
            Some(recorded) => board.value(recorded).as_mm(),
            None => nominal(ring).unwrap_or(0.0),
        };
        self.unlimited.iter().map(width).collect()
    }

    /// The least and the greatest free area of a band, in mm², of boards whose
    /// unlimited wires are this thick. `None` where the limits leave a side
    /// open: no extreme, or only one at which wires overlap.
    pub(super) fn extremes(&self, band: Band, unlimited: &[f64]) -> (Option<f64>, Option<f64>) {
        (
            self.extreme(band, unlimited, OptimizationDirection::Minimize),
            self.extreme(band, unlimited, OptimizationDirection::Maximize),
        )
    }

    fn extreme(
        &self,
        band: Band,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<f64> {
        let mut at = self.nominal.clone();
        let mut area = f64::NAN;
        for _ in 0..ROUNDS {
            let vertex = self.vertex(&self.slopes(band, &at)?, unlimited, direction)?;
            let spider = self.spider(&vertex)?;
            if overlaps(&spider) {
                return None;
            }
            let there = band_area(&spider, band)?.free.as_mm2();
            let settled = (there - area).abs() <= 1e-9 * there;
            (at, area) = (vertex, there);
            if settled {
                break;
            }
        }
        Some(area)
    }

    fn slopes(&self, band: Band, at: &[f64]) -> Option<Linear> {
        let rates = band_area(&self.spider(at)?, band)?.rates;
        let outer = self
            .model
            .construction
            .edge_radius(band.outer_wire(), Edge::Inside)?;
        let mut slopes = Linear::default().plus(rates.outer_edge.as_mm(), &outer);
        if let Some(wire) = band.inner_wire() {
            let inner = self.model.construction.edge_radius(wire, Edge::Outside)?;
            slopes = slopes.plus(rates.inner_edge.as_mm(), &inner);
        }
        if band.has_sectors() {
            slopes = slopes.plus(
                rates.sector_width.as_mm(),
                wire(&self.model.construction, None)?,
            );
        }
        Some(slopes)
    }

    /// The vertex of the limits that lies farthest along these slopes.
    fn vertex(
        &self,
        slopes: &Linear,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<Vec<f64>> {
        let mut programme = self.model.programme(slopes, direction);
        for (&ring, &width) in self.unlimited.iter().zip(unlimited) {
            programme.equal(wire(&self.model.construction, ring)?, Length::mm(width));
        }
        for (form, interval) in &self.bounds {
            programme.within(form, *interval);
        }
        programme.vertex()
    }

    /// The spider at a point of the programme.
    fn spider(&self, at: &[f64]) -> Option<Spider> {
        let board = &self.model.construction;
        let mut rings = PerRing::default();
        for ring in RingWire::ALL {
            let apex = board.edge_radius(ring, Edge::Apex)?.at(at);
            let width = wire(board, Some(ring))?.at(at);
            rings[ring] =
                RingShape::around_apex(Point::ORIGIN, Length::mm(apex), Length::mm(width));
        }
        Some(Spider {
            rings,
            sectors: Some(SectorShape::even(Length::mm(wire(board, None)?.at(at)))),
        })
    }
}

/// The thickness of a ring wire or, for `None`, of the sector wires.
fn wire(board: &Construction, ring: Option<RingWire>) -> Option<&Linear> {
    match ring {
        Some(ring) => board.ring_wires[ring].as_ref(),
        None => board.sector_wires.as_ref(),
    }
}

/// Whether two neighbouring ring wires overlap.
fn overlaps(spider: &Spider) -> bool {
    let rings: Vec<_> = spider.rings.iter().map(|(_, ring)| ring).collect();
    let overlap = |pair: &[&RingShape]| match pair {
        [inner, outer] => inner.outside >= outer.inside,
        _ => false,
    };
    rings.windows(2).any(overlap)
}
