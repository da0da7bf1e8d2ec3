//! Which of the shortest ways to finish is easiest for a player.

use super::legs::{fewest, size};
use super::{PlayError, Route, Target};

/// Ways whose logarithms of probability differ by no more than this are equally
/// easy: far above rounding, far below what anybody could notice.
const TIE: f64 = 1e-6;

/// The easiest of the shortest ways to finish.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct EasiestLegs {
    /// One of them. Of equally easy ones, the one whose scores, the largest
    /// first, are largest; of the same scores, singles before doubles before
    /// trebles, as [`Target`] orders them.
    pub route: Route,
    /// The natural logarithm of its probability.
    pub log: f64,
    /// How many ordered ways are equally easy, this one included: their
    /// logarithms differ by at most a millionth.
    pub equal: u128,
}

/// The easiest of the shortest ways to finish a total, and how many are equally
/// easy. `probability` gives the probability of a target, 0 to 1. `None` if every
/// shortest way needs a target that is never hit.
pub fn easiest_legs(
    start: u32,
    probability: impl Fn(Target) -> f64,
) -> Result<Option<EasiestLegs>, PlayError> {
    let (darts, _) = fewest(start)?;
    let mut targets: Vec<(Target, f64)> = Target::all()
        .map(|target| (target, libm::log(probability(target))))
        .collect();
    // The larger scores first; stable, so that others keep their order.
    targets.sort_by_key(|(target, _)| std::cmp::Reverse(target.score()));
    let mut rows = vec![Row::of(size(start), &targets, None, darts)];
    for _ in 1..darts {
        let row = Row::of(size(start), &targets, rows.last(), darts);
        rows.push(row);
    }
    let mut total = size(start) - 1;
    let Some(&Entry {
        log: Some(log),
        ways,
        ..
    }) = rows.last().and_then(|row| row.0.get(total))
    else {
        return Ok(None);
    };
    let mut route = Vec::with_capacity(darts);
    for row in rows.iter().rev() {
        let Some(target) = row.0.get(total).and_then(|entry| entry.first) else {
            return Ok(None);
        };
        route.push(target);
        total -= usize::from(target.score());
    }
    // The order does not change the product: the finish stays last.
    if let Some((_, scoring)) = route.split_last_mut() {
        scoring.sort_by_key(|target| std::cmp::Reverse(target.score()));
    }
    let equal = ways.ok_or(PlayError::TooManyWays(start))?;
    Ok(Some(EasiestLegs {
        route: Route::new(route)?,
        log,
        equal,
    }))
}

/// The route and the logarithm of [`easiest_legs`].
pub fn easiest_leg(
    start: u32,
    probability: impl Fn(Target) -> f64,
) -> Result<Option<(Route, f64)>, PlayError> {
    let easiest = easiest_legs(start, probability)?;
    Ok(easiest.map(|easiest| (easiest.route, easiest.log)))
}

/// The easiest ways on from a total in as many darts as a row stands for.
#[derive(Clone, Copy, Debug)]
struct Entry {
    /// The logarithm of the probability of the easiest.
    log: Option<f64>,
    /// The first target of the one that is chosen.
    first: Option<Target>,
    /// How many are equally easy; nothing if they cannot be counted.
    ways: Option<u128>,
}

/// By total.
struct Row(Vec<Entry>);

impl Row {
    /// From the row of one dart fewer; none of the last dart, which needs a
    /// double. `darts` share what ways may differ by between them.
    fn of(size: usize, targets: &[(Target, f64)], before: Option<&Self>, darts: usize) -> Self {
        let entry = |total: usize| {
            let next = |&(target, log): &(Target, f64)| {
                let rest = total.checked_sub(usize::from(target.score()))?;
                let (after, ways) = match before {
                    None => (rest == 0 && target.is_double()).then_some((0.0, Some(1)))?,
                    Some(row) => {
                        let entry = row.0.get(rest)?;
                        (entry.log?, entry.ways)
                    }
                };
                let sum = log + after;
                // NaN and −∞, a target that is never hit, are no way.
                (sum > f64::NEG_INFINITY).then_some((sum, target, ways))
            };
            let steps: Vec<_> = targets.iter().filter_map(next).collect();
            let best = steps.iter().map(|(sum, ..)| *sum).reduce(f64::max);
            let share = TIE / darts as f64;
            let mut equal = steps
                .iter()
                .filter(|(sum, ..)| best.is_some_and(|best| best - sum <= share))
                .peekable();
            Entry {
                log: best,
                first: equal.peek().map(|(_, target, _)| *target),
                ways: equal.try_fold(0_u128, |sum, (_, _, ways)| sum.checked_add((*ways)?)),
            }
        };
        Self((0..size).map(entry).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{AimRule, Face, Metal, Player, Setup, Spread, list_shortest};
    use super::*;
    use crate::fixtures::round;

    #[test]
    fn the_easiest_leg_is_the_easiest_of_all_listed() {
        // Probabilities that favour the nineteens. Invented.
        let probability = |target: Target| match target {
            Target::Treble(n) => 0.2 + 0.01 * f64::from(n.value() % 7),
            Target::Bull => 0.15,
            Target::Double(n) => 0.25 + 0.002 * f64::from(n.value()),
            _ => 0.5,
        };
        for start in [41, 170, 301, 501] {
            let (route, log) = easiest_leg(start, probability)
                .expect("a start")
                .expect("a way");
            let product = |route: &Route| -> f64 {
                route
                    .targets()
                    .iter()
                    .map(|target| libm::log(probability(*target)))
                    .sum()
            };
            assert!((product(&route) - log).abs() < 1e-12);
            assert_eq!(route.total(), start);
            let listed = list_shortest(start, usize::MAX).expect("a start");
            assert!(listed.contains(&route), "{route}");
            assert!(
                listed.iter().all(|other| product(other) <= log + 1e-12),
                "{route}"
            );
        }
        assert_eq!(easiest_leg(170, |_| 0.0), Ok(None));
    }

    #[test]
    fn ties_are_counted_and_settled_by_the_larger_scores() {
        // Recomputed independently: on a board to rule, aimed at the middles of
        // beds, 920 of the 3,944 legs of 501 are equally easy, and all 816 of
        // 1001.
        let face = Face::of(&round()).expect("all wires known");
        let player = Player {
            setup: Setup {
                face: &face,
                metal: Metal::Lost,
            },
            spread: Spread::new(10.0).expect("a spread"),
            aim: AimRule::Middle,
        };
        let probabilities: Vec<(Target, f64)> = Target::all()
            .map(|target| (target, player.probability(target)))
            .collect();
        // What rounding does, made worse.
        let noisy = |noise: f64| {
            let probabilities = probabilities.clone();
            move |target: Target| {
                let found = probabilities.iter().position(|(other, _)| *other == target);
                let place = found.expect("a target");
                probabilities[place].1 * (1.0 + noise * libm::sin(place as f64))
            }
        };
        let easiest = |start, noise| {
            let easiest = easiest_legs(start, noisy(noise)).expect("a start");
            easiest.expect("a way")
        };
        assert_eq!(easiest(501, 0.0).equal, 920);
        assert_eq!(easiest(1001, 0.0).equal, 816);
        for start in [170, 501, 1001] {
            assert_eq!(easiest(start, 0.0).route, easiest(start, 1e-9).route);
            assert_eq!(easiest(start, 0.0).route, easiest(start, -1e-9).route);
            assert_eq!(easiest(start, 0.0).equal, easiest(start, 1e-9).equal);
        }
    }
}
