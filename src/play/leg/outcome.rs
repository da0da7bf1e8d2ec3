//! What a dart comes to, as far as a leg is concerned: a target, or nothing.

use crate::board::Band;
use crate::geometry::Bed;
use crate::play::Hits;

/// Nothing, the 62 targets, and one place that is never used: a multiple of
/// what a processor adds at once.
pub(super) const OUTCOMES: usize = 64;
/// How many of the places are used.
pub(super) const USED: usize = 63;
/// The place of a dart that scores nothing.
pub(super) const NOTHING: usize = 0;
/// The largest score of a dart.
pub(super) const LARGEST: usize = 60;

const SINGLES: usize = 1;
const DOUBLES: usize = 21;
const TREBLES: usize = 41;
const OUTER_BULL: usize = 61;
const BULL: usize = 62;

/// What each outcome scores.
#[allow(clippy::indexing_slicing, reason = "worked out while it is compiled")]
pub(super) const SCORES: [usize; OUTCOMES] = {
    let mut scores = [0; OUTCOMES];
    let mut number = 1;
    while number <= 20 {
        scores[SINGLES + number - 1] = number;
        scores[DOUBLES + number - 1] = 2 * number;
        scores[TREBLES + number - 1] = 3 * number;
        number += 1;
    }
    scores[OUTER_BULL] = 25;
    scores[BULL] = 50;
    scores
};

/// Whether a leg may end, or begin, on an outcome.
pub(super) const fn is_double(outcome: usize) -> bool {
    matches!(outcome, DOUBLES..TREBLES | BULL)
}

/// Whether any dart scores this.
pub(super) const fn is_score(score: usize) -> bool {
    score <= 20
        || score == 25
        || score == 50
        || (score <= 40 && score.is_multiple_of(2))
        || (score <= LARGEST && score.is_multiple_of(3))
}

/// Whether some darts, up to two, can score this together.
pub(super) fn reached(scored: usize, darts: usize) -> bool {
    match darts {
        0 => scored == 0,
        1 => is_score(scored),
        _ => (0..=scored).any(|first| is_score(first) && is_score(scored - first)),
    }
}

/// The outcome of a dart in a bed.
pub(super) fn outcome(bed: Bed) -> usize {
    let number = usize::from(bed.number()) - 1;
    match bed.band() {
        Band::InnerBull => BULL,
        Band::OuterBull => OUTER_BULL,
        Band::InnerSingle | Band::OuterSingle => SINGLES + number,
        Band::Treble => TREBLES + number,
        Band::Double => DOUBLES + number,
    }
}

/// One number for each outcome.
pub(super) type ByOutcome = [f64; OUTCOMES];

/// The probability of each outcome.
pub(super) fn chances(hits: &Hits) -> ByOutcome {
    let mut chances = [0.0; OUTCOMES];
    for (bed, probability) in hits.iter() {
        if let Some(chance) = chances.get_mut(outcome(bed)) {
            *chance += probability;
        }
    }
    if let Some(nothing) = chances.get_mut(NOTHING) {
        *nothing = hits.metal() + hits.outside();
    }
    chances
}

/// The mean of some values under some probabilities. In four sums side by
/// side, since a processor adds them at once.
pub(super) fn mean(chances: &ByOutcome, values: &ByOutcome) -> f64 {
    let (chances, _) = chances.as_chunks::<4>();
    let (values, _) = values.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (chances, values) in chances.iter().zip(values) {
        for ((sum, chance), value) in sums.iter_mut().zip(chances).zip(values) {
            *sum += chance * value;
        }
    }
    let [a, b, c, d] = sums;
    (a + b) + (c + d)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::play::Target;

    #[test]
    fn every_bed_comes_to_what_it_scores() {
        for target in Target::all() {
            for bed in target.beds() {
                let outcome = outcome(bed);
                assert_eq!(SCORES[outcome], usize::from(target.score()), "{bed}");
                assert_eq!(is_double(outcome), target.is_double(), "{bed}");
            }
        }
        let scores: std::collections::BTreeSet<usize> = SCORES.into_iter().collect();
        let possible: Vec<usize> = (0..=200).filter(|score| is_score(*score)).collect();
        assert_eq!(possible, scores.into_iter().collect::<Vec<_>>());
    }
}
