//! Runs of values on one side of the median.

/// The probability that so many values, each above or below as a coin falls, have a
/// run on one side of at least `length`: exact, by recursion over the length of the
/// run that is going on.
///
/// ```
/// use ringrule::lot::longest_run_alarm;
///
/// // By hand: of the eight sequences of three, six have a run of two.
/// assert!((longest_run_alarm(2, 3) - 0.75).abs() < 1e-12);
/// ```
pub fn longest_run_alarm(length: usize, count: usize) -> f64 {
    if length <= 1 {
        return f64::from(u8::from(count >= length));
    }
    // The probability of a run of 1, 2 … that is going on, and none too long yet.
    let mut going = vec![0.0; length - 1];
    if let (Some(first), true) = (going.first_mut(), count > 0) {
        *first = 1.0;
    }
    for _ in 1..count {
        let all: f64 = going.iter().sum();
        going.rotate_right(1);
        for own in &mut going {
            *own *= 0.5;
        }
        if let Some(first) = going.first_mut() {
            *first = 0.5 * all;
        }
    }
    if count == 0 {
        return 0.0;
    }
    (1.0 - going.iter().sum::<f64>()).max(0.0)
}

/// The shortest run that so many values have with no more than this probability.
pub fn shortest_odd_run(probability: f64, count: usize) -> usize {
    // A run longer than all values never comes.
    let odd = |length: &usize| longest_run_alarm(*length, count) <= probability;
    (2..=count).find(odd).unwrap_or(count + 1)
}

/// A run on one side: the first and the last of its values, by their index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct SideRun {
    pub(super) first: usize,
    pub(super) last: usize,
    pub(super) length: usize,
    pub(super) is_above: bool,
}

/// Every run of at least `length` values on one side of `middle`. Values on it, as
/// rounded ones often are, neither count nor end a run.
pub(super) fn runs(values: &[f64], middle: f64, length: usize) -> Vec<SideRun> {
    let mut found: Vec<SideRun> = Vec::new();
    for (index, value) in values.iter().enumerate() {
        let away = value - middle;
        if away.abs() < 1e-9 {
            continue;
        }
        let is_above = away > 0.0;
        match found.last_mut() {
            Some(run) if run.is_above == is_above => {
                run.last = index;
                run.length += 1;
            }
            _ => found.push(SideRun {
                first: index,
                last: index,
                length: 1,
                is_above,
            }),
        }
    }
    found.retain(|run| run.length >= length);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn probabilities_are_those_of_counting_every_sequence() {
        // Independent: every one of 2^12 sequences is looked at.
        for length in 2..8_usize {
            let odd = (0..4096_u32).filter(|bits| {
                let sides: Vec<f64> = (0..12)
                    .map(|at| if bits >> at & 1 == 1 { 1.0 } else { -1.0 })
                    .collect();
                !runs(&sides, 0.0, length).is_empty()
            });
            let counted = odd.count() as f64 / 4096.0;
            assert!((longest_run_alarm(length, 12) - counted).abs() < 1e-12);
        }
        assert_eq!(shortest_odd_run(0.5, 3), 3);
        assert_eq!(shortest_odd_run(0.01, 3), 4);
    }

    #[test]
    fn values_on_the_median_do_not_end_a_run() {
        let found = runs(&[1.0, 0.0, 2.0, -1.0, 0.0], 0.0, 2);
        let expected = SideRun {
            first: 0,
            last: 2,
            length: 2,
            is_above: true,
        };
        assert_eq!(found, [expected]);
    }
}
