//! Generalised least squares of several results of one quantity, some of which
//! share an instrument's error.

/// What is known of one result's error: a variance of its own, and that of an
/// error which it has in common with all results of one instrument.
#[derive(Clone, Copy, Debug)]
pub(super) struct Errors {
    pub(super) own: f64,
    pub(super) common: f64,
    pub(super) instrument: usize,
}

/// The least-squares mean.
#[derive(Clone, Debug)]
pub(super) struct Fit {
    /// The weight of each result; they add up to 1 and none is negative.
    pub(super) weights: Vec<f64>,
    pub(super) mean: f64,
    /// The generalised sum of squared residuals, on one degree of freedom less
    /// than there are results.
    pub(super) chi_square: f64,
}

/// The generalised least-squares mean for the covariance diag(own) + common
/// within each instrument (Aitken; any text on adjustment). The inverse of one
/// instrument's block is known in closed form (Sherman and Morrison, Ann. Math.
/// Statist. 21, 1950): its users give a mean weighted by 1/own with the
/// variance 1/Σ(1/own) + common, and these means are weighted again. `None` if
/// nothing is given or a variance that is needed is not positive.
pub(super) fn fit(values: &[f64], errors: &[Errors]) -> Option<Fit> {
    let mut instruments: Vec<usize> = errors.iter().map(|error| error.instrument).collect();
    instruments.sort_unstable();
    instruments.dedup();
    let mut blocks = Vec::with_capacity(instruments.len());
    for &instrument in &instruments {
        let users = || {
            let both = values.iter().zip(errors);
            both.filter(move |(_, error)| error.instrument == instrument)
        };
        // Whoever describes one instrument by two bounds means the larger.
        let common = users().map(|(_, error)| error.common).fold(0.0, f64::max);
        let alone = users().count() == 1;
        let inverse = |error: &Errors| if alone { 1.0 } else { 1.0 / error.own };
        let whole: f64 = users().map(|(_, error)| inverse(error)).sum();
        let mean = users().map(|(x, error)| inverse(error) * x).sum::<f64>() / whole;
        let own = if alone {
            users().map(|(_, error)| error.own).sum()
        } else {
            1.0 / whole
        };
        let within: f64 = if alone {
            0.0
        } else {
            let square = |(x, error): (&f64, &Errors)| inverse(error) * (x - mean) * (x - mean);
            users().map(square).sum()
        };
        let weight = 1.0 / (own + common);
        if !(whole.is_finite() && weight.is_finite() && weight > 0.0) {
            return None;
        }
        blocks.push((instrument, whole, mean, within, weight, alone));
    }
    let total: f64 = blocks.iter().map(|block| block.4).sum();
    let mean = blocks.iter().map(|block| block.4 * block.2).sum::<f64>() / total;
    let between = |block: &(usize, f64, f64, f64, f64, bool)| {
        block.3 + block.4 * (block.2 - mean) * (block.2 - mean)
    };
    let chi_square = blocks.iter().map(between).sum();
    let weights = errors.iter().map(|error| {
        let block = blocks.iter().find(|block| block.0 == error.instrument)?;
        let share = if block.5 {
            1.0
        } else {
            1.0 / (error.own * block.1)
        };
        Some(block.4 / total * share)
    });
    let weights: Vec<f64> = weights.collect::<Option<_>>()?;
    (mean.is_finite() && !weights.is_empty()).then_some(Fit {
        weights,
        mean,
        chi_square,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;

    fn errors(own: f64, common: f64, instrument: usize) -> Errors {
        Errors {
            own: own * own,
            common: common * common,
            instrument,
        }
    }

    fn close(value: f64, expected: f64) {
        assert!((value - expected).abs() < 1e-8, "{value} is not {expected}");
    }

    #[test]
    fn the_same_as_with_whole_matrices() {
        // Recomputed independently with numpy: V = diag(own²) + common² within
        // an instrument, weights V⁻¹1/(1'V⁻¹1), χ² = r'V⁻¹r.
        let values = [8.00, 8.02, 8.05, 7.97];
        let errors = [
            errors(0.01, 0.02, 0),
            errors(0.02, 0.02, 0),
            errors(0.015, 0.03, 1),
            errors(0.01, 0.03, 2),
        ];
        let fit = fit(&values, &errors).expect("sound");
        let expected = [0.419_580_42, 0.104_895_1, 0.223_776_22, 0.251_748_25];
        for (weight, expected) in fit.weights.iter().zip(expected) {
            close(*weight, expected);
        }
        close(fit.mean, 8.005_734_265_734);
        close(fit.chi_square, 3.824_941_724_9);
    }

    #[test]
    fn the_weighted_mean_of_three() {
        // By hand: 10.144444, χ² 50/9.
        let apart = [
            errors(0.1, 0.0, 0),
            errors(0.1, 0.0, 1),
            errors(0.2, 0.0, 2),
        ];
        let fit = fit(&[10.0, 10.2, 10.5], &apart).expect("sound");
        close(fit.mean, 10.144_444_444_4);
        close(fit.chi_square, 50.0 / 9.0);
    }

    #[test]
    fn what_has_no_variance_has_no_mean() {
        let none = errors(0.0, 0.0, 0);
        assert!(fit(&[], &[]).is_none());
        assert!(fit(&[8.0], &[none]).is_none());
        assert!(fit(&[8.0, 8.1], &[none, errors(0.0, 0.1, 1)]).is_none());
        assert!(fit(&[8.0, 8.1], &[errors(0.0, 0.1, 0), errors(0.1, 0.1, 0)]).is_none());
        assert!(fit(&[8.0], &[errors(0.0, 0.1, 0)]).is_some());
        assert!(fit(&[8.0], &[errors(f64::NAN, 0.1, 0)]).is_none());
    }
}
