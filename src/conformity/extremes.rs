//! The extreme free areas that boards within a table's limits can have.
//!
//! Limits are intervals on lengths that depend linearly on the crests and wire
//! widths; a band's free area grows or shrinks steadily in each. So each
//! extreme lies at a corner of the region that the limits leave, and a linear
//! programme on the area's slopes finds it; the slopes are then taken afresh at
//! the corner until it stays the same.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem, Variable};

use super::measure::{Measured, measure};
use crate::board::{
    Band, Construction, Edge, Linear, Mounting, PerRing, Profile, RingPlace, RingWire,
};
use crate::geometry::{Point, RingShape, SectorShape, Spider, band_area};
use crate::table::{Demand, Interval, Limit};

/// How often a corner is looked at again with the slopes found there. House
/// rule: two rounds have been enough for every table seen, the rest is margin.
const ROUNDS: usize = 6;

/// The limits of a table for one kind of board, as a linear programme.
pub(super) struct Feasible {
    model: Construction,
    /// The value of each of the model's inputs on the nominal board.
    nominal: Vec<f64>,
    bounds: Vec<(Linear, Interval)>,
}

impl Feasible {
    /// Boards of this kind that meet these limits. Wires that no limit speaks
    /// of are as thick as the nominal board's. `None` if the nominal board is
    /// not complete.
    pub(super) fn new(
        limits: &[Limit],
        nominal: &Construction,
        mounting: Mounting,
        profile: Profile,
    ) -> Option<Self> {
        let (model, values) = model(nominal)?;
        let mut bounds = Vec::new();
        for limit in limits.iter().filter(|limit| limit.when.matches(mounting, profile)) {
            let Demand::Within(interval) = limit.demand else {
                continue;
            };
            let edge = limit.edge.unwrap_or(Edge::Apex);
            if let Measured::Parts(parts) = measure(&model, limit.measurand, edge) {
                bounds.extend(parts.into_iter().map(|part| (part.form, interval)));
            }
        }
        let limited = |form: &Linear| bounds.iter().any(|(bound, _)| bound == form);
        let wires = RingWire::ALL.map(|ring| model.ring_wires[ring].clone());
        let wires = wires.into_iter().chain([model.sector_wires.clone()]).flatten();
        let fixed: Vec<_> = wires
            .filter(|form| !limited(form))
            .map(|form| {
                let exact = form.terms().first().and_then(|(id, _)| values.get(id.index()));
                let exact = exact.copied().map(crate::units::Length::mm);
                (form, Interval {
                    lower: exact,
                    upper: exact,
                })
            })
            .collect();
        bounds.extend(fixed);
        Some(Self {
            model,
            nominal: values,
            bounds,
        })
    }

    /// The least and the greatest free area of a band, in mm². `None` where the
    /// limits leave an area unbounded or no board at all.
    pub(super) fn extremes(&self, band: Band) -> Option<(f64, f64)> {
        let least = self.extreme(band, OptimizationDirection::Minimize)?;
        let greatest = self.extreme(band, OptimizationDirection::Maximize)?;
        Some((least, greatest))
    }

    fn extreme(&self, band: Band, direction: OptimizationDirection) -> Option<f64> {
        let mut at = self.nominal.clone();
        let mut area = f64::NAN;
        for _ in 0..ROUNDS {
            let corner = self.corner(&self.slopes(band, &at)?, direction)?;
            let there = band_area(&self.spider(&corner)?, band)?.free.as_mm2();
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
    fn corner(&self, slopes: &Linear, direction: OptimizationDirection) -> Option<Vec<f64>> {
        let mut problem = Problem::new(direction);
        let slope = |index: usize| {
            let term = slopes.terms().iter().find(|(id, _)| id.index() == index);
            term.map_or(0.0, |&(_, slope)| slope)
        };
        let variables: Vec<Variable> = (0..self.nominal.len())
            .map(|index| problem.add_var(slope(index), (0.0, f64::INFINITY)))
            .collect();
        let expression = |form: &Linear| {
            let mut sum = LinearExpr::empty();
            for &(id, factor) in form.terms() {
                if let Some(&variable) = variables.get(id.index()) {
                    sum.add(variable, factor);
                }
            }
            sum
        };
        for (form, interval) in &self.bounds {
            match (interval.lower, interval.upper) {
                (Some(lower), Some(upper)) if lower == upper => {
                    problem.add_constraint(expression(form), ComparisonOp::Eq, lower.as_mm());
                }
                (lower, upper) => {
                    if let Some(lower) = lower {
                        problem.add_constraint(expression(form), ComparisonOp::Ge, lower.as_mm());
                    }
                    if let Some(upper) = upper {
                        problem.add_constraint(expression(form), ComparisonOp::Le, upper.as_mm());
                    }
                }
            }
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(variables.iter().map(|&variable| solution.var_value(variable)).collect())
    }

    /// The spider at a point of the programme.
    fn spider(&self, at: &[f64]) -> Option<Spider> {
        let value = |form: &Linear| {
            let terms = form.terms().iter();
            let values = terms.map(|(id, factor)| Some(factor * at.get(id.index())?));
            values.sum::<Option<f64>>()
        };
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
        let crest = nominal.value(&nominal.edge_radius(ring, Edge::Apex)?).as_mm();
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
