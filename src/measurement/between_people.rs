//! The variance between people that their stated uncertainties do not explain.

use super::least_squares::{Errors, Fit, fit};

/// Halvings of the interval in which the variance lies: the last one is below
/// what a double can tell.
const HALVINGS: usize = 60;

/// The variance τ² with which the generalised χ² about the mean is what it
/// should be, k − 1, and the least-squares fit with it; zero if χ² is no larger
/// without (Mandel and Paule, Anal. Chem. 42, 1970, from memory; the same
/// condition where some errors are common). `None` if a variance is missing.
pub(super) fn mandel_paule(values: &[f64], errors: &[Errors]) -> Option<(f64, Fit)> {
    let with = |variance: f64| {
        let widened = errors.iter().map(|error| Errors {
            own: error.own + variance,
            ..*error
        });
        fit(values, &widened.collect::<Vec<Errors>>())
    };
    let expected = values.len() as f64 - 1.0;
    let alone = with(0.0)?;
    // One person differs from nobody: what rounding leaves of χ² is not above 0.
    if values.len() < 2 || alone.chi_square <= expected {
        return Some((0.0, alone));
    }
    // χ² falls as the variance grows, and is below the sum of squares over it.
    let middle = values.iter().sum::<f64>() / values.len() as f64;
    let squares: f64 = values.iter().map(|x| (x - middle) * (x - middle)).sum();
    let (mut below, mut above) = (0.0, squares / expected);
    for _ in 0..HALVINGS {
        let half = f64::midpoint(below, above);
        if with(half)?.chi_square > expected {
            below = half;
        } else {
            above = half;
        }
    }
    Some((above, with(above)?))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;

    fn apart(variances: &[f64]) -> Vec<Errors> {
        let errors = variances
            .iter()
            .enumerate()
            .map(|(instrument, &own)| Errors {
                own,
                common: 0.0,
                instrument,
            });
        errors.collect()
    }

    #[test]
    fn nine_published_results() {
        // The nine results of the example of statsmodels' combine_effects
        // (published there); τ² by scipy's brentq, to which its iterated method
        // agrees in five digits.
        let values = [61.0, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9];
        let variances = [
            0.2025, 1.21, 0.09, 0.2256, 0.3844, 0.5625, 0.8464, 0.2256, 1.8225,
        ];
        let (variance, fit) = mandel_paule(&values, &apart(&variances)).expect("sound");
        assert!((variance - 0.680_211_903_04).abs() < 1e-9, "{variance}");
        assert!((fit.mean - 62.363_998_527_07).abs() < 1e-9);
        assert!((fit.weights[0] - 0.142_198_56).abs() < 1e-8);
        assert!((fit.chi_square - 8.0).abs() < 1e-9);
    }

    #[test]
    fn two_results_by_hand() {
        // (a − b)²/2 less the mean of the two variances, 0.18 − 0.01.
        let (variance, _) = mandel_paule(&[8.0, 8.6], &apart(&[0.01, 0.01])).expect("sound");
        assert!((variance - 0.17).abs() < 1e-12, "{variance}");
        let (none, _) = mandel_paule(&[8.0, 8.1], &apart(&[0.01, 0.01])).expect("sound");
        assert!(none.abs() < 1e-300);
    }

    #[test]
    fn one_result_differs_from_nobody() {
        // With some values rounding leaves a χ² above the 0 that is expected.
        for hundredths in 0..2000 {
            let value = 8.0 + f64::from(hundredths) / 300.0;
            let errors = [Errors {
                own: 0.013 * 0.013,
                common: 0.0003,
                instrument: 0,
            }];
            let (variance, fit) = mandel_paule(&[value], &errors).expect("sound");
            assert!(variance.abs() < 1e-300 && (fit.mean - value).abs() < 1e-12);
        }
    }

    #[test]
    fn what_one_instrument_has_in_common_explains_nothing() {
        let errors = [0.01, 0.01].map(|own| Errors {
            own,
            common: 1.0,
            instrument: 0,
        });
        let (variance, _) = mandel_paule(&[8.0, 8.6], &errors).expect("sound");
        assert!((variance - 0.17).abs() < 1e-12, "{variance}");
    }
}
