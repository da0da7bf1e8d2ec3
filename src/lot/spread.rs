//! Means and standard deviations: of all values, and of successive ones.

use super::interval::beta_quantile;
use super::summary::{Extreme, Outside, Summary};

/// The mean of the range of two normal values, 2/√π standard deviations (ISO
/// 7870-2 and NIST/SEMATECH e-Handbook 6.3.2.2 have it as d₂ = 1.128, from memory).
const D2: f64 = std::f64::consts::FRAC_2_SQRT_PI;

/// Values that differ by less are one and the same: a nanometre, or a millionth of
/// a percent. House rule.
const SAME: f64 = 1e-6;

/// The mean; zero of no values.
pub(super) fn mean(values: &[f64]) -> f64 {
    let first = values.first().copied().unwrap_or_default();
    let sum: f64 = values.iter().map(|value| value - first).sum();
    first + sum / (values.len() as f64).max(1.0)
}

/// The standard deviation about the mean, on n − 1.
pub(super) fn deviation(values: &[f64]) -> f64 {
    let mean = mean(values);
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    libm::sqrt(squares / (values.len() as f64 - 1.0).max(1.0))
}

/// The standard deviation by the mean difference of successive values, which a
/// slow drift hardly touches, and its degrees of freedom: those of a root of
/// chi-square with the same relative variance, (0.8264 n − 1.082)/(n − 1)² (Cryer
/// and Ryan, J. Qual. Tech. 22, 1990, from memory).
pub(super) fn successive(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let ranges = values.windows(2).map(|pair| match pair {
        [one, next] => (next - one).abs(),
        _ => 0.0,
    });
    let mean = ranges.sum::<f64>() / (n - 1.0).max(1.0);
    let variance = (0.8264 * n - 1.082) / (n - 1.0).max(1.0).powi(2);
    (mean / D2, 1.0 / (2.0 * variance.max(f64::MIN_POSITIVE)))
}

/// The least difference between values that are not the same.
fn step(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let gaps = sorted.windows(2).map(|pair| match pair {
        [one, next] => next - one,
        _ => 0.0,
    });
    gaps.filter(|gap| *gap > SAME).reduce(f64::min)
}

/// The median.
pub(super) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    let upper = sorted.get(half).copied().unwrap_or_default();
    if sorted.len() % 2 == 1 {
        return upper;
    }
    let lower = sorted.get(half.wrapping_sub(1)).copied().unwrap_or(upper);
    0.5 * (lower + upper)
}

/// What there is to say of values and the places of their boards.
pub(super) fn summary(values: &[f64], places: &[usize]) -> Option<Summary> {
    let all = || values.iter().zip(places);
    let extreme = |(&value, &board): (&f64, &usize)| Extreme { value, board };
    let smallest = all().reduce(|a, b| if b.0 < a.0 { b } else { a })?;
    let largest = all().reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    Some(Summary {
        mean: mean(values),
        deviation: deviation(values),
        smallest: extreme(smallest),
        largest: extreme(largest),
        step: step(values),
    })
}

/// So many of so many.
pub(super) fn outside(count: usize, of: usize) -> Option<Outside> {
    if of == 0 {
        return None;
    }
    let (k, n) = (count as f64, of as f64);
    let lower = if count == 0 {
        0.0
    } else {
        beta_quantile(k, n - k + 1.0, 0.025)
    };
    let upper = if count == of {
        1.0
    } else {
        beta_quantile(k + 1.0, n - k, 0.975)
    };
    Some(Outside {
        count,
        share: k / n,
        interval: (lower, upper),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    #[test]
    fn values_by_hand() {
        // By hand: mean 4, squares 9 + 1 + 4 + 4 = 18, 18/3 = 6.
        let values = [1.0, 3.0, 6.0, 6.0];
        assert!((mean(&values) - 4.0).abs() < 1e-12);
        assert!((deviation(&values) - libm::sqrt(6.0)).abs() < 1e-12);
        // Ranges 2, 3 and 0, over d₂ = 1.128 in print.
        let (s, _) = successive(&values);
        assert!((s - 5.0 / 3.0 / 1.128).abs() < 1e-3);
        assert!((median(&values) - 4.5).abs() < 1e-12);
        assert_eq!(step(&values), Some(2.0));
        assert_eq!(step(&[8.0, 8.0, 8.0 + 1e-12]), None);
        let found = summary(&values, &[0, 1, 2, 5]).expect("values");
        assert_eq!((found.smallest.board, found.largest.board), (0, 2));
    }

    #[test]
    fn the_scatter_of_the_successive_estimate_is_as_said() {
        // Seeded: the relative variance of the estimate over 4000 runs, to 10 %.
        let mut random = Random::seeded(11);
        for n in [20_u32, 100] {
            let estimates: Vec<f64> = (0..4000)
                .map(|_| successive(&(0..n).map(|_| random.normal()).collect::<Vec<_>>()).0)
                .collect();
            let (m, s) = (mean(&estimates), deviation(&estimates));
            let (_, degrees) = successive(&vec![0.0; usize::try_from(n).expect("small")]);
            assert!((m - 1.0).abs() < 0.01, "{m}");
            assert!(
                (s * s * 2.0 * degrees - 1.0).abs() < 0.1,
                "{n} {s} {degrees}"
            );
        }
    }

    #[test]
    fn a_share_has_the_exact_interval_of_a_binomial() {
        // Clopper and Pearson of 0 of 20 and of 2 of 20, recomputed by the closed
        // form 1 − 0.025^(1/20) and by bisection on the binomial sum.
        let none = outside(0, 20).expect("a share");
        assert_eq!(none.interval.0.to_bits(), 0.0_f64.to_bits());
        assert!((none.interval.1 - (1.0 - libm::pow(0.025, 0.05))).abs() < 1e-9);
        let two = outside(2, 20).expect("a share");
        let at_most_two = |p: f64| {
            let q = 1.0 - p;
            q.powi(20) + 20.0 * p * q.powi(19) + 190.0 * p * p * q.powi(18)
        };
        let at_least_two = |p: f64| 1.0 - (1.0 - p).powi(20) - 20.0 * p * (1.0 - p).powi(19);
        assert!((at_most_two(two.interval.1) - 0.025).abs() < 1e-9);
        assert!((at_least_two(two.interval.0) - 0.025).abs() < 1e-9);
    }
}
