//! The extreme free areas that boards within a table's limits can have.
//!
//! Limits are intervals on lengths that depend linearly on the crests and wire
//! widths; a band's free area grows or shrinks steadily in each. So each
//! extreme lies at a corner of the region that the limits leave, and a linear
//! programme on the area's slopes finds it; the slopes are then taken afresh at
//! the corner until it stays the same.

use microlp::OptimizationDirection;

use super::measure::measure;
use super::programme::Programme;
use crate::board::{Band, Construction, Edge, Linear, PerRing, RingPlace, RingWire};
use crate::geometry::{Point, RingShape, SectorShape, Spider, band_area};
use crate::table::{Demand, Interval, Limit};
use crate::units::Length;

/// How often a corner is looked at again with the slopes found there. House
/// rule: two rounds have been enough for every table seen, the rest is margin.
const ROUNDS: usize = 6;

/// The limits of a table for one kind of board, as a linear programme.
pub(super) struct Feasible {
    model: Construction,
    /// The value of each of the model's inputs on the nominal board.
    nominal: Vec<f64>,
    bounds: Vec<(Linear, Interval)>,
    /// Wires that no limit speaks of.
    unlimited: Vec<Wire>,
}

/// A ring wire or, if `None`, the sector wires, and its thickness in the model.
struct Wire {
    ring: Option<RingWire>,
    form: Linear,
}

impl Wire {
    fn on<'c>(&self, construction: &'c Construction) -> Option<&'c Linear> {
        match self.ring {
            Some(ring) => construction.ring_wires[ring].as_ref(),
            None => construction.sector_wires.as_ref(),
        }
    }
}

impl Feasible {
    /// Boards of the nominal board's kind that meet these limits. `None` if
    /// the nominal board is not complete.
    pub(super) fn new(limits: &[Limit], nominal: &Construction) -> Option<Self> {
        let (model, values) = model(nominal)?;
        let mut bounds = Vec::new();
        for limit in limits {
            let Demand::Within(interval) = limit.demand else {
                continue;
            };
            if !limit.when.matches(nominal.mounting, nominal.profile) {
                continue;
            }
            let edge = limit.edge.unwrap_or(Edge::Apex);
            let parts = measure(&model, limit.measurand, edge).parts;
            bounds.extend(parts.into_iter().map(|part| (part.form, interval)));
        }
        let wires = RingWire::ALL.into_iter().map(Some).chain([None]);
        let unlimited = wires
            .filter_map(|ring| {
                let form = Linear::default();
                let mut wire = Wire { ring, form };
                wire.form = wire.on(&model)?.clone();
                let limited = bounds.iter().any(|(bound, _)| *bound == wire.form);
                (!limited).then_some(wire)
            })
            .collect();
        Some(Self {
            model,
            nominal: values,
            bounds,
            unlimited,
        })
    }

    /// The thickness, in mm, of each wire that no limit speaks of: a board's
    /// own, or the nominal board's where the file records none. No board may
    /// be condemned for what no limit forbids.
    pub(super) fn unlimited_wires(&self, board: &Construction) -> Vec<f64> {
        let width = |wire: &Wire| match wire.on(board) {
            Some(recorded) => board.value(recorded).as_mm(),
            None => value_at(&wire.form, &self.nominal).unwrap_or(0.0),
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
            let corner = self.corner(&self.slopes(band, &at)?, unlimited, direction)?;
            let spider = self.spider(&corner)?;
            if overlaps(&spider) {
                return None;
            }
            let there = band_area(&spider, band)?.free.as_mm2();
            let settled = (there - area).abs() <= 1e-9 * there;
            (at, area) = (corner, there);
            if settled {
                break;
            }
        }
        Some(area)
    }

    fn slopes(&self, band: Band, at: &[f64]) -> Option<Linear> {
        let rates = band_area(&self.spider(at)?, band)?.rates;
        let outer = self.model.edge_radius(band.outer_wire(), Edge::Inside)?;
        let mut slopes = Linear::default().plus(rates.outer_edge, &outer);
        if let Some(wire) = band.inner_wire() {
            let inner = self.model.edge_radius(wire, Edge::Outside)?;
            slopes = slopes.plus(rates.inner_edge, &inner);
        }
        if band.has_sectors() {
            slopes = slopes.plus(rates.sector_width, self.model.sector_wires.as_ref()?);
        }
        Some(slopes)
    }

    /// The corner of the limits that lies farthest along these slopes.
    fn corner(
        &self,
        slopes: &Linear,
        unlimited: &[f64],
        direction: OptimizationDirection,
    ) -> Option<Vec<f64>> {
        let mut programme = Programme::new(self.nominal.len(), slopes, direction);
        for (wire, &width) in self.unlimited.iter().zip(unlimited) {
            programme.equal(&wire.form, Length::mm(width));
        }
        for (form, interval) in &self.bounds {
            programme.within(form, *interval);
        }
        programme.corner()
    }

    /// The spider at a point of the programme.
    fn spider(&self, at: &[f64]) -> Option<Spider> {
        let value = |form: &Linear| value_at(form, at);
        let mut rings = PerRing::default();
        for ring in RingWire::ALL {
            let crest = value(&self.model.edge_radius(ring, Edge::Apex)?)?;
            let width = value(self.model.ring_wires[ring].as_ref()?)?;
            rings[ring] = RingShape::around_crest(Point::ORIGIN, crest, width);
        }
        let width = value(self.model.sector_wires.as_ref()?)?;
        Some(Spider {
            rings,
            sectors: Some(SectorShape::even(width)),
        })
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

/// The value of a form where the model's inputs have these values.
fn value_at(form: &Linear, at: &[f64]) -> Option<f64> {
    let terms = form.terms().iter();
    terms
        .map(|(id, factor)| Some(factor * at.get(id.index())?))
        .sum()
}

/// A board described by nothing but crests and wire widths, each free to vary,
/// and the values that the nominal board gives them.
fn model(nominal: &Construction) -> Option<(Construction, Vec<f64>)> {
    let mut values = Vec::new();
    let mut variable = |value: f64| {
        values.push(value);
        Linear::input(crate::board::InputId::new(values.len() - 1), 1.0)
    };
    let mut model = Construction {
        mounting: nominal.mounting,
        profile: nominal.profile,
        inputs: Vec::new(),
        rings: PerRing::default(),
        ring_wires: PerRing::default(),
        sector_wires: None,
        widths: crate::board::PerBand::default(),
        overall: None,
    };
    for ring in RingWire::ALL {
        let crest = nominal
            .value(&nominal.edge_radius(ring, Edge::Apex)?)
            .as_mm();
        model.rings[ring] = Some(RingPlace {
            radius: variable(crest),
            edge: Edge::Apex,
        });
        let width = nominal.value(nominal.ring_wires[ring].as_ref()?).as_mm();
        model.ring_wires[ring] = Some(variable(width));
    }
    let width = nominal.value(nominal.sector_wires.as_ref()?).as_mm();
    model.sector_wires = Some(variable(width));
    Some((model, values))
}
