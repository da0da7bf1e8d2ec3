//! Where a throw lands: the probability of every bed, of metal and of a miss.

use super::worth::{BEDS, Worth, index};
use crate::geometry::Bed;

/// Probabilities that add up to one.
#[derive(Clone, Debug, PartialEq)]
pub struct Hits {
    beds: [f64; BEDS],
    metal: f64,
    outside: f64,
}

impl Hits {
    /// From the probability of each bed and of the disc that holds them: what lies
    /// in the disc and in no bed is metal.
    pub(super) fn new(beds: &[f64; BEDS], disc: f64) -> Self {
        let sum: f64 = beds.iter().sum();
        Self {
            beds: *beds,
            metal: (disc - sum).max(0.0),
            outside: 1.0 - disc,
        }
    }

    /// The same where beds meet at the apexes of the wires.
    pub(super) fn new_without_metal(beds: &[f64; BEDS], disc: f64) -> Self {
        Self {
            beds: *beds,
            metal: 0.0,
            outside: 1.0 - disc,
        }
    }

    /// This much of these probabilities, and the rest of others.
    pub(super) fn mixed(&self, share: f64, other: &Self) -> Self {
        let mix = |mine: f64, theirs: f64| share * mine + (1.0 - share) * theirs;
        let mut beds = self.beds;
        for (mine, theirs) in beds.iter_mut().zip(other.beds) {
            *mine = mix(*mine, theirs);
        }
        Self {
            beds,
            metal: mix(self.metal, other.metal),
            outside: mix(self.outside, other.outside),
        }
    }

    /// The probability of a bed, 0 to 1.
    pub fn of(&self, bed: Bed) -> f64 {
        self.beds.get(index(bed)).copied().unwrap_or_default()
    }

    /// Each bed with its probability, from the bull outwards.
    pub fn iter(&self) -> impl Iterator<Item = (Bed, f64)> {
        Bed::all().zip(self.beds)
    }

    /// The probability that the dart is lost on metal. What glances off metal
    /// counts where it ends up.
    pub const fn metal(&self) -> f64 {
        self.metal
    }

    /// The probability that it lands beyond the double ring.
    pub const fn outside(&self) -> f64 {
        self.outside
    }

    /// All probabilities together: one, but for rounding and quadrature.
    pub fn total(&self) -> f64 {
        self.beds.iter().sum::<f64>() + self.metal + self.outside
    }

    /// The mean worth.
    pub fn mean(&self, worth: &Worth) -> f64 {
        self.beds
            .iter()
            .zip(worth.values())
            .map(|(probability, worth)| probability * worth)
            .sum()
    }
}
