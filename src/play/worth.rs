//! What each bed is worth: the weights of a mean over beds.

use crate::board::Band;
use crate::geometry::Bed;
use crate::units::NotFinite;

/// How many beds a board has.
pub(super) const BEDS: usize = 82;

/// A bed's place in the order of [`Bed::all`].
pub(super) const fn index(bed: Bed) -> usize {
    match bed.band() {
        Band::InnerBull => 0,
        Band::OuterBull => 1,
        Band::InnerSingle => 2 + bed.sector(),
        Band::Treble => 22 + bed.sector(),
        Band::OuterSingle => 42 + bed.sector(),
        Band::Double => 62 + bed.sector(),
    }
}

/// One value for each of the 82 beds; a dart in none of them is worth nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth([f64; BEDS]);

impl Worth {
    /// By a rule. Infinities and what is not a number are refused.
    ///
    /// ```
    /// use ringrule::board::Band;
    /// use ringrule::geometry::Bed;
    /// use ringrule::play::Worth;
    ///
    /// let doubles = Worth::by(|bed| if bed.band() == Band::Double { 1.0 } else { 0.0 })?;
    /// assert_eq!(doubles.of(Bed::new(Band::Treble, 0)), 0.0);
    /// assert!(Worth::by(|_| f64::NAN).is_err());
    /// # Ok::<(), ringrule::units::NotFinite>(())
    /// ```
    pub fn by(rule: impl FnMut(Bed) -> f64) -> Result<Self, NotFinite> {
        let worth = Self::from_fn(rule);
        for value in worth.0 {
            NotFinite::check(value, "worth", "points")?;
        }
        Ok(worth)
    }

    pub(super) fn from_fn(rule: impl FnMut(Bed) -> f64) -> Self {
        let mut values = [0.0; BEDS];
        for (value, worth) in values.iter_mut().zip(Bed::all().map(rule)) {
            *value = worth;
        }
        Self(values)
    }

    /// Each bed's score: the mean is the expected score of a dart.
    pub fn score() -> Self {
        Self::from_fn(|bed| f64::from(bed.score()))
    }

    /// Each bed's score squared, for the variance.
    pub fn score_squared() -> Self {
        Self::from_fn(|bed| f64::from(bed.score()) * f64::from(bed.score()))
    }

    /// One for these beds, nothing for others: the mean is the probability of
    /// hitting any of them.
    pub fn any_of(beds: &[Bed]) -> Self {
        Self::from_fn(|bed| if beds.contains(&bed) { 1.0 } else { 0.0 })
    }

    /// What a bed is worth.
    pub fn of(&self, bed: Bed) -> f64 {
        self.0.get(index(bed)).copied().unwrap_or_default()
    }

    pub(super) const fn values(&self) -> &[f64; BEDS] {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bed_has_its_own_place_in_the_order() {
        let order: Vec<usize> = Bed::all().map(index).collect();
        assert_eq!(order, (0..BEDS).collect::<Vec<_>>());
    }

    #[test]
    fn a_worth_is_found_under_the_bed_it_was_given_for() {
        let worth = Worth::score();
        for bed in Bed::all() {
            assert_eq!(worth.of(bed), f64::from(bed.score()), "{bed}");
        }
    }
}
