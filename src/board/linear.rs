//! Lengths that depend linearly on measured ones.

use super::Input;
use crate::units::Length;

/// The index of a measured length in its board's list of inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputId(usize);

impl InputId {
    /// The input with this index.
    pub const fn new(index: usize) -> Self {
        Self(index)
    }

    /// The index itself.
    pub const fn index(self) -> usize {
        self.0
    }
}

/// A sum of measured lengths, each times a factor.
///
/// Factors are added before anything is multiplied, so that a wire width that
/// cancels out leaves no trace: a radius taken to the outside edge comes back
/// as exactly the number in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Linear(Vec<(InputId, f64)>);

impl Linear {
    /// One measured length times a factor.
    pub fn input(id: InputId, factor: f64) -> Self {
        Self(vec![(id, factor)])
    }

    /// `self + factor · other`.
    #[must_use]
    pub fn plus(mut self, factor: f64, other: &Self) -> Self {
        for &(id, coefficient) in &other.0 {
            match self.0.iter_mut().find(|(own, _)| *own == id) {
                Some((_, own)) => *own += factor * coefficient,
                None => self.0.push((id, factor * coefficient)),
            }
        }
        self.0.retain(|&(_, coefficient)| coefficient != 0.0);
        self
    }

    /// The inputs and their factors.
    pub fn terms(&self) -> &[(InputId, f64)] {
        &self.0
    }

    /// The value, in millimetres. Terms are added in the order of the inputs
    /// so that equal forms have equal values, bit for bit.
    pub fn value(&self, inputs: &[Input]) -> Length {
        let mut terms = self.0.clone();
        terms.sort_by_key(|&(id, _)| id);
        let values = terms
            .iter()
            .filter_map(|&(id, factor)| inputs.get(id.0).map(|input| input.value * factor));
        values.sum()
    }

    /// The combined standard uncertainty, in millimetres: the root of the sum
    /// of (factor · u)², inputs being independent (JCGM 100, 5.1.2, from
    /// memory). `None` if any of the inputs states none.
    pub fn standard_uncertainty(&self, inputs: &[Input]) -> Option<Length> {
        let mut sum = 0.0;
        for &(id, factor) in &self.0 {
            let u = inputs.get(id.0)?.standard_uncertainty?.as_mm();
            sum += (factor * u) * (factor * u);
        }
        Some(Length::mm(libm::sqrt(sum)))
    }
}
