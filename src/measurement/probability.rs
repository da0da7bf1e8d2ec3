//! Tail probabilities of the usual test statistics, and Holm's correction for
//! many tests. Nothing here panics: what cannot be computed has probability 1,
//! so that it is never reported as a finding.

use statrs::function::beta::checked_beta_reg;
use statrs::function::gamma::checked_gamma_ur;

/// From so many degrees of freedom on, Fisher's F is taken as chi-square and
/// Student's t as normal: tail probabilities near 1 % then differ by less than
/// 0.1 % of themselves.
const MANY: f64 = 1e4;

/// Steps of the integral over what a variance may be: the tails of F come out
/// to nine digits.
const NODES: u16 = 180;

/// The probability of a chi-square of at least `x` on so many degrees of
/// freedom.
pub(super) fn chi_square_beyond(x: f64, degrees: f64) -> f64 {
    if x == f64::INFINITY {
        return 0.0;
    }
    if x.is_nan() || x <= 0.0 {
        return 1.0;
    }
    checked_gamma_ur(degrees / 2.0, x / 2.0).map_or(1.0, sound)
}

/// The probability of Fisher's F of at least `x`: I with argument ν₂/(ν₂ + ν₁x)
/// of the regularised incomplete beta function, at ν₂/2 and ν₁/2 (Abramowitz
/// and Stegun, 26.6.2, from memory).
pub(super) fn f_beyond(x: f64, numerator: f64, denominator: f64) -> f64 {
    if denominator > MANY {
        return chi_square_beyond(x * numerator, numerator);
    }
    if x == f64::INFINITY {
        return 0.0;
    }
    if x.is_nan() || x <= 0.0 {
        return 1.0;
    }
    let argument = denominator / (denominator + numerator * x);
    checked_beta_reg(denominator / 2.0, numerator / 2.0, argument).map_or(1.0, sound)
}

/// What the variance behind an estimate on so many degrees of freedom may be, as
/// multiples of the estimate with their weights, which add up to 1: ν/χ²
/// (JCGM 101, 6.4.9.2, from memory). The nodes of the trapezoidal rule over
/// ln χ², whose density falls off exponentially to one side and faster to the
/// other, so that it converges as fast as Gauss's would.
pub(super) fn variance_ratios(degrees: f64) -> Vec<(f64, f64)> {
    // Written so that what is not a number is taken as known, too.
    if !(degrees > 0.0 && degrees <= MANY) {
        return vec![(1.0, 1.0)];
    }
    // What lies beyond has a probability below 1e-12.
    let deviation = libm::sqrt(2.0 / degrees);
    let least = libm::log(degrees) - 56.0 / degrees - 8.0 * deviation;
    let most = libm::log(degrees + 12.0 * libm::sqrt(2.0 * degrees) + 56.0);
    let step = (most - least) / f64::from(NODES);
    let peak = degrees / 2.0 * (libm::log(degrees) - 1.0);
    let node = |node: u16| {
        let logarithm = least + step * f64::from(node);
        let chi_square = libm::exp(logarithm);
        let weight = libm::exp(degrees / 2.0 * logarithm - chi_square / 2.0 - peak);
        (degrees / chi_square, weight)
    };
    let weighted = (0..=NODES).map(node).filter(|(_, weight)| *weight > 1e-14);
    let weighted: Vec<(f64, f64)> = weighted.collect();
    let whole: f64 = weighted.iter().map(|(_, weight)| weight).sum();
    let share = |(multiple, weight): (f64, f64)| (multiple, weight / whole);
    weighted.into_iter().map(share).collect()
}

/// The probability that Student's t is at least `t` away from zero, to either
/// side: t² is F with 1 and ν degrees of freedom.
pub(super) fn t_beyond(t: f64, degrees: f64) -> f64 {
    f_beyond(t * t, 1.0, degrees)
}

fn sound(probability: f64) -> f64 {
    if probability.is_nan() {
        1.0
    } else {
        probability.clamp(0.0, 1.0)
    }
}

/// Probabilities of several tests, corrected so that the probability of even
/// one false finding among all of them stays below the level with which each
/// is compared, whatever the tests have in common (Holm, Scand. J. Statist. 6,
/// 1979, from memory): the smallest times m, the next times m − 1, and none
/// below the one before it.
pub(super) fn holm(probabilities: &[f64]) -> Vec<f64> {
    let mut order: Vec<(usize, f64)> = probabilities.iter().copied().enumerate().collect();
    order.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut least = 0.0_f64;
    let mut corrected: Vec<(usize, f64)> = Vec::with_capacity(order.len());
    let mut left = order.len() as f64;
    for (index, probability) in order {
        least = least.max((probability * left).min(1.0));
        left -= 1.0;
        corrected.push((index, least));
    }
    corrected.sort_by_key(|entry| entry.0);
    corrected.into_iter().map(|entry| entry.1).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails_are_those_of_scipy() {
        // Recomputed independently with scipy 1.x: stats.chi2.sf, f.sf, t.sf.
        let close = |value: f64, expected: f64| {
            assert!((value / expected - 1.0).abs() < 1e-9, "{value} {expected}");
        };
        close(chi_square_beyond(50.0 / 9.0, 2.0), 0.062_176_524_022);
        close(f_beyond(4.0, 2.0, 34.0), 0.027_536_177_529_8);
        close(f_beyond(25.0, 1.0, 18.0), 9.284_142_557_37e-5);
        close(t_beyond(12.706_204_736_432_095, 1.0), 0.05);
        close(t_beyond(6.0, 5.0), 0.001_846_138_289_594);
    }

    #[test]
    fn an_estimated_variance_gives_fisher() {
        // Exact: F with k − 1 and ν degrees of freedom is the mean of chi-square's
        // tail over ν/χ²(ν), and that of one degree is Student's t.
        for degrees in [1.0, 2.0, 5.0, 12.5, 90.0, 3000.0] {
            for f in [0.3, 2.0, 9.0, 60.0] {
                let ratios = variance_ratios(degrees).into_iter();
                let of = |(ratio, weight)| weight * chi_square_beyond(2.0 * f / ratio, 2.0);
                let mean: f64 = ratios.map(of).sum();
                let exact = f_beyond(f, 2.0, degrees);
                assert!((mean - exact).abs() < 1e-9, "{mean} {exact}");
            }
        }
        for known in [f64::INFINITY, f64::NAN, 0.0] {
            assert_eq!(variance_ratios(known), [(1.0, 1.0)]);
        }
    }

    #[test]
    fn many_degrees_of_freedom_go_over_into_chi_square() {
        let f = f_beyond(3.0, 2.0, MANY);
        let chi = f_beyond(3.0, 2.0, f64::INFINITY);
        assert!((f / chi - 1.0).abs() < 1e-3, "{f} {chi}");
    }

    #[test]
    fn what_cannot_be_computed_is_never_a_finding() {
        for x in [f64::NAN, -1.0, 0.0] {
            assert!((f_beyond(x, 1.0, 3.0) - 1.0).abs() < 1e-12);
        }
        assert!((f_beyond(2.0, 0.0, 3.0) - 1.0).abs() < 1e-12);
        assert!((f_beyond(2.0, 1.0, f64::NAN) - 1.0).abs() < 1e-12);
        assert!(t_beyond(f64::INFINITY, 2.0) < 1e-12);
    }

    #[test]
    fn holm_by_hand() {
        // By hand: 4 × 0.01, then 3 × 0.02 = 0.06, 2 × 0.03 = 0.06, 0.5.
        let corrected = holm(&[0.5, 0.01, 0.03, 0.02]);
        for (value, expected) in corrected.iter().zip([0.5, 0.04, 0.06, 0.06]) {
            assert!((value - expected).abs() < 1e-12, "{corrected:?}");
        }
        assert!(holm(&[]).is_empty());
    }
}
