//! Whether values look as if they were normal.

use statrs::distribution::{ContinuousCDF, Normal};

use super::interval::normal_below;
use super::spread::{deviation, mean};

/// The statistic that normal values exceed in one run of a hundred (Stephens, in
/// D'Agostino and Stephens, Goodness-of-Fit Techniques, 1986, case 3, from memory).
pub const DOUBTFUL: f64 = 1.035;

/// How normal values look.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Normality {
    /// The statistic of Anderson and Darling for an estimated mean and spread, with
    /// Stephens's factor for the number of values.
    pub statistic: f64,
}

impl Normality {
    /// Whether they look as if they were not.
    pub fn is_doubtful(&self) -> bool {
        self.statistic > DOUBTFUL
    }

    /// Of so many values that the statistic means something (eight, as its author
    /// has it), and whose steps are no larger than their spread. House rule: values
    /// that rounding made alike are spread evenly over the step that they stand for,
    /// since ties alone would speak against them.
    pub(super) fn of(values: &[f64], step: Option<f64>) -> Option<Self> {
        let (mean, s) = (mean(values), deviation(values));
        if values.len() < 8 || step.is_none_or(|step| step > s) {
            return None;
        }
        let sorted = untied(values, step.unwrap_or_default());
        let n = sorted.len() as f64;
        let pairs = sorted.iter().zip(sorted.iter().rev()).enumerate();
        let sum: f64 = pairs
            .map(|(at, (low, high))| {
                let below = normal_below((low - mean) / s).max(f64::MIN_POSITIVE);
                let above = normal_below((mean - high) / s).max(f64::MIN_POSITIVE);
                (2.0 * at as f64 + 1.0) * (libm::log(below) + libm::log(above))
            })
            .sum();
        let plain = -n - sum / n;
        Some(Self {
            statistic: plain * (1.0 + 0.75 / n + 2.25 / (n * n)),
        })
    }
}

/// The values in rising order, those that are alike spread over a step.
fn untied(values: &[f64], step: f64) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let alike = sorted.chunk_by(|one, next| next - one < 0.5 * step);
    let spread = alike.flat_map(|group| {
        let count = group.len() as f64;
        let within = move |at: usize| ((at as f64 + 0.5) / count - 0.5) * step;
        group
            .iter()
            .enumerate()
            .map(move |(at, value)| value + within(at))
    });
    spread.collect()
}

/// What normal values in rising order may be expected at, in standard deviations:
/// the quantiles of (i − 3/8)/(n + 1/4) (Blom, 1958, from memory).
pub fn normal_scores(count: usize) -> Vec<f64> {
    let n = count as f64;
    let normal = Normal::standard();
    let score = |at: usize| normal.inverse_cdf((at as f64 + 0.625) / (n + 0.25));
    (0..count).map(score).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    #[test]
    fn one_sound_run_in_a_hundred_looks_doubtful() {
        // Seeded: 4000 runs of 100 each, unrounded and rounded to a tenth, a fifth and
        // a half of their deviation; four standard errors of 1 %, and rounding may
        // make it less.
        let mut random = Random::seeded(8);
        for (parts, least) in [(1e6, 0.0037), (10.0, 0.0037), (5.0, 0.0037), (2.0, 0.0)] {
            let mut doubtful = 0;
            for _ in 0..4000 {
                let round = |value: f64| libm::round(parts * value) / parts;
                let values: Vec<f64> = (0..100).map(|_| round(random.normal())).collect();
                let found = Normality::of(&values, Some(1.0 / parts)).expect("enough");
                doubtful += u32::from(found.is_doubtful());
            }
            let share = f64::from(doubtful) / 4000.0;
            assert!(share >= least && share <= 0.0163, "{parts}: {share}");
        }
    }

    #[test]
    fn skewed_values_are_doubtful() {
        let mut random = Random::seeded(9);
        let values: Vec<f64> = (0..100).map(|_| random.normal().exp()).collect();
        assert!(
            Normality::of(&values, Some(1e-3))
                .expect("enough")
                .is_doubtful()
        );
        assert_eq!(Normality::of(&values[..7], Some(1e-3)), None);
        assert_eq!(Normality::of(&values, Some(10.0)), None);
    }

    #[test]
    fn scores_are_those_in_print() {
        // Blom's approximation of five: 1.18, 0.50, 0 (recomputed: the quantiles of
        // 4.625/5.25 and 3.625/5.25).
        let scores = normal_scores(5);
        for (score, expected) in scores.iter().zip([-1.1798, -0.4972, 0.0, 0.4972, 1.1798]) {
            assert!((score - expected).abs() < 1e-3, "{scores:?}");
        }
    }
}
