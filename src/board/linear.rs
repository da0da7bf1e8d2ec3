//! Lengths that depend linearly on measured ones.

use super::Input;
use crate::units::{Length, Percent, Uncertainty};

/// The index of a measured length in its board's list of inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputId(usize);

impl InputId {
    /// The input with this index.
    pub(crate) const fn new(index: usize) -> Self {
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
    pub(crate) fn input(id: InputId, factor: f64) -> Self {
        Self(vec![(id, factor)])
    }

    /// `self + factor · other`.
    #[must_use]
    pub(crate) fn plus(mut self, factor: f64, other: &Self) -> Self {
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

    /// The value, in mm, where the inputs have these values, in mm.
    pub fn at(&self, values: &[f64]) -> f64 {
        let terms = self.0.iter();
        let values = terms.filter_map(|&(id, factor)| values.get(id.0).map(|value| factor * value));
        values.sum()
    }

    /// The combined standard uncertainty, in mm (or, where the factors are
    /// slopes of an area, in mm²), inputs being independent. `None` if any of
    /// the inputs states none.
    pub fn uncertainty(&self, inputs: &[Input]) -> Option<Uncertainty> {
        let mut contributions = Vec::with_capacity(self.0.len());
        for &(id, factor) in &self.0 {
            contributions.push((factor, inputs.get(id.0)?.uncertainty?));
        }
        Some(Uncertainty::combined(contributions))
    }

    /// How much of the variance each input accounts for, the largest share
    /// first. Inputs without a stated uncertainty count as exact.
    pub fn contributions(&self, inputs: &[Input]) -> Vec<Contribution> {
        let variance = |&(id, factor): &(InputId, f64)| {
            let u = inputs.get(id.0).and_then(|input| input.uncertainty);
            let part = u.map_or(0.0, |u| factor * u.standard());
            (id, part * part)
        };
        let parts: Vec<_> = self.0.iter().map(variance).collect();
        let whole: f64 = parts.iter().map(|(_, part)| part).sum();
        if whole == 0.0 {
            return Vec::new();
        }
        let share = |(input, part): (InputId, f64)| Contribution {
            input,
            share: Percent::finite(100.0 * (part / whole)),
        };
        let mut shares: Vec<_> = parts.into_iter().map(share).collect();
        shares.sort_by(|a, b| b.share.value().total_cmp(&a.share.value()));
        shares
    }
}

/// The part of a variance that one measured length accounts for.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Contribution {
    /// The measured length.
    pub input: InputId,
    /// Its part of the variance.
    pub share: Percent,
}
