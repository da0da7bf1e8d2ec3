//! The shortest ways to finish, and how many there are.

use super::limits::LARGEST_START;
use super::{PlayError, Route, Target};

/// The shortest ways to finish a total, the last dart on a double.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct ShortestLegs {
    /// The total.
    pub start: u32,
    /// How many darts it takes at least.
    pub darts: usize,
    /// How many ordered ways there are in as many.
    pub ways: u128,
    /// The same by the last dart, the most first; doubles with none left out.
    pub by_last: Vec<(Target, u128)>,
}

/// Counts the shortest ways without listing them.
pub fn shortest_legs(start: u32) -> Result<ShortestLegs, PlayError> {
    let (darts, reach) = fewest(start)?;
    let too_many = || PlayError::TooManyWays(start);
    // ways[t]: ordered ways to score exactly t in as many darts as so far,
    // where the rest can still be finished in time.
    let mut ways = vec![0_u128; size(start)];
    if let Some(none) = ways.first_mut() {
        *none = 1;
    }
    for thrown in 1..darts {
        let mut next = vec![0_u128; ways.len()];
        for (total, count) in ways.iter().enumerate().filter(|(_, count)| **count > 0) {
            for target in Target::all() {
                let sum = total + usize::from(target.score());
                let left = (size(start) - 1)
                    .checked_sub(sum)
                    .and_then(|left| reach.get(left));
                if left
                    .copied()
                    .flatten()
                    .is_none_or(|fewest| fewest > darts - thrown)
                {
                    continue;
                }
                if let Some(sum) = next.get_mut(sum) {
                    *sum = sum.checked_add(*count).ok_or_else(too_many)?;
                }
            }
        }
        ways = next;
    }
    let before = |last: &Target| {
        let left = size(start) - 1;
        let total = left.checked_sub(usize::from(last.score()))?;
        ways.get(total).copied().filter(|count| *count > 0)
    };
    let doubles = Target::all().filter(|target| target.is_double());
    let mut by_last: Vec<_> = doubles
        .filter_map(|last| Some((last, before(&last)?)))
        .collect();
    by_last.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let sum = by_last
        .iter()
        .try_fold(0_u128, |sum, (_, count)| sum.checked_add(*count));
    Ok(ShortestLegs {
        start,
        darts,
        ways: sum.ok_or_else(too_many)?,
        by_last,
    })
}

/// Every shortest way, in order of the targets; at most `most` of them.
pub fn list_shortest(start: u32, most: usize) -> Result<Vec<Route>, PlayError> {
    let (darts, reach) = fewest(start)?;
    let mut found = Vec::new();
    let mut route = Vec::with_capacity(darts);
    list(start as usize, darts, &reach, most, &mut route, &mut found);
    Ok(found)
}

/// Depth first over targets after which the rest is still within reach.
fn list(
    left: usize,
    darts: usize,
    reach: &[Option<usize>],
    most: usize,
    route: &mut Vec<Target>,
    found: &mut Vec<Route>,
) {
    for target in Target::all() {
        if found.len() >= most {
            return;
        }
        let Some(rest) = left.checked_sub(usize::from(target.score())) else {
            continue;
        };
        route.push(target);
        if darts == 1 {
            if let (0, true, Ok(way)) = (rest, target.is_double(), Route::new(route.clone())) {
                found.push(way);
            }
        } else if reach
            .get(rest)
            .copied()
            .flatten()
            .is_some_and(|fewest| fewest < darts)
        {
            // A total within fewer darts cannot be: the start would be too.
            list(rest, darts - 1, reach, most, route, found);
        }
        route.pop();
    }
}

/// The totals that can be finished within some darts, smallest first.
pub fn finishes(darts: usize) -> Vec<u32> {
    #[allow(clippy::cast_possible_truncation)]
    let largest = (60 * darts.saturating_sub(1) as u32 + 50).min(LARGEST_START);
    let reach = reach(largest);
    let within = |total: &u32| {
        let fewest = reach.get(*total as usize).copied().flatten();
        fewest.is_some_and(|fewest| fewest <= darts)
    };
    (2..=largest).filter(within).collect()
}

pub(super) fn size(start: u32) -> usize {
    start as usize + 1
}

/// The fewest darts that finish a start, and those for every total up to it.
pub(super) fn fewest(start: u32) -> Result<(usize, Vec<Option<usize>>), PlayError> {
    if start < 2 {
        return Err(PlayError::StartTooSmall(start));
    }
    if start > LARGEST_START {
        return Err(PlayError::StartTooLarge(start));
    }
    let reach = reach(start);
    let darts = reach
        .last()
        .copied()
        .flatten()
        .ok_or(PlayError::StartTooSmall(start))?;
    Ok((darts, reach))
}

/// The fewest darts that finish each total from 0 up, where any do.
fn reach(largest: u32) -> Vec<Option<usize>> {
    let mut fewest: Vec<Option<usize>> = vec![None; size(largest)];
    for total in 1..fewest.len() {
        let mut best: Option<usize> = None;
        for target in Target::all() {
            let Some(rest) = total.checked_sub(usize::from(target.score())) else {
                continue;
            };
            let darts = match rest {
                0 => target.is_double().then_some(1),
                _ => fewest.get(rest).copied().flatten().map(|darts| darts + 1),
            };
            best = [best, darts].into_iter().flatten().min();
        }
        if let Some(entry) = fewest.get_mut(total) {
            *entry = best;
        }
    }
    fewest
}

#[cfg(test)]
mod tests {
    use super::*;

    // All figures here: recomputed independently.

    fn ways(legs: &ShortestLegs) -> Vec<(String, u128)> {
        legs.by_last
            .iter()
            .map(|(target, count)| (target.to_string(), *count))
            .collect()
    }

    #[test]
    fn a_leg_of_501_takes_nine_darts_in_3944_ways() {
        let legs = shortest_legs(501).expect("a start");
        assert_eq!((legs.darts, legs.ways), (9, 3944));
        let split = [
            ("Bull", 2296),
            ("D18", 792),
            ("D20", 672),
            ("D15", 120),
            ("D17", 56),
            ("D12", 8),
        ];
        assert_eq!(
            ways(&legs),
            split.map(|(target, count)| (target.to_owned(), count))
        );
    }

    #[test]
    fn listing_finds_as_many_as_counting() {
        for start in [2, 3, 40, 99, 170, 180, 301, 501] {
            let legs = shortest_legs(start).expect("a start");
            let listed = list_shortest(start, usize::MAX).expect("a start");
            assert_eq!(listed.len() as u128, legs.ways, "{start}");
            let distinct: std::collections::HashSet<_> = listed.iter().collect();
            assert_eq!(distinct.len(), listed.len());
            for route in &listed {
                assert_eq!((route.total(), route.targets().len()), (start, legs.darts));
                assert!(route.targets().last().is_some_and(|last| last.is_double()));
            }
        }
        assert_eq!(list_shortest(501, 10).expect("a start").len(), 10);
    }

    #[test]
    fn a_leg_of_1001_takes_seventeen() {
        let legs = shortest_legs(1001).expect("a start");
        assert_eq!(legs.darts, 17);
        assert_eq!(
            legs.ways,
            legs.by_last.iter().map(|(_, count)| count).sum::<u128>()
        );
    }

    #[test]
    fn three_darts_finish_162_totals_and_two_up_to_110() {
        let three = finishes(3);
        assert_eq!((three.len(), three.last()), (162, Some(&170)));
        let missing = |list: &[u32], largest: u32| -> Vec<u32> {
            (2..largest).filter(|total| !list.contains(total)).collect()
        };
        assert_eq!(missing(&three, 170), [159, 162, 163, 165, 166, 168, 169]);
        let two = finishes(2);
        assert_eq!(two.last(), Some(&110));
        assert_eq!(missing(&two, 110), [99, 102, 103, 105, 106, 108, 109]);
        assert_eq!(finishes(1).len(), 21);
        assert_eq!(finishes(0), Vec::<u32>::new());
    }

    #[test]
    fn three_darts_cannot_score_nine_totals_below_180() {
        let scores: Vec<u32> = Target::all()
            .map(|t| u32::from(t.score()))
            .chain([0])
            .collect();
        let mut possible = [false; 181];
        for a in &scores {
            for b in &scores {
                for c in &scores {
                    possible[(a + b + c) as usize] = true;
                }
            }
        }
        let missing: Vec<usize> = (0..181).filter(|total| !possible[*total]).collect();
        assert_eq!(missing, [163, 166, 169, 172, 173, 175, 176, 178, 179]);
    }

    #[test]
    fn a_start_out_of_range_is_refused() {
        for start in [0, 1] {
            assert_eq!(shortest_legs(start), Err(PlayError::StartTooSmall(start)));
        }
        assert_eq!(shortest_legs(10_002), Err(PlayError::StartTooLarge(10_002)));
        assert!(shortest_legs(10_001).is_ok_and(|legs| legs.ways > 0));
    }
}
