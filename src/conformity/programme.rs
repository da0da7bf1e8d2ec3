//! A linear programme over the lengths of a board.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem, Variable};

use crate::board::Linear;
use crate::table::Interval;
use crate::units::Length;

/// Lengths, each positive or nought, and what limits them. Linear forms speak of
/// them by their index as inputs.
pub(super) struct Programme {
    problem: Problem,
    lengths: Vec<Variable>,
}

impl Programme {
    /// So many lengths. `slopes` is what a [corner](Self::corner) lies farthest
    /// along, in this direction.
    pub(super) fn new(lengths: usize, slopes: &Linear, direction: OptimizationDirection) -> Self {
        let mut problem = Problem::new(direction);
        let slope = |index: usize| {
            let term = slopes.terms().iter().find(|(id, _)| id.index() == index);
            term.map_or(0.0, |&(_, slope)| slope)
        };
        let lengths = (0..lengths)
            .map(|index| problem.add_var(slope(index), (0.0, f64::INFINITY)))
            .collect();
        Self { problem, lengths }
    }

    /// Only where the form has its value within the interval.
    pub(super) fn within(&mut self, form: &Linear, interval: Interval) {
        let bounds = [
            (interval.lower, ComparisonOp::Ge),
            (interval.upper, ComparisonOp::Le),
        ];
        for (bound, operator) in bounds {
            if let Some(bound) = bound {
                let sum = self.sum(form);
                self.problem.add_constraint(sum, operator, bound.as_mm());
            }
        }
    }

    /// Only where the form has this value.
    pub(super) fn equal(&mut self, form: &Linear, value: Length) {
        let sum = self.sum(form);
        self.problem
            .add_constraint(sum, ComparisonOp::Eq, value.as_mm());
    }

    fn sum(&self, form: &Linear) -> LinearExpr {
        let mut sum = LinearExpr::empty();
        for &(id, factor) in form.terms() {
            if let Some(&length) = self.lengths.get(id.index()) {
                sum.add(length, factor);
            }
        }
        sum
    }

    /// The corner that lies farthest along the slopes, in mm; `None` if there is
    /// none, or none is farthest.
    pub(super) fn corner(self) -> Option<Vec<f64>> {
        let solution = self.problem.solve().ok()?.into_solution().ok()?;
        let lengths = self.lengths.iter();
        Some(lengths.map(|&length| solution.var_value(length)).collect())
    }

    /// Whether there is a proof that nothing is left. Anything but a proof is
    /// none.
    pub(super) fn is_infeasible(&self) -> bool {
        matches!(self.problem.solve(), Err(microlp::Error::Infeasible))
    }
}
