//! Quantiles, and how well a capability is known.

use statrs::distribution::{Beta, ChiSquared, ContinuousCDF, StudentsT};

use super::process::Process;

/// Steps of the integral over what a variance may be: intervals come out to five
/// digits.
const NODES: u32 = 120;

/// The probability that a standard normal number is below `x`.
pub(super) fn normal_below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// Student's t that is exceeded with a probability, on so many degrees of freedom.
pub(super) fn t_beyond(probability: f64, degrees: f64) -> f64 {
    let Ok(student) = StudentsT::new(0.0, 1.0, degrees.max(1.0)) else {
        return f64::INFINITY;
    };
    // By bisection on the tail itself, which stays exact where it is thin.
    bisect((0.0, 1e4), |t| student.cdf(-t) < probability)
}

/// The quantile of chi-square.
pub(super) fn chi_square_quantile(degrees: f64, below: f64) -> f64 {
    ChiSquared::new(degrees).map_or(f64::NAN, |own| own.inverse_cdf(below))
}

/// The quantile of a beta distribution.
pub(super) fn beta_quantile(a: f64, b: f64, below: f64) -> f64 {
    let Ok(beta) = Beta::new(a, b) else {
        return f64::NAN;
    };
    bisect((0.0, 1.0), |x| beta.cdf(x) > below)
}

/// Where what is false at the lower end and true at the upper one becomes true.
pub(super) fn bisect(ends: (f64, f64), is_true: impl Fn(f64) -> bool) -> f64 {
    bisect_to(ends, 0.0, is_true)
}

/// The same, no closer than is asked for.
fn bisect_to((mut low, mut high): (f64, f64), width: f64, is_true: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..80 {
        if high - low <= width {
            break;
        }
        let middle = 0.5 * (low + high);
        if is_true(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    0.5 * (low + high)
}

/// Where Cpk lies with so much confidence, from 0 to 1, to either side alike; the
/// upper end is `None` where the data set none.
///
/// A generalised interval (Mathew, Sebastian and Kurian, Qual. Reliab. Engng. Int.
/// 23, 2007, from memory): what the true mean and spread may be, given the measured
/// ones, turned into what Cpk may be, with the variance of the measurement taken
/// out. Of one limit and an exact measurement it is the exact interval of the
/// noncentral t.
///
/// ```
/// use ringrule::lot::{Process, cpk_interval};
///
/// let process = Process { count: 200, mean: 16.0, deviation: 2.0, noise: 0.0 };
/// let (lower, upper) = cpk_interval(&process, Some(8.0), Some(20.0), 0.95);
/// // NIST/SEMATECH e-Handbook, 6.1.6, approximately: 0.6667 ± 1.96·√(1/(9n) + Cpk²/(2(n − 1))).
/// assert!((lower - 0.5865).abs() < 0.003 && (upper.unwrap() - 0.7468).abs() < 0.003);
/// ```
pub fn cpk_interval(
    process: &Process,
    lower: Option<f64>,
    upper: Option<f64>,
    confidence: f64,
) -> (f64, Option<f64>) {
    let variances = variances(process);
    let n = process.count as f64;
    let scale = process.deviation.max(f64::MIN_POSITIVE);
    // The probability that Cpk is at most c.
    let at_most = |c: f64| -> f64 {
        let parts = variances.iter().map(|&(variance, weight)| {
            let of_mean = libm::sqrt(variance / n);
            let own = 3.0 * c * libm::sqrt((variance - process.noise).max(0.0));
            let below = |end: f64| normal_below((end - process.mean) / of_mean);
            let high = upper.map_or(1.0, |upper| below(upper - own));
            let low = lower.map_or(0.0, |lower| below(lower + own));
            weight * (1.0 - (high - low).max(0.0))
        });
        parts.sum()
    };
    let tail = 0.5 * (1.0 - confidence);
    let distance = |end: Option<f64>| end.map_or(0.0, |end| (end - process.mean).abs());
    // As far as the ends can be; what is further away is no end.
    let reach = 100.0 * (distance(lower).max(distance(upper)) / scale).max(1.0);
    let end = |share: f64| {
        // Ends are found to a millionth of what is asked, from near to far.
        let mut far = 1.0;
        while far < reach && !(at_most(far) >= share && at_most(-far) < share) {
            far *= 4.0;
        }
        bisect_to((-far, far), 1e-7 * far, |c| at_most(c) >= share)
    };
    let (low, high) = (end(tail), end(1.0 - tail));
    (low, (high < 0.99 * reach).then_some(high))
}

/// What the true variance may be, with weights that add up to one: s²·ν/χ². The
/// nodes of the trapezoidal rule over ln χ², whose density falls off exponentially.
fn variances(process: &Process) -> Vec<(f64, f64)> {
    let degrees = (process.count as f64 - 1.0).max(1.0);
    let spread = libm::sqrt(2.0 / degrees);
    let least = libm::log(degrees) - 10.0 * spread - 30.0 / degrees;
    let most = libm::log(degrees + 10.0 * libm::sqrt(2.0 * degrees) + 40.0);
    let step = (most - least) / f64::from(NODES);
    let peak = 0.5 * degrees * (libm::log(degrees) - 1.0);
    let node = |node: u32| {
        let logarithm = least + step * f64::from(node);
        let chi_square = libm::exp(logarithm);
        let weight = libm::exp(0.5 * (degrees * logarithm - chi_square) - peak);
        (process.deviation.powi(2) * degrees / chi_square, weight)
    };
    let nodes: Vec<(f64, f64)> = (0..=NODES).map(node).collect();
    let whole: f64 = nodes.iter().map(|(_, weight)| weight).sum();
    let nodes = nodes
        .into_iter()
        .map(|(value, weight)| (value, weight / whole));
    nodes.filter(|(_, weight)| *weight > 1e-14).collect()
}
