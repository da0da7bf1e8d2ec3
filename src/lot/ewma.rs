//! The chart of the exponentially weighted moving average (EWMA).

use super::interval::normal_below;

/// The weight of the newest value. House rule: weights from 0.05 to 0.25 find small
/// shifts and slow drifts soonest (Lucas and Saccucci, Technometrics 32, 1990, from
/// memory).
pub const WEIGHT: f64 = 0.1;

/// States between the limits. The run lengths that Lucas and Saccucci print come
/// out to their last digit.
const STATES: usize = 81;

/// Steps after which the chain has forgotten where it began.
const MIXED: usize = 400;

/// The moving average after each value, begun at the target.
///
/// ```
/// use ringrule::lot::ewma;
///
/// // NIST/SEMATECH e-Handbook, 6.3.2.4.
/// let average = ewma(&[52.0, 47.0], 50.0, 0.3);
/// assert!((average[0] - 50.60).abs() < 0.005 && (average[1] - 49.52).abs() < 0.005);
/// ```
pub fn ewma(values: &[f64], target: f64, weight: f64) -> Vec<f64> {
    let step = |average: &mut f64, value: &f64| {
        *average += weight * (value - *average);
        Some(*average)
    };
    values.iter().scan(target, step).collect()
}

/// The standard deviation of the moving average after many values, in standard
/// deviations of one value: √(λ/(2 − λ)) (NIST/SEMATECH e-Handbook, 6.3.2.4).
pub fn ewma_share(weight: f64) -> f64 {
    libm::sqrt(weight / (2.0 - weight))
}

/// The probability that the moving average of so many independent normal values,
/// begun at their mean, leaves ± `limit` of its own standard deviations at least
/// once: a Markov chain over the values between the limits (Brook and Evans,
/// Biometrika 59, 1972, from memory).
pub fn ewma_alarm(weight: f64, limit: f64, count: usize) -> f64 {
    let chain = Chain::new(weight, limit);
    let mut now = chain.start();
    let (mut inside, mut before) = (1.0, 1.0);
    for _ in 0..count.min(MIXED) {
        now = chain.step(&now);
        before = inside;
        inside = now.iter().sum();
    }
    let rest = count.saturating_sub(MIXED) as f64;
    // From here on each value takes the same share of what is left.
    let share: f64 = if before > 0.0 { inside / before } else { 0.0 };
    (1.0 - inside * libm::pow(share, rest)).clamp(0.0, 1.0)
}

/// The limit, in standard deviations of the moving average, that so many values
/// leave with this probability.
pub fn ewma_limit(weight: f64, probability: f64, count: usize) -> f64 {
    let target = libm::log(probability.max(1e-12));
    let miss = |limit: f64| libm::log(ewma_alarm(weight, limit, count).max(1e-15)) - target;
    let (mut low, mut high) = (1.0, 8.0);
    let (mut at_low, mut at_high) = (miss(low), miss(high));
    if at_low <= 0.0 || at_high >= 0.0 {
        return if at_low <= 0.0 { low } else { high };
    }
    // False position after Illinois: a dozen steps where bisection takes forty.
    let mut last = 0_i8;
    for _ in 0..60 {
        let next = (low * at_high - high * at_low) / (at_high - at_low);
        let found = miss(next);
        if found.abs() < 1e-7 || high - low < 1e-9 {
            return next;
        }
        if found > 0.0 {
            (low, at_low) = (next, found);
            if last == 1 {
                at_high *= 0.5;
            }
            last = 1;
        } else {
            (high, at_high) = (next, found);
            if last == -1 {
                at_low *= 0.5;
            }
            last = -1;
        }
    }
    0.5 * (low + high)
}

/// The moving average between its limits, as a Markov chain. In standard
/// deviations of one value.
struct Chain {
    /// The probability of a step from a state into another, row by row.
    steps: Vec<f64>,
}

impl Chain {
    fn new(weight: f64, limit: f64) -> Self {
        let edge = limit * ewma_share(weight);
        let wide = 2.0 * edge / STATES as f64;
        let steps = (0..STATES).flat_map(|from| {
            let middle = -edge + (from as f64 + 0.5) * wide;
            let below = move |to: usize| {
                let end = -edge + to as f64 * wide;
                normal_below((end - (1.0 - weight) * middle) / weight)
            };
            (0..STATES).map(move |to| below(to + 1) - below(to))
        });
        Self {
            steps: steps.collect(),
        }
    }

    /// In the middle.
    fn start(&self) -> Vec<f64> {
        let states = self.steps.len() / STATES;
        let own = |state: usize| f64::from(u8::from(2 * state + 1 == states));
        (0..states).map(own).collect()
    }

    fn step(&self, now: &[f64]) -> Vec<f64> {
        let mut next = vec![0.0; STATES];
        for (row, own) in self.steps.chunks_exact(STATES).zip(now) {
            for (to, step) in next.iter_mut().zip(row) {
                *to += own * step;
            }
        }
        next
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_handbooks_example() {
        // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
        let data = [
            52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3,
            47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
        ];
        let found = ewma(&data, 50.0, 0.3);
        assert_eq!(found.len(), data.len());
        let near = |value: Option<&f64>, printed: f64| {
            let value = value.copied().unwrap_or(f64::NAN);
            assert!((value - printed).abs() <= 0.005 + 1e-9, "{value} {printed}");
        };
        // The handbook's first statistic, 50.00, is the target itself.
        near(found.first(), 50.60);
        near(found.get(1), 49.52);
        near(found.get(2), 50.56);
        near(found.get(3), 50.18);
        near(found.get(18), 51.94);
        near(found.get(19), 51.99);
        let wide = 3.0 * 2.0539 * ewma_share(0.3);
        near(Some(&(50.0 - wide)), 47.41);
        near(Some(&(50.0 + wide)), 52.59);
    }

    /// The mean number of values until one is outside.
    fn run_length(weight: f64, limit: f64) -> f64 {
        let chain = Chain::new(weight, limit);
        let (mut now, mut sum) = (chain.start(), 0.0);
        for _ in 0..20_000 {
            sum += now.iter().sum::<f64>();
            now = chain.step(&now);
        }
        sum
    }

    #[test]
    fn run_lengths_are_those_in_print() {
        // Lucas and Saccucci, Technometrics 32, 1990, table of in-control average
        // run lengths of about 500, from memory.
        for (weight, limit) in [(0.4, 3.054), (0.25, 2.998), (0.2, 2.962), (0.1, 2.814)] {
            let found = run_length(weight, limit);
            assert!((found - 500.0).abs() < 5.0, "{weight} {limit}: {found}");
        }
    }

    #[test]
    fn the_limit_has_the_probability_that_was_asked_for() {
        for (probability, count) in [(0.05, 20), (1e-3, 200), (1e-4, 5000)] {
            let limit = ewma_limit(WEIGHT, probability, count);
            let found = ewma_alarm(WEIGHT, limit, count);
            assert!(
                (found / probability - 1.0).abs() < 1e-4,
                "{found} {probability}"
            );
        }
        // A long run goes on as the chain itself would.
        let chain = Chain::new(WEIGHT, 3.0);
        let mut now = chain.start();
        for _ in 0..1500 {
            now = chain.step(&now);
        }
        let direct = 1.0 - now.iter().sum::<f64>();
        assert!((ewma_alarm(WEIGHT, 3.0, 1500) - direct).abs() < 1e-9);
    }
}
