//! Boards of one kind, and the limits on them as a linear programme.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem, Variable};

use super::measure::measure;
use crate::board::{
    Construction, Edge, InputId, Linear, Mounting, PerBand, PerRing, Profile, RingPlace, RingWire,
};
use crate::table::{Demand, Interval, Limit};

/// A board described by nothing but apexes, thicknesses and its size, each free
/// to vary.
pub(super) struct Model {
    pub(super) construction: Construction,
    lengths: usize,
}

impl Model {
    pub(super) fn new(mounting: Mounting, profile: Profile) -> Self {
        let mut lengths = 0;
        let mut variable = || {
            lengths += 1;
            Linear::input(InputId::new(lengths - 1), 1.0)
        };
        let construction = Construction {
            mounting,
            profile,
            inputs: Vec::new(),
            rings: PerRing::from_fn(|_| {
                Some(RingPlace {
                    radius: variable(),
                    edge: Edge::Apex,
                    around: Vec::new(),
                    across: false,
                    offset: None,
                })
            }),
            ring_wires: PerRing::from_fn(|_| Some(variable())),
            sector_wires: Some(variable()),
            sectors: None,
            staples: Vec::new(),
            widths: PerBand::default(),
            overall: Some(variable()),
            overall_around: Vec::new(),
            areas: PerBand::default(),
            adjustment: None,
        };
        Self {
            construction,
            lengths,
        }
    }

    /// What a board has for each of the lengths but its size, in mm; not a
    /// number where it lacks one.
    pub(super) fn values(board: &Construction) -> Vec<f64> {
        let apexes = RingWire::ALL.map(|ring| board.edge_radius(ring, Edge::Apex));
        let wires = RingWire::ALL.map(|ring| board.ring_wires[ring].clone());
        let forms = apexes.into_iter().chain(wires);
        let forms = forms.chain([board.sector_wires.clone()]);
        forms
            .map(|form| form.map_or(f64::NAN, |form| board.value(&form).as_mm()))
            .collect()
    }

    /// What a limit bounds, and how; nothing if it demands no length.
    pub(super) fn bounds(&self, limit: &Limit) -> Vec<(Linear, Interval)> {
        let Demand::Within(interval) = limit.demand else {
            return Vec::new();
        };
        let edge = limit.edge.unwrap_or(Edge::Apex);
        let parts = measure(&self.construction, limit.measurand, edge).parts;
        let bounds = parts.into_iter().map(|part| (part.form, interval));
        bounds.collect()
    }

    /// A programme over the lengths. `slopes` is what a
    /// [vertex](Programme::vertex) lies farthest along, in this direction;
    /// `fixed` gives the lengths that do not vary, by their index, in mm.
    pub(super) fn programme(
        &self,
        slopes: &Linear,
        direction: OptimizationDirection,
        fixed: impl Fn(usize) -> Option<f64>,
    ) -> Programme {
        let mut problem = Problem::new(direction);
        let slope = |index: usize| {
            let term = slopes.terms().iter().find(|(id, _)| id.index() == index);
            term.map_or(0.0, |&(_, slope)| slope)
        };
        let lengths = (0..self.lengths)
            .map(|index| match fixed(index) {
                Some(value) => Unknown::Fixed(value),
                None => Unknown::Free(problem.add_var(slope(index), (0.0, f64::INFINITY))),
            })
            .collect();
        Programme { problem, lengths }
    }
}

/// Lengths, each positive or zero, and what limits them. Linear forms name them
/// by their index as inputs.
pub(super) struct Programme {
    problem: Problem,
    lengths: Vec<Unknown>,
}

/// A length of a programme.
#[derive(Clone, Copy)]
enum Unknown {
    Free(Variable),
    Fixed(f64),
}

impl Programme {
    /// Only where the form has its value within the interval.
    pub(super) fn within(&mut self, form: &Linear, interval: Interval) {
        let bounds = [
            (interval.lower, ComparisonOp::Ge),
            (interval.upper, ComparisonOp::Le),
        ];
        for (bound, operator) in bounds {
            if let Some(bound) = bound {
                let (sum, constant) = self.sum(form);
                let rest = bound.as_mm() - constant;
                self.problem.add_constraint(sum, operator, rest);
            }
        }
    }

    /// The part of a form that varies, and the part that does not.
    fn sum(&self, form: &Linear) -> (LinearExpr, f64) {
        let (mut sum, mut constant) = (LinearExpr::empty(), 0.0);
        for &(id, factor) in form.terms() {
            match self.lengths.get(id.index()) {
                Some(&Unknown::Free(length)) => sum.add(length, factor),
                Some(&Unknown::Fixed(value)) => constant += factor * value,
                None => {}
            }
        }
        (sum, constant)
    }

    /// The vertex that lies farthest along the slopes, in mm; `None` if there is
    /// none, or none is farthest.
    pub(super) fn vertex(self) -> Option<Vec<f64>> {
        let solution = self.problem.solve().ok()?.into_solution().ok()?;
        let value = |&length: &Unknown| match length {
            Unknown::Free(length) => solution.var_value(length),
            Unknown::Fixed(value) => value,
        };
        Some(self.lengths.iter().map(value).collect())
    }

    /// Whether it is proven that no lengths meet all of it. Anything but a
    /// proof is none.
    pub(super) fn is_infeasible(&self) -> bool {
        matches!(self.problem.solve(), Err(microlp::Error::Infeasible))
    }
}
