//! Where a process began to change.

/// How a process changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangeKind {
    /// The mean moves on, board by board.
    Drift,
    /// The mean has moved once.
    Shift,
}

/// The beginning of a change that fits values best.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Beginning {
    /// Which kind fits better.
    pub kind: ChangeKind,
    /// The index of the value at which it begins: of a drift, the last one that it
    /// leaves alone; of a shift, the first one that it moves.
    pub at: usize,
    /// The first and the last index at which it may have begun, with 95 %
    /// confidence.
    pub range: (usize, usize),
    /// Of a drift, the change from one board to the next; of a shift, all of it. In
    /// the unit of the values.
    pub amount: f64,
}

/// Twice the logarithm of a likelihood falls off by so much at the ends of a 95 %
/// interval (chi-square with one degree of freedom, Wilks, Ann. Math. Statist. 9,
/// 1938, from memory).
const FALL: f64 = 3.841;

/// A shift has so many values at least on either side, and a drift after it.
const LEAST: usize = 3;

/// How a place explains the values: by how much it lowers their sum of squares, and
/// the amount that does.
#[derive(Clone, Copy)]
struct Fit {
    gain: f64,
    amount: f64,
}

/// The most likely beginning of one shift or one drift in normal values about a
/// steady mean: least squares over every place where it may have begun, which is
/// maximum likelihood (for a shift, Hinkley, Biometrika 57, 1970; for a slope,
/// Perry, Pignatiello and Simpson, Qual. Reliab. Engng. Int. 22, 2006; from memory).
/// `places` are those of the values in the run, in rising order, and `deviation` is
/// their standard deviation without the change. `None` of fewer than seven values.
pub fn beginning(values: &[f64], places: &[usize], deviation: f64) -> Option<Beginning> {
    let n = values.len();
    if n < 2 * LEAST + 1 || places.len() != n {
        return None;
    }
    let mean = super::spread::mean(values);
    let start = places.first().copied().unwrap_or_default();
    let place = |at: usize| places.get(at).map_or(0.0, |own| (own - start) as f64);
    let value = |at: usize| values.get(at).map_or(0.0, |own| own - mean);
    // Sums over the values from an index on: 1, t, t², x, t·x.
    let mut sums = [0.0_f64; 5];
    let mut shifts = vec![None; n];
    let mut drifts = vec![None; n];
    for at in (0..n).rev() {
        let (t, x) = (place(at), value(at));
        // A drift that begins here moves only what comes after it.
        if let (true, Some(own)) = (n - 1 - at >= LEAST, drifts.get_mut(at)) {
            *own = drift(&sums, t, n as f64);
        }
        for (sum, own) in sums.iter_mut().zip([1.0, t, t * t, x, t * x]) {
            *sum += own;
        }
        if let (true, Some(own)) = (at >= LEAST && n - at >= LEAST, shifts.get_mut(at)) {
            *own = shift(&sums, n as f64);
        }
    }
    let (shift_at, shift) = best(&shifts)?;
    let (drift_at, drift) = best(&drifts)?;
    let (kind, at, fit, all) = if drift.gain > shift.gain {
        (ChangeKind::Drift, drift_at, drift, &drifts)
    } else {
        (ChangeKind::Shift, shift_at, shift, &shifts)
    };
    let least = fit.gain - FALL * deviation * deviation;
    let likely = |own: &Option<Fit>| own.is_some_and(|own| own.gain >= least);
    let first = all.iter().position(likely).unwrap_or(at);
    let last = all.iter().rposition(likely).unwrap_or(at);
    Some(Beginning {
        kind,
        at,
        range: (first, last),
        amount: fit.amount,
    })
}

fn best(fits: &[Option<Fit>]) -> Option<(usize, Fit)> {
    let known = fits.iter().enumerate();
    let known = known.filter_map(|(at, fit)| Some((at, (*fit)?)));
    known.max_by(|a, b| a.1.gain.total_cmp(&b.1.gain))
}

/// A slope from place `t` on. The values are about their mean.
fn drift(&[count, of_t, of_tt, of_x, of_tx]: &[f64; 5], t: f64, n: f64) -> Option<Fit> {
    let ramp = of_t - t * count;
    let squares = of_tt - 2.0 * t * of_t + t * t * count - ramp * ramp / n;
    let product = of_tx - t * of_x;
    (squares > 0.0).then(|| Fit {
        gain: product * product / squares,
        amount: product / squares,
    })
}

/// Another mean from here on.
fn shift(&[count, _, _, of_x, _]: &[f64; 5], n: f64) -> Option<Fit> {
    let squares = count - count * count / n;
    (squares > 0.0).then(|| Fit {
        gain: of_x * of_x / squares,
        amount: of_x / squares,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_changes_are_found_exactly() {
        let places: Vec<usize> = (0..40).map(|at| at + at / 10).collect();
        let place = |at: usize| places.get(at).copied().expect("a place");
        let shifted: Vec<f64> = (0..40).map(|at| if at < 17 { 8.0 } else { 8.3 }).collect();
        let found = beginning(&shifted, &places, 0.01).expect("found");
        assert_eq!((found.kind, found.at), (ChangeKind::Shift, 17));
        assert!((found.amount - 0.3).abs() < 1e-9);
        let from = place(12);
        let drifting: Vec<f64> = (0..40)
            .map(|at| 8.0 - 0.02 * place(at).saturating_sub(from) as f64)
            .collect();
        let found = beginning(&drifting, &places, 0.001).expect("found");
        assert_eq!((found.kind, found.at), (ChangeKind::Drift, 12));
        assert!((found.amount + 0.02).abs() < 1e-9, "{}", found.amount);
        assert!(found.range.0 <= 12 && found.range.1 >= 12);
        assert_eq!(beginning(&[1.0; 6], &[0, 1, 2, 3, 4, 5], 1.0), None);
    }

    #[test]
    fn the_fit_is_that_of_a_direct_search() {
        // Independent: the sum of squares of every drift, by solving for mean and
        // slope directly.
        let mut random = crate::random::Random::seeded(4);
        let values: Vec<f64> = (0..30_i32)
            .map(|at| random.normal() + 0.5 * f64::from((at - 14).max(0)))
            .collect();
        let places: Vec<usize> = (0..30).collect();
        let squares = |from: usize| {
            let ramp: Vec<f64> = (0..30_usize)
                .map(|at| at.saturating_sub(from) as f64)
                .collect();
            let (rm, vm) = (
                ramp.iter().sum::<f64>() / 30.0,
                values.iter().sum::<f64>() / 30.0,
            );
            let pairs = || ramp.iter().zip(&values);
            let slope = pairs().map(|(r, v)| (r - rm) * (v - vm)).sum::<f64>()
                / ramp.iter().map(|r| (r - rm).powi(2)).sum::<f64>();
            pairs()
                .map(|(r, v)| (v - vm - slope * (r - rm)).powi(2))
                .sum::<f64>()
        };
        let direct = (0..27).min_by(|a, b| squares(*a).total_cmp(&squares(*b)));
        let found = beginning(&values, &places, 1.0).expect("found");
        assert_eq!(found.kind, ChangeKind::Drift);
        assert_eq!(Some(found.at), direct);
    }
}
