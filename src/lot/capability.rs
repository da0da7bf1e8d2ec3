//! How well a stable process keeps within its limits.

use super::interval::{chi_square_quantile, cpk_interval};
use super::process::Process;

/// The confidence of every interval of an index. House rule, and common practice.
pub const CONFIDENCE: f64 = 0.95;

/// The capability of a process (ISO 22514-1 and -2 have the terms and definitions,
/// from memory): Cp compares the limits' distance with six standard deviations, Cpk
/// the distance of the mean from the nearer limit with three.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Capability {
    /// Cp, of two limits.
    pub cp: Option<Index>,
    /// Cpk; of one limit, the index of that side.
    pub cpk: Index,
    /// The standard deviation of the process, the measurement's share taken out.
    pub deviation: f64,
    /// The standard deviation of the measurement that was taken out.
    pub noise: f64,
}

/// An index with its interval of [confidence](CONFIDENCE).
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Index {
    /// With the measurement's share taken out.
    pub value: f64,
    /// As measured, nothing taken out.
    pub measured: f64,
    /// The lower end.
    pub lower: f64,
    /// The upper end; `None` where the measurement could hide the whole spread.
    pub upper: Option<f64>,
}

/// Why no capability is given.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Withheld {
    /// Nothing limits the values.
    NoLimits,
    /// The limits allow one value alone.
    PointLimit,
    /// The limits differ from board to board.
    LimitsDiffer,
    /// There is no chart that says whether the process is stable.
    NotCharted,
    /// A chart gives a signal.
    NotStable,
    /// The measurement scatters as much as the values or more.
    MeasurementTooCoarse {
        /// The standard deviation of the measurement.
        noise: f64,
        /// That of the values.
        deviation: f64,
    },
}

/// The capability of a process that is stable, or why there is none.
///
/// ```
/// use ringrule::lot::{Process, capability};
///
/// // NIST/SEMATECH e-Handbook, 6.1.6: limits 8 and 20, mean 16, s 2.
/// let process = Process { count: 50, mean: 16.0, deviation: 2.0, noise: 0.0 };
/// let found = capability(&process, Some(8.0), Some(20.0)).unwrap();
/// assert!((found.cp.unwrap().value - 1.0).abs() < 1e-12);
/// assert!((found.cpk.value - 0.6667).abs() < 1e-4);
/// ```
pub fn capability(
    process: &Process,
    lower: Option<f64>,
    upper: Option<f64>,
) -> Result<Capability, Withheld> {
    let width = match (lower, upper) {
        (None, None) => return Err(Withheld::NoLimits),
        (Some(lower), Some(upper)) if upper <= lower => return Err(Withheld::PointLimit),
        (Some(lower), Some(upper)) => Some(upper - lower),
        _ => None,
    };
    let Process {
        mean,
        deviation,
        noise,
        ..
    } = *process;
    let own = deviation * deviation - noise;
    if own.is_nan() || own <= 0.0 {
        return Err(Withheld::MeasurementTooCoarse {
            noise: libm::sqrt(noise),
            deviation,
        });
    }
    let own = libm::sqrt(own);
    let distance = |end: Option<f64>, sign: f64| end.map(|end| sign * (end - mean));
    let sides = [distance(lower, -1.0), distance(upper, 1.0)];
    let nearer = sides.into_iter().flatten().fold(f64::INFINITY, f64::min);
    let (low, high) = cpk_interval(process, lower, upper, CONFIDENCE);
    Ok(Capability {
        cp: width.map(|width| cp(process, width, own)),
        cpk: Index {
            value: nearer / (3.0 * own),
            measured: nearer / (3.0 * deviation),
            lower: low,
            upper: high,
        },
        deviation: own,
        noise: libm::sqrt(noise),
    })
}

/// Cp with the interval that follows from that of the variance (chi-square), the
/// measurement's share taken out of both its ends.
fn cp(process: &Process, width: f64, own: f64) -> Index {
    let degrees = (process.count as f64 - 1.0).max(1.0);
    let tail = 0.5 * (1.0 - CONFIDENCE);
    let squares = degrees * process.deviation * process.deviation;
    let at = |below: f64| squares / chi_square_quantile(degrees, below) - process.noise;
    let index = |variance: f64| width / (6.0 * libm::sqrt(variance));
    let least = at(1.0 - tail);
    Index {
        value: width / (6.0 * own),
        measured: width / (6.0 * process.deviation),
        lower: index(at(tail)),
        upper: (least > 0.0).then(|| index(least)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lot::interval::{bisect, normal_below};
    use crate::random::Random;

    const EXAMPLE: Process = Process {
        count: 50,
        mean: 16.0,
        deviation: 2.0,
        noise: 0.0,
    };

    #[test]
    fn the_handbooks_example() {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6: limits 8 and 20,
        // mean 16, s 2: Cp 1.0, Cpk 0.6667.
        let found = capability(&EXAMPLE, Some(8.0), Some(20.0)).expect("limits");
        let cp = found.cp.expect("two limits");
        assert!((cp.value - 1.0).abs() < 1e-12);
        assert!((found.cpk.value - 0.6667).abs() < 5e-5);
        // The same section's interval for Cp: √(χ²/ν) of 49 degrees of freedom at
        // 2.5 % and 97.5 %, 31.555 and 70.222 (tables of chi-square, from memory).
        assert!((cp.lower - libm::sqrt(31.555 / 49.0)).abs() < 1e-4);
        assert!((cp.upper.expect("an end") - libm::sqrt(70.222 / 49.0)).abs() < 1e-4);
        // And its approximation for Cpk, ± 1.96·√(1/(9n) + Cpk²/(2(n − 1))).
        let half = 1.96 * libm::sqrt(1.0 / 450.0 + found.cpk.value.powi(2) / 98.0);
        assert!((found.cpk.lower - (found.cpk.value - half)).abs() < 0.02);
        let upper = found.cpk.upper.expect("an end");
        assert!((upper - (found.cpk.value + half)).abs() < 0.02);
    }

    /// The probability that the estimated index of one limit is below `x` where the
    /// true one is `truth`: 3·√n·Cpk is noncentral t. Independent of the program's
    /// own integral: over the scaled chi, by Simpson's rule on the density of χ/√ν.
    fn below(x: f64, truth: f64, n: f64) -> f64 {
        let degrees = n - 1.0;
        let root = libm::sqrt(n);
        let log_constant = 0.5 * degrees * libm::log(0.5 * degrees) + std::f64::consts::LN_2
            - libm::lgamma(0.5 * degrees);
        let steps = 4000;
        let sum: f64 = (1..=steps)
            .map(|step| {
                let chi = 3.0 * f64::from(step) / f64::from(steps);
                let density = libm::exp(
                    log_constant + (degrees - 1.0) * libm::log(chi) - 0.5 * degrees * chi * chi,
                );
                let weight = if step == steps {
                    1.0
                } else if step % 2 == 1 {
                    4.0
                } else {
                    2.0
                };
                weight * density * normal_below(3.0 * root * (x * chi - truth))
            })
            .sum();
        sum * 3.0 / f64::from(steps) / 3.0
    }

    #[test]
    fn of_one_limit_the_interval_is_that_of_the_noncentral_t() {
        for (count, mean) in [(20, 17.0), (50, 16.0), (200, 12.0)] {
            let process = Process {
                count,
                mean,
                ..EXAMPLE
            };
            let found = capability(&process, None, Some(20.0)).expect("a limit");
            assert_eq!(found.cp, None);
            let n = count as f64;
            // The truths that would give so small or so large an estimate.
            let of = |tail: f64| {
                bisect((-1.0, 5.0), |truth| {
                    below(found.cpk.value, truth, n) < 1.0 - tail
                })
            };
            assert!((found.cpk.lower - of(0.025)).abs() < 2e-5, "{found:?}");
            let upper = found.cpk.upper.expect("an end");
            assert!((upper - of(0.975)).abs() < 2e-5, "{found:?} {}", of(0.975));
        }
    }

    #[test]
    fn intervals_cover_what_they_should_with_and_without_the_measurements_share() {
        // Seeded simulation, independent of the intervals: 1000 runs of 60, true
        // Cpk by construction; four standard errors of 95 %.
        let mut random = Random::seeded(21);
        for (noise, lower) in [(0.0, Some(-4.0)), (0.25, Some(-4.0)), (0.25, None)] {
            let truth = 3.0 / (3.0 * 1.0);
            let mut covered = 0;
            for _ in 0..1000 {
                let spread = libm::sqrt(1.0 + noise);
                let values: Vec<f64> = (0..60).map(|_| spread * random.normal()).collect();
                let process = Process {
                    count: 60,
                    mean: crate::lot::spread::mean(&values),
                    deviation: crate::lot::spread::deviation(&values),
                    noise,
                };
                let (low, high) = cpk_interval(&process, lower, Some(3.0), CONFIDENCE);
                covered += u32::from(low <= truth && high.is_none_or(|high| truth <= high));
            }
            let share = f64::from(covered) / 1000.0;
            assert!((share - 0.95).abs() < 0.0276, "{noise} {lower:?}: {share}");
        }
    }

    #[test]
    fn a_measurement_that_hides_the_process_gives_nothing() {
        let process = Process {
            noise: 4.0,
            ..EXAMPLE
        };
        assert!(matches!(
            capability(&process, Some(8.0), Some(20.0)),
            Err(Withheld::MeasurementTooCoarse { .. })
        ));
        // By hand: √(4 − 1.75) = 1.5; Cp 12/9, Cpk 4/4.5.
        let process = Process {
            noise: 1.75,
            ..EXAMPLE
        };
        let found = capability(&process, Some(8.0), Some(20.0)).expect("limits");
        let cp = found.cp.expect("two limits");
        assert!((cp.value - 12.0 / 9.0).abs() < 1e-12 && (cp.measured - 1.0).abs() < 1e-12);
        assert!((found.cpk.value - 4.0 / 4.5).abs() < 1e-12);
        assert!(cp.lower < cp.value && found.cpk.lower < found.cpk.value);
        let at = |lower, upper| capability(&EXAMPLE, lower, upper);
        assert_eq!(at(None, None), Err(Withheld::NoLimits));
        assert_eq!(at(Some(8.0), Some(8.0)), Err(Withheld::PointLimit));
    }
}
