//! Which of the shortest ways to finish is easiest for a player.

use super::legs::{fewest, size};
use super::{PlayError, Route, Target};

/// The logarithm of the probability of the easiest way on from a total, and its
/// first target.
type Step = Option<(f64, Target)>;

/// The shortest way with the largest product of probabilities, and the natural
/// logarithm of that product. `probability` gives the probability of a target, 0 to 1.
/// `None` if every shortest way needs a target that is never hit. Of equally
/// easy ways, the one that throws at the larger scores first.
pub fn easiest_leg(
    start: u32,
    probability: impl Fn(Target) -> f64,
) -> Result<Option<(Route, f64)>, PlayError> {
    let (darts, _) = fewest(start)?;
    let targets: Vec<(Target, f64)> = Target::all()
        .map(|target| (target, libm::log(probability(target))))
        .collect();
    // best[k][t]: the easiest way to finish t in exactly k darts.
    let mut best: Vec<Vec<Step>> = vec![vec![None; size(start)]];
    for dart in 1..=darts {
        let mut row: Vec<Step> = vec![None; size(start)];
        for (total, entry) in row.iter_mut().enumerate() {
            for (target, log) in &targets {
                let Some(rest) = total.checked_sub(usize::from(target.score())) else {
                    continue;
                };
                let after = if dart == 1 {
                    (rest == 0 && target.is_double()).then_some(0.0)
                } else {
                    let before = best.last().and_then(|row| row.get(rest)).copied().flatten();
                    before.map(|(log, _)| log)
                };
                let Some(sum) = after.map(|after| after + log) else {
                    continue;
                };
                // NaN and −∞, a target that is never hit, are no way.
                if sum > f64::NEG_INFINITY && entry.is_none_or(|(other, _)| sum > other) {
                    *entry = Some((sum, *target));
                }
            }
        }
        best.push(row);
    }
    let mut total = size(start) - 1;
    let mut route = Vec::with_capacity(darts);
    let mut log = None;
    for row in best.iter().skip(1).rev() {
        let Some((sum, target)) = row.get(total).copied().flatten() else {
            return Ok(None);
        };
        log = log.or(Some(sum));
        route.push(target);
        total -= usize::from(target.score());
    }
    // The order does not change the product: the finish stays last.
    if let Some((_, scoring)) = route.split_last_mut() {
        scoring.sort_by_key(|target| std::cmp::Reverse(target.score()));
    }
    Ok(Route::new(route).ok().zip(log))
}

#[cfg(test)]
mod tests {
    use super::super::list_shortest;
    use super::*;

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
}
