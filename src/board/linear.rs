//! Lengths that depend linearly on measured ones.

use super::error_part::Assumption;
use super::{CommonError, ErrorPart, Input, Sharing};
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

    /// The sum without terms whose factor is what rounding left of zero.
    pub(crate) fn without_noise(mut self, least: f64) -> Self {
        self.0.retain(|&(_, factor)| factor.abs() > least);
        self
    }

    /// The same with its terms in the order of the inputs, so that equal forms
    /// have equal values, bit for bit.
    #[must_use]
    pub(crate) fn in_order(mut self) -> Self {
        self.0.sort_by_key(|&(id, _)| id);
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
    /// slopes of an area, in mm²), errors that inputs have in common counted as
    /// such. Where that is not known the larger of the two results counts.
    /// `None` if any of the inputs states none.
    pub fn uncertainty(&self, inputs: &[Input]) -> Option<Uncertainty> {
        let common = self.combined(inputs, Assumption::Common)?;
        if !self.parts(inputs).any(|(_, part)| is_unknown(part)) {
            return Some(common);
        }
        let independent = self.combined(inputs, Assumption::Independent)?;
        Some(if independent.standard() > common.standard() {
            independent
        } else {
            common
        })
    }

    /// Whether it is not known if errors of several of its inputs are common,
    /// and that matters.
    pub fn rests_on_unknown_sharing(&self, inputs: &[Input]) -> bool {
        let unknown = self.parts(inputs).filter(|(_, part)| is_unknown(part));
        unknown.count() > 1
    }

    fn combined(&self, inputs: &[Input], assumption: Assumption) -> Option<Uncertainty> {
        let known = |&(id, _): &(InputId, f64)| {
            inputs
                .get(id.0)
                .is_some_and(|input| input.uncertainty.is_some())
        };
        if !self.0.iter().all(known) {
            return None;
        }
        let mut contributions = Vec::with_capacity(self.0.len());
        let mut common: Vec<(CommonError, f64, Uncertainty)> = Vec::new();
        for (factor, part) in self.parts(inputs) {
            let Some(error) = part.common(assumption) else {
                contributions.push((factor, part.uncertainty));
                continue;
            };
            let effect = factor * part.uncertainty.standard();
            match common.iter_mut().find(|(known, ..)| *known == error) {
                Some((_, sum, _)) => *sum += effect,
                None => common.push((error, effect, part.uncertainty)),
            }
        }
        let common = common.into_iter().map(|(_, effect, part)| {
            let factor = effect / part.standard();
            (factor, part)
        });
        contributions.extend(common);
        Some(Uncertainty::combined(contributions))
    }

    /// Every cause of error of every input, with the input's factor.
    fn parts<'a>(&'a self, inputs: &'a [Input]) -> impl Iterator<Item = (f64, &'a ErrorPart)> {
        self.0.iter().flat_map(|&(id, factor)| {
            let parts = inputs.get(id.0).map(|input| input.errors.as_slice());
            let parts = parts.unwrap_or_default().iter();
            parts.map(move |part| (factor, part))
        })
    }

    /// The covariance of two sums. Inputs without a stated uncertainty count as
    /// exact.
    pub(crate) fn covariance(&self, other: &Self, inputs: &[Input], assumption: Assumption) -> f64 {
        let mut sum = 0.0;
        let mut common: Vec<(CommonError, f64)> = Vec::new();
        for &(id, factor) in &self.0 {
            let parts = inputs.get(id.0).map(|input| input.errors.as_slice());
            for part in parts.unwrap_or_default() {
                let u = part.uncertainty.standard();
                if let Some(error) = part.common(assumption) {
                    common.push((error, factor * u));
                } else {
                    sum += factor * other.factor(id) * u * u;
                }
            }
        }
        for (factor, part) in other.parts(inputs) {
            let Some(error) = part.common(assumption) else {
                continue;
            };
            let shared = common.iter().filter(|(known, _)| *known == error);
            let effect: f64 = shared.map(|(_, effect)| effect).sum();
            sum += effect * factor * part.uncertainty.standard();
        }
        sum
    }

    /// The factor of an input; zero if it is not among them.
    pub(crate) fn factor(&self, id: InputId) -> f64 {
        let found = self.0.iter().find(|(own, _)| *own == id);
        found.map_or(0.0, |&(_, factor)| factor)
    }

    /// How much of the variance each input accounts for, the largest share
    /// first: its factor times its covariance with the whole, so that the shares
    /// of inputs with common errors add up too, and may be negative. Inputs
    /// without a stated uncertainty count as exact.
    pub fn contributions(&self, inputs: &[Input]) -> Vec<Contribution> {
        let part = |&(id, factor): &(InputId, f64)| {
            let own = Self::input(id, factor);
            (id, own.covariance(self, inputs, Assumption::Common))
        };
        let parts: Vec<_> = self.0.iter().map(part).collect();
        let whole: f64 = parts.iter().map(|(_, part)| part).sum();
        if whole <= 0.0 {
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

const fn is_unknown(part: &ErrorPart) -> bool {
    matches!(part.sharing, Sharing::Unknown(_))
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
