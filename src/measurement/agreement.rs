//! Do several people agree, on all rows of a sheet together?

use super::contribution::{Contribution, assumptions};
use super::least_squares::{Errors, Fit, fit};
use super::probability::{chi_square_beyond, f_beyond, holm, variance_ratios};
use crate::units::Uncertainty;

/// How rarely a sheet on which people agree has any row disputed. House rule:
/// the usual 5 %.
pub const SHEET_LEVEL: f64 = 0.05;

/// How well the results of one row agree.
#[derive(Clone, Debug, PartialEq)]
pub struct RowAgreement {
    /// The generalised sum of squared residuals about the least-squares mean.
    pub chi_square: f64,
    /// Results less one.
    pub degrees_of_freedom: f64,
    /// The degrees of freedom with which the scatter is known; infinite if it
    /// is taken as known.
    pub of_the_scatter: f64,
    /// The probability of a sum that large, if nothing but the stated
    /// uncertainties were at work.
    pub probability: f64,
    /// The same, corrected for the number of rows.
    pub corrected: f64,
    /// √(χ²/ν): by how much the uncertainties would have to be larger.
    pub birge_ratio: f64,
    /// Each pair of results.
    pub pairs: Vec<Pair>,
}

/// Two results of one row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The index of one.
    pub first: usize,
    /// The index of the other.
    pub second: usize,
    /// `E_n` = (a − b) / U of the difference, with k = 2 (ISO 13528:2022,
    /// E.4). Shown, not decided by: with several pairs and rows one of them is
    /// soon above 1.
    pub e_n: f64,
}

impl RowAgreement {
    /// Whether people disagree, at one error rate for the whole sheet.
    pub fn disputed(&self) -> bool {
        self.corrected < SHEET_LEVEL
    }
}

/// Tests for each row of a sheet whether its results agree; `None` where fewer
/// than two can be compared, or somebody's uncertainty is not known.
///
/// The statistic is the generalised least-squares χ², in which an error that two
/// share cancels. Where all have the same pooled repeatability s on ν degrees of
/// freedom, its probability is the mean over what the variance behind s² may be,
/// ν·s²/χ²(ν) (JCGM 101, 6.4.9.2, from memory). With nothing but scatter this is
/// Fisher's F, with nothing but known errors chi-square, and in between the
/// solution of Behrens and Fisher where one of two variances is known, which
/// does not exceed its level (Robinson, Ann. Statist. 4, 1976, from memory).
/// Effective degrees of freedom after Welch and Satterthwaite would do the
/// opposite of what is wanted: where s is small by chance, the known part looks
/// large, so they rise just where a difference looks significant, and up to 7 %
/// of sound sheets of a single row were disputed.
///
/// Where people keep their own repeatability it is Welch's (Biometrika 38, 1951,
/// from memory); give contributions with [`super::SheetRepeatability::to_compare`],
/// so that few do by chance. The probabilities of all rows are corrected after
/// Holm. The bias that each person's touch may have is not part of it: a dispute
/// says that people differ by more than scatter and instruments explain, and
/// with many readings a touch does. Where it is not known which instruments are
/// the same, the assumption counts with which the results agree best.
pub fn agreement(rows: &[Vec<Contribution>]) -> Vec<Option<RowAgreement>> {
    let mut tested: Vec<Option<RowAgreement>> = rows.iter().map(|row| of_row(row)).collect();
    let found = tested.iter().flatten().map(|row| row.probability);
    let corrected = holm(&found.collect::<Vec<f64>>());
    for (row, corrected) in tested.iter_mut().flatten().zip(corrected) {
        row.corrected = corrected;
    }
    tested
}

fn of_row(people: &[Contribution]) -> Option<RowAgreement> {
    if people.len() < 2 {
        return None;
    }
    let assumptions = assumptions(people);
    let tested = assumptions
        .iter()
        .map(|instruments| under(people, instruments));
    let tested: Vec<RowAgreement> = tested.collect::<Option<_>>()?;
    tested
        .into_iter()
        .max_by(|a, b| a.probability.total_cmp(&b.probability))
}

fn under(people: &[Contribution], instruments: &[usize]) -> Option<RowAgreement> {
    let values: Vec<f64> = people.iter().map(|person| person.value).collect();
    let errors = people.iter().zip(instruments);
    let errors = errors.map(|(person, &instrument)| person.errors(instrument));
    let errors: Vec<Errors> = errors.collect::<Option<_>>()?;
    let fit = fit(&values, &errors)?;
    let degrees_of_freedom = people.len() as f64 - 1.0;
    let mean_square = fit.chi_square / degrees_of_freedom;
    let basis = |person: &Contribution| person.repeatability.map(|found| found.basis);
    let first = people.first().and_then(basis);
    let (probability, of_the_scatter) = if people.iter().all(|person| basis(person) == first) {
        predicted(people, instruments, &values)?
    } else {
        let (statistic, of_the_scatter) = welch(people, &errors, &fit)?;
        let probability = f_beyond(statistic, degrees_of_freedom, of_the_scatter);
        (probability, of_the_scatter)
    };
    Some(RowAgreement {
        chi_square: fit.chi_square,
        degrees_of_freedom,
        of_the_scatter,
        probability,
        corrected: probability,
        birge_ratio: libm::sqrt(mean_square),
        pairs: pairs(people, instruments),
    })
}

/// The probability of a χ² that large, over all that the variance behind the one
/// estimate of the scatter may be, and the degrees of freedom of that estimate.
fn predicted(people: &[Contribution], instruments: &[usize], values: &[f64]) -> Option<(f64, f64)> {
    let degrees = people
        .iter()
        .map(|person| Some(person.repeatability?.degrees_of_freedom));
    let degrees: Vec<f64> = degrees.collect::<Option<_>>()?;
    let of_the_scatter = degrees.into_iter().reduce(f64::min)?;
    let mut sum = 0.0;
    for (ratio, weight) in variance_ratios(of_the_scatter) {
        let errors = people.iter().zip(instruments);
        let errors = errors.map(|(person, &instrument)| person.errors_if(instrument, ratio));
        let fit = fit(values, &errors.collect::<Option<Vec<Errors>>>()?)?;
        sum += weight * chi_square_beyond(fit.chi_square, people.len() as f64 - 1.0);
    }
    Some((sum, of_the_scatter))
}

/// Welch's statistic and the degrees of freedom of its denominator.
fn welch(people: &[Contribution], errors: &[Errors], fit: &Fit) -> Option<(f64, f64)> {
    let k = people.len() as f64;
    let alone = |instrument: usize| {
        errors
            .iter()
            .filter(|error| error.instrument == instrument)
            .count()
            == 1
    };
    let mut parts = Vec::with_capacity(people.len());
    for (person, error) in people.iter().zip(errors) {
        let common = if alone(error.instrument) {
            error.common
        } else {
            0.0
        };
        let known = Uncertainty::finite(libm::sqrt(common));
        let whole = Uncertainty::combined([(1.0, person.own()?), (1.0, known)]);
        parts.push((
            1.0 / (whole.standard() * whole.standard()),
            whole.degrees_of_freedom(),
        ));
    }
    let total: f64 = parts.iter().map(|part| part.0).sum();
    let share = |part: &(f64, f64)| (1.0 - part.0 / total) * (1.0 - part.0 / total) / part.1;
    let sum: f64 = parts.iter().map(share).sum();
    let statistic = fit.chi_square / (k - 1.0) / (1.0 + 2.0 * (k - 2.0) / (k * k - 1.0) * sum);
    let degrees = if sum > 0.0 {
        (k * k - 1.0) / (3.0 * sum)
    } else {
        f64::INFINITY
    };
    Some((statistic, degrees))
}

/// The standard uncertainty of a difference from resolution and, with different
/// instruments, from their errors.
fn known_part(
    people: &[Contribution],
    instruments: &[usize],
    (i, j): (usize, usize),
) -> Option<f64> {
    let (a, b) = (people.get(i)?, people.get(j)?);
    let resolution = libm::hypot(a.resolution(), b.resolution());
    let error = if instruments.get(i) == instruments.get(j) {
        0.0
    } else {
        libm::hypot(a.instrument_error(), b.instrument_error())
    };
    Some(libm::hypot(resolution, error))
}

fn pairs(people: &[Contribution], instruments: &[usize]) -> Vec<Pair> {
    let pair = |(first, second): (usize, usize)| {
        let (a, b) = (people.get(first)?, people.get(second)?);
        let scatter = libm::hypot(a.scatter()?.standard(), b.scatter()?.standard());
        let u = libm::hypot(scatter, known_part(people, instruments, (first, second))?);
        let e_n = (a.value - b.value) / (2.0 * u);
        Some(Pair { first, second, e_n })
    };
    both(people.len()).filter_map(pair).collect()
}

fn both(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..count).flat_map(move |i| (i + 1..count).map(move |j| (i, j)))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;
    use crate::measurement::{Basis, Repeatability};

    /// A result with this standard uncertainty, all of it scatter.
    fn result(value: f64, u: f64, degrees_of_freedom: f64, basis: Basis) -> Contribution {
        Contribution {
            person: 0,
            value,
            readings: 1,
            repeatability: Some(Repeatability {
                deviation: u,
                degrees_of_freedom,
                basis,
                floored: false,
            }),
            step: None,
            max_error: None,
            instrument: Some(0),
        }
    }

    fn known(value: f64, u: f64) -> Contribution {
        result(value, u, f64::INFINITY, Basis::House)
    }

    fn row(people: &[Contribution]) -> RowAgreement {
        let tested = agreement(&[people.to_vec()]);
        tested.into_iter().flatten().next().expect("two at least")
    }

    fn close(value: f64, expected: f64) {
        assert!(
            (value / expected - 1.0).abs() < 1e-6,
            "{value} is not {expected}"
        );
    }

    #[test]
    fn known_uncertainties_give_chi_square() {
        // By hand: χ² 50/9 on 2 degrees, Birge 5/3; p recomputed (scipy).
        let tested = row(&[known(10.0, 0.1), known(10.2, 0.1), known(10.5, 0.2)]);
        close(tested.chi_square, 50.0 / 9.0);
        close(tested.probability, 0.062_176_524);
        close(tested.birge_ratio, 5.0 / 3.0);
    }

    #[test]
    fn e_n_of_the_standard() {
        // Published: ISO 13528:2022, E.4. Assigned 0.044 with U 0.0082; results
        // 0.013 (U 0.003) and 0.053 (U 0.007): E_n −3.55 and 0.83.
        for (value, expanded, expected) in [(0.013, 0.003, -3.55), (0.053, 0.007, 0.83)] {
            let tested = row(&[known(value, expanded / 2.0), known(0.044, 0.0041)]);
            let e_n = tested.pairs.first().expect("one").e_n;
            assert!((e_n - expected).abs() < 0.005, "{e_n} is not {expected}");
        }
    }

    /// Three people's readings of one row. Invented.
    const GROUPS: [&[f64]; 3] = [
        &[8.00, 8.02, 8.01, 8.03],
        &[8.05, 8.09, 8.01],
        &[8.00, 8.00, 8.04, 8.10, 8.06],
    ];

    #[test]
    fn pooled_scatter_gives_the_analysis_of_variance() {
        // statsmodels anova_oneway, equal variances: F 0.98738532 on 2 and 9,
        // p 0.40955455.
        let mean = |group: &[f64]| group.iter().sum::<f64>() / group.len() as f64;
        let square = |group: &[f64]| group.iter().map(|x| (x - mean(group)).powi(2)).sum::<f64>();
        let pooled = GROUPS.iter().map(|group| square(group)).sum::<f64>() / 9.0;
        let people = GROUPS.map(|group| {
            let mut person = result(mean(group), pooled.sqrt(), 9.0, Basis::Pooled);
            person.readings = group.len();
            person
        });
        let tested = row(&people);
        close(tested.birge_ratio.powi(2), 0.987_385_321_1);
        close(tested.of_the_scatter, 9.0);
        close(tested.probability, 0.409_554_549_56);
    }

    #[test]
    fn a_scatter_that_is_small_by_chance_proves_little() {
        // Two means of two readings, 0.03 mm apart; s 0.005 mm on 2 degrees,
        // step 0.01 mm. Recomputed independently: the mean of erfc(√(χ²/4)) over
        // an exponential variable E, χ² being 0.03²/(1.25e-5/E + 0.01²/12), by a
        // million midpoints over √E. With 5.6 effective degrees after Welch and
        // Satterthwaite it would be 0.004.
        let mean_of_two = |value: f64| Contribution {
            readings: 2,
            step: Some(0.01),
            ..result(value, 0.005, 2.0, Basis::Pooled)
        };
        let tested = row(&[mean_of_two(8.0), mean_of_two(8.03)]);
        close(tested.of_the_scatter, 2.0);
        close(tested.probability, 0.028_139_818);
    }

    #[test]
    fn own_scatter_gives_welch() {
        // statsmodels anova_oneway, unequal variances: F 1.46095863 on 2 and
        // 4.10655322, p 0.33174118.
        let mut person = 0;
        let people = GROUPS.map(|group| {
            let n = group.len() as f64;
            let mean = group.iter().sum::<f64>() / n;
            let square = group.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / (n - 1.0);
            person += 1;
            let basis = Basis::Cell { row: 0, person };
            let mut result = result(mean, square.sqrt(), n - 1.0, basis);
            result.readings = group.len();
            result
        });
        let tested = row(&people);
        close(tested.of_the_scatter, 4.106_553_216);
        close(tested.probability, 0.331_741_181);
    }

    #[test]
    fn an_error_in_common_does_not_explain_a_difference() {
        let with = |value: f64, instrument: Option<usize>| Contribution {
            max_error: Some(0.3),
            instrument,
            ..known(value, 0.01)
        };
        let one = row(&[with(8.0, Some(0)), with(8.1, Some(0))]);
        let two = row(&[with(8.0, Some(0)), with(8.1, Some(1))]);
        assert!(one.disputed() && !two.disputed());
        // Not known: what explains the difference is assumed.
        let unknown = row(&[with(8.0, None), with(8.1, None)]);
        close(unknown.probability, two.probability);
        let half = row(&[with(8.0, Some(0)), with(8.1, None)]);
        close(half.probability, two.probability);
    }

    #[test]
    fn many_rows_have_one_error_rate() {
        // p 0.0455 alone (two standard deviations); 9 × that on nine rows.
        let apart = vec![known(8.0, 0.1), known(8.0 + 0.2 * 2.0_f64.sqrt(), 0.1)];
        let alike = vec![known(8.0, 0.1), known(8.0, 0.1)];
        assert!(row(&apart).disputed());
        let mut rows = vec![alike; 8];
        rows.push(apart);
        let tested = agreement(&rows);
        let last = tested.last().cloned().flatten().expect("tested");
        close(last.corrected, 9.0 * 0.045_500_263_9);
        assert!(!last.disputed());
    }

    #[test]
    fn nothing_is_tested_without_two_uncertainties() {
        let unknown = Contribution {
            repeatability: None,
            ..known(8.0, 0.1)
        };
        let rows = [
            vec![known(8.0, 0.1)],
            vec![known(8.0, 0.1), unknown],
            vec![known(8.0, 0.0), known(8.1, 0.0)],
            vec![known(f64::NAN, 0.1), known(8.1, 0.1)],
            Vec::new(),
        ];
        assert!(agreement(&rows).iter().all(Option::is_none));
    }
}
