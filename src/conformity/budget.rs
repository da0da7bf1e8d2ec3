//! An uncertainty, cause by cause.

use crate::board::{Assumption, Cause, CommonError, Distribution, Input, InputId, Linear};
use crate::units::Uncertainty;

/// One independent cause of error in a result: a line of its uncertainty budget
/// (JCGM 100, H.1 and EA-4/02, from memory).
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BudgetLine {
    /// The measured lengths that have this error.
    pub inputs: Vec<InputId>,
    /// What causes it.
    pub cause: Cause,
    /// The common error that it is, if it is one.
    pub common: Option<CommonError>,
    /// Its distribution.
    pub distribution: Distribution,
    /// Its standard uncertainty in mm, with its degrees of freedom.
    pub uncertainty: Uncertainty,
    /// How fast the result changes with it, per mm.
    pub sensitivity: f64,
}

impl BudgetLine {
    /// Its part of the result's standard uncertainty; the parts' squares add up.
    pub fn contribution(&self) -> f64 {
        (self.sensitivity * self.uncertainty.standard()).abs()
    }
}

/// The budget of a sum of measured lengths, the largest contribution first.
/// Errors of which it is not known whether they are common are taken as
/// whichever gives the larger uncertainty.
pub fn budget(form: &Linear, inputs: &[Input]) -> Vec<BudgetLine> {
    let square = |lines: &[BudgetLine]| -> f64 {
        let squares = lines
            .iter()
            .map(|line| line.contribution() * line.contribution());
        squares.sum()
    };
    let common = lines(form, inputs, Assumption::Common);
    let independent = lines(form, inputs, Assumption::Independent);
    let mut lines = if square(&independent) > square(&common) {
        independent
    } else {
        common
    };
    lines.sort_by(|a, b| b.contribution().total_cmp(&a.contribution()));
    lines
}

fn lines(form: &Linear, inputs: &[Input], assumption: Assumption) -> Vec<BudgetLine> {
    let mut lines: Vec<BudgetLine> = Vec::new();
    for &(id, factor) in form.terms() {
        let parts = inputs.get(id.index()).map(|input| input.errors.as_slice());
        for part in parts.unwrap_or_default() {
            let common = part.common(assumption);
            let known = lines
                .iter_mut()
                .find(|line| common.is_some() && line.common == common);
            if let Some(line) = known {
                // Its size may differ from length to length, as after pooling.
                let ratio = part.uncertainty.standard() / line.uncertainty.standard();
                line.sensitivity += factor * ratio;
                line.inputs.push(id);
            } else {
                lines.push(BudgetLine {
                    inputs: vec![id],
                    cause: part.cause,
                    common,
                    distribution: part.cause.distribution(),
                    uncertainty: part.uncertainty,
                    sensitivity: factor,
                });
            }
        }
    }
    lines
}
