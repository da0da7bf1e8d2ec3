//! The probability that a board meets all its limits at once.
//!
//! Checks that share lengths, wires or an instrument are not independent. Each
//! check's own distribution is kept and the dependence is that of normal
//! numbers with the same correlations; their joint probability is integrated
//! after Genz (J. Comp. Graph. Statist. 1, 1992, from memory).

use statrs::distribution::{ContinuousCDF, Normal};

use super::{Amount, Assessment, BandOutcome, BoundsOrigin, Decided, Outcome, Verdict};
use crate::board::{Assumption, Linear};
use crate::units::{Length, Percent, Uncertainty};

/// Points of the lattice, each used with its mirror image. House rule: the
/// result is then good to about three digits.
const POINTS: usize = 400;

/// Bounds this close together are an answer.
const CLOSE: f64 = 5e-4;

/// A check as an interval in standard uncertainties about its value.
struct Interval {
    form: Linear,
    standard: f64,
    lower: f64,
    upper: f64,
    probability: f64,
}

impl Assessment<'_> {
    /// The probability that the board meets every limit on a length and every
    /// limit on an area that the table itself sets, as far as they were checked:
    /// what each check says by itself, taken together with the correlations.
    /// Limits on areas that are derived from the others add nothing. What beds and
    /// sectors share through the bearings of their wires counts as independent.
    ///
    /// `None` where nothing was checked, or a check has no probability because
    /// the file gives no ground for an uncertainty, or lengths contradict one
    /// another.
    pub fn probability(&self) -> Option<f64> {
        let mut checks = Vec::new();
        let mut looked_up = 0;
        for finding in &self.limits {
            match &finding.outcome {
                Outcome::Length(length) => {
                    if length.contradiction.is_some() {
                        return None;
                    }
                    let mm = |limit: Option<Length>| limit.map(Length::as_mm);
                    let limits = (mm(length.interval.lower), mm(length.interval.upper));
                    let mut check = |form: &Linear, value: Length, u, decided: Decided| {
                        let p = decided.probability?;
                        checks.push(Interval::of(form.clone(), value.as_mm(), u?, limits, p));
                        Some(())
                    };
                    if length.at.is_some() {
                        for place in &length.places {
                            check(&place.form, place.value, place.uncertainty, place.decided)?;
                        }
                    } else {
                        check(
                            &length.form,
                            length.value,
                            length.uncertainty,
                            length.decided,
                        )?;
                    }
                }
                Outcome::Mounting { verdict, .. } => {
                    looked_up += 1;
                    if *verdict != Verdict::Conforms {
                        return Some(0.0);
                    }
                }
                Outcome::Bed(found) => {
                    for bed in &found.all {
                        let number = |amount: Option<Amount>| amount.map(Amount::number);
                        checks.push(Interval::of(
                            bed.slopes.clone(),
                            bed.value.number(),
                            bed.uncertainty?,
                            (number(bed.lower), number(bed.upper)),
                            bed.decided.probability?,
                        ));
                    }
                }
                Outcome::NotChecked(_) => {}
            }
        }
        for finding in &self.bands {
            let BandOutcome::Compared(band) = &finding.outcome else {
                continue;
            };
            let Some(bounds) = &band.bounds else { continue };
            if !matches!(bounds.origin, BoundsOrigin::Given(_)) {
                continue;
            }
            let percent = |bound: Option<Percent>| bound.map(Percent::value);
            let slopes = band.free.slopes();
            checks.push(Interval::of(
                Linear::default().plus(100.0 / band.nominal.as_mm2(), &slopes),
                band.deviation.value(),
                band.uncertainty?,
                (percent(bounds.lower), percent(bounds.upper)),
                band.probability?,
            ));
        }
        if checks.is_empty() {
            return (looked_up > 0).then_some(1.0);
        }
        Some(joint(checks, |a, b| {
            a.covariance(b, &self.construction.inputs, Assumption::Common)
        }))
    }
}

impl Interval {
    fn of(
        form: Linear,
        value: f64,
        uncertainty: Uncertainty,
        limits: (Option<f64>, Option<f64>),
        probability: f64,
    ) -> Self {
        let u = uncertainty.standard();
        // The normal number that as many lie below.
        let score = |limit: f64| {
            let z = (limit - value) / u;
            if uncertainty.degrees_of_freedom().is_infinite() {
                z
            } else {
                quantile(uncertainty.probability_below(z))
            }
        };
        Self {
            form,
            standard: u,
            lower: limits.0.map_or(f64::NEG_INFINITY, score),
            upper: limits.1.map_or(f64::INFINITY, score),
            probability,
        }
    }
}

/// The joint probability, `covariance` being that of two forms.
fn joint(mut checks: Vec<Interval>, covariance: impl Fn(&Linear, &Linear) -> f64) -> f64 {
    // Certain either way without the correlations (Bonferroni).
    let doubts: f64 = checks.iter().map(|check| 1.0 - check.probability).sum();
    let least = checks
        .iter()
        .map(|check| check.probability)
        .fold(1.0, f64::min);
    let lower = (1.0 - doubts).max(0.0);
    if least - lower < CLOSE {
        return f64::midpoint(least, lower);
    }
    // What is known exactly has been decided already.
    checks.retain(|check| check.standard > 0.0);
    // The narrowest interval first keeps the integrand smooth.
    checks.sort_by(|a, b| a.probability.total_cmp(&b.probability));
    let correlation =
        |a: &Interval, b: &Interval| covariance(&a.form, &b.form) / (a.standard * b.standard);
    let matrix: Vec<Vec<f64>> = checks
        .iter()
        .enumerate()
        .map(|(i, a)| checks.iter().take(i).map(|b| correlation(a, b)).collect())
        .collect();
    let independent = matrix.iter().flatten().all(|r| r.abs() < 1e-9);
    let joint = if independent {
        checks.iter().map(|check| check.probability).product()
    } else {
        integral(&checks, &root(&matrix))
    };
    joint.clamp(lower, least)
}

/// The lower triangle L with L·Lᵀ the correlation matrix, whose own lower
/// triangle is given without its diagonal of ones. Rows that depend on earlier
/// ones end in zero.
fn root(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let mut root: Vec<Vec<f64>> = Vec::with_capacity(matrix.len());
    for correlations in matrix {
        let mut row: Vec<f64> = Vec::with_capacity(correlations.len() + 1);
        for (earlier, &correlation) in root.iter().zip(correlations) {
            let inner: f64 = earlier.iter().zip(&row).map(|(a, b)| a * b).sum();
            let pivot = earlier.last().copied().unwrap_or(0.0);
            row.push(if pivot > 0.0 {
                (correlation - inner) / pivot
            } else {
                0.0
            });
        }
        let used: f64 = row.iter().map(|x| x * x).sum();
        let left = 1.0 - used;
        row.push(if left > 1e-10 { libm::sqrt(left) } else { 0.0 });
        root.push(row);
    }
    root
}

/// The share of normal numbers within all the intervals, over a lattice of
/// points (Richtmyer; roots of primes).
fn integral(checks: &[Interval], root: &[Vec<f64>]) -> f64 {
    let steps: Vec<f64> = primes().take(checks.len()).map(libm::sqrt).collect();
    let mut sum = 0.0;
    for point in 1..=POINTS {
        for mirrored in [false, true] {
            let at = |dimension: usize| {
                let step = steps.get(dimension).copied().unwrap_or(0.5);
                let share = (point as f64 * step).fract();
                let folded = (2.0 * share - 1.0).abs();
                if mirrored { 1.0 - folded } else { folded }
            };
            sum += share(checks, root, at);
        }
    }
    sum / (2 * POINTS) as f64
}

/// One point's share: the product of the conditional probabilities.
fn share(checks: &[Interval], root: &[Vec<f64>], at: impl Fn(usize) -> f64) -> f64 {
    /// What rounding leaves of an interval's end.
    const ROUNDING: f64 = 1e-6;
    let mut drawn: Vec<f64> = Vec::with_capacity(checks.len());
    let mut product = 1.0;
    for (index, (check, row)) in checks.iter().zip(root).enumerate() {
        let mean: f64 = row.iter().zip(&drawn).map(|(factor, y)| factor * y).sum();
        let own = row.last().copied().unwrap_or(0.0);
        if own == 0.0 {
            // It follows from the others.
            if mean < check.lower - ROUNDING || mean > check.upper + ROUNDING {
                return 0.0;
            }
            drawn.push(0.0);
            continue;
        }
        let below = cumulative((check.lower - mean) / own);
        let within = cumulative((check.upper - mean) / own) - below;
        product *= within;
        if product <= 0.0 {
            return 0.0;
        }
        drawn.push(quantile(below + at(index) * within));
    }
    product
}

fn cumulative(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The normal number below which a share of all lies, no farther out than
/// arithmetic can tell.
fn quantile(share: f64) -> f64 {
    Normal::standard().inverse_cdf(share.clamp(1e-300, 1.0 - 1e-16))
}

fn primes() -> impl Iterator<Item = f64> {
    let is_prime = |&n: &u32| (2..n).take_while(|d| d * d <= n).all(|d| n % d != 0);
    (2..).filter(is_prime).map(f64::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::InputId;

    fn interval(input: usize, lower: f64, upper: f64) -> Interval {
        Interval::of(
            Linear::input(InputId::new(input), 1.0),
            0.0,
            Uncertainty::finite(1.0),
            (Some(lower), Some(upper)),
            cumulative(upper) - cumulative(lower),
        )
    }

    /// Equal correlations between all different inputs.
    fn equal(rho: f64) -> impl Fn(&Linear, &Linear) -> f64 {
        move |a, b| if a == b { 1.0 } else { rho }
    }

    #[test]
    fn orthants_of_equal_correlation_one_half() {
        // Published: with correlation 1/2 the positive orthant of n normal
        // numbers has probability 1/(n + 1) (Sheppard for two: 1/4 + asin ρ/2π).
        for n in [2, 3, 5, 8] {
            let orthant = (0..n).map(|i| interval(i, 0.0, f64::INFINITY)).collect();
            let found = joint(orthant, equal(0.5));
            let expected = 1.0 / (n as f64 + 1.0);
            assert!((found - expected).abs() < 2e-3, "{n}: {found}");
        }
    }

    #[test]
    fn independent_checks_multiply() {
        let checks = (0..16)
            .map(|i| interval(i, f64::NEG_INFINITY, 1.92))
            .collect();
        let found = joint(checks, equal(0.0));
        // Recomputed independently: 0.972571^16.
        assert!((found - 0.6408).abs() < 5e-4, "{found}");
    }

    #[test]
    fn the_same_length_twice_counts_once() {
        let one = cumulative(1.0) - cumulative(-1.0);
        let checks = vec![interval(0, -1.0, 1.0), interval(1, -1.0, 1.0)];
        assert!((joint(checks, equal(1.0)) - one).abs() < 1e-9);
    }
}
