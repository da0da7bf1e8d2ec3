//! Charts of one series, and what they say of it.

use super::beginning::{Beginning, beginning};
use super::ewma::{WEIGHT, ewma, ewma_share};
use super::interval::{normal_below, t_beyond};
use super::runs::runs;
use super::spread::{mean, median, successive};

/// The probability that any chart of a whole sound run gives a signal, from 0 to 1.
/// House rule: one run in fifty. All charts of all measurands share it equally
/// (Bonferroni), which holds however measurands hang together.
pub const FALSE_ALARM: f64 = 0.02;

/// A chart needs so many values. House rule; the trade asks for 20 to 25.
pub const FEWEST: usize = 20;

/// Charts of a series: individuals, moving average, runs.
pub(super) const KINDS: usize = 3;

/// A deviation of less than half a step is that of the rounding. House rule.
const STEPS: f64 = 0.5;

/// The charts of a series. In the unit of its values.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Chart {
    /// The centre line: the mean, values beyond the limits taken as on them.
    pub centre: f64,
    /// The standard deviation by successive differences.
    pub deviation: f64,
    /// How far from the centre line the limits for single values are.
    pub limit: f64,
    /// The moving average after each value, begun at the centre line; values beyond
    /// the limits are taken as on them.
    pub average: Vec<f64>,
    /// How far from the centre line its limits are.
    pub average_limit: f64,
    /// What runs are about.
    pub median: f64,
    /// A run of so many on one side of the median is a signal.
    pub run: usize,
    /// What the charts name, in the order of the run.
    pub signals: Vec<Signal>,
}

/// To which side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Upwards.
    Above,
    /// Downwards.
    Below,
}

/// What a chart names. Values by their index in the series, from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Signal {
    /// A value beyond the limits for single values.
    Beyond {
        /// Which.
        at: usize,
        /// To which side.
        side: Side,
    },
    /// A run on one side of the median.
    Run {
        /// Its first value.
        first: usize,
        /// Its last value.
        last: usize,
        /// How many values are in it, without those on the median.
        length: usize,
        /// On which side.
        side: Side,
    },
    /// The moving average left its limits: the change that explains it best.
    Change {
        /// Its beginning.
        beginning: Beginning,
        /// The first value from there on at which the moving average is outside; if
        /// there is none, the first of all.
        seen: usize,
    },
}

/// Why there is no chart.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum NotCharted {
    /// There are too few values.
    TooFew {
        /// How many there are.
        count: usize,
    },
    /// All values are alike.
    AllAlike,
    /// The step between values hides their spread.
    TooCoarse {
        /// The step.
        step: f64,
        /// The standard deviation by successive differences.
        deviation: f64,
    },
}

/// The limits of a series of one length, in standard deviations as if these were
/// known.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// The probability that a chart of a sound series gives a signal.
    pub(super) alarm: f64,
    /// How many standard deviations of its own the moving average may be away.
    pub(super) average: f64,
    /// A run of so many is a signal.
    pub(super) run: usize,
}

/// Whether there can be a chart of these values.
pub(super) fn chartable(values: &[f64], step: Option<f64>) -> Result<(), NotCharted> {
    let count = values.len();
    if count < FEWEST {
        return Err(NotCharted::TooFew { count });
    }
    let Some(step) = step else {
        return Err(NotCharted::AllAlike);
    };
    let (deviation, _) = successive(values);
    if deviation < STEPS * step {
        return Err(NotCharted::TooCoarse { step, deviation });
    }
    Ok(())
}

/// How many standard deviations by successive differences single values may be away
/// from the centre line, so that any of `count` is further with a probability of
/// `alarm`: Student's t, as the standard deviation is estimated.
///
/// ```
/// use ringrule::lot::individuals_factor;
///
/// // With a known standard deviation, three would have 0.27 % for each value.
/// let factor = individuals_factor(0.0027 * 1e5, 100_000);
/// assert!((factor - 3.0).abs() < 0.01);
/// ```
pub fn individuals_factor(alarm: f64, count: usize) -> f64 {
    let n = count as f64;
    t_beyond(0.5 * alarm / n.max(1.0), degrees(count))
}

fn degrees(count: usize) -> f64 {
    let n = count as f64;
    (n - 1.0).max(1.0).powi(2) / (2.0 * (0.8264 * n - 1.082).max(f64::MIN_POSITIVE))
}

/// The charts of values with the places of their boards.
pub(super) fn chart(values: &[f64], places: &[usize], limits: Limits) -> Chart {
    let (deviation, degrees) = successive(values);
    let limit = deviation * individuals_factor(limits.alarm, values.len());
    let middle = median(values);
    // One value far out shall not move the centre line or the moving average.
    let held = |about: f64| -> Vec<f64> {
        let hold = |value: &f64| value.clamp(about - limit, about + limit);
        values.iter().map(hold).collect()
    };
    let centre = mean(&held(middle));
    let held = held(centre);
    let average = ewma(&held, centre, WEIGHT);
    let factor = t_beyond(normal_below(-limits.average), degrees);
    let average_limit = deviation * ewma_share(WEIGHT) * factor;
    let mut signals: Vec<Signal> = Vec::new();
    for (at, value) in values.iter().enumerate() {
        if (value - centre).abs() > limit {
            let side = Side::of(value - centre);
            signals.push(Signal::Beyond { at, side });
        }
    }
    let found = runs(values, middle, limits.run).into_iter();
    signals.extend(found.map(|run| Signal::Run {
        first: run.first,
        last: run.last,
        length: run.length,
        side: if run.is_above {
            Side::Above
        } else {
            Side::Below
        },
    }));
    let out = |own: &f64| (own - centre).abs() > average_limit;
    if let Some(first) = average.iter().position(out)
        && let Some(beginning) = beginning(&held, places, deviation)
    {
        // Before the change the average may be outside as well, on the other side: the
        // mean is that of the whole run.
        let there = |own: &f64| out(own) && (own - centre) * beginning.amount > 0.0;
        let after = average.iter().skip(beginning.at).position(there);
        let seen = after.map_or(first, |after| beginning.at + after);
        signals.push(Signal::Change { beginning, seen });
    }
    signals.sort_by_key(Signal::begins);
    Chart {
        centre,
        deviation,
        limit,
        average,
        average_limit,
        median: middle,
        run: limits.run,
        signals,
    }
}

impl Side {
    fn of(away: f64) -> Self {
        if away > 0.0 { Self::Above } else { Self::Below }
    }
}

impl Signal {
    /// The index of the value at which it begins.
    pub const fn begins(&self) -> usize {
        match self {
            Self::Beyond { at, .. } => *at,
            Self::Run { first, .. } => *first,
            Self::Change { beginning, .. } => beginning.at,
        }
    }
}
