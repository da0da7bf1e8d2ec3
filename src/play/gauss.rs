//! Gauss-Legendre rules: nodes and weights on −1 to 1.

use std::sync::LazyLock;

/// The fewest nodes of a rule that [`rule`] hands out.
const FEWEST: usize = 4;
/// The most.
pub(super) const MOST: usize = 10;

/// The longest panel, in standard deviations, that each rule from [`FEWEST`]
/// nodes upwards integrates to 1e-12 or better if the integrand varies as a
/// standard normal density does: error h^(2n+1)·(n!)⁴·(2n−1)!!/((2n+1)·(2n)!³).
/// The tests hold the probabilities to 1e-12.
const REACH: [f64; MOST - FEWEST + 1] = [0.30, 0.58, 0.95, 1.37, 1.83, 2.31, 2.80];

/// The longest panel that any rule is used on, in standard deviations.
pub(super) const LONGEST: f64 = 2.8;

/// The rule with just enough nodes, as pairs of node and weight, for a panel
/// of a length in standard deviations.
pub(super) fn rule(length: f64) -> &'static [(f64, f64)] {
    static RULES: LazyLock<Vec<Vec<(f64, f64)>>> =
        LazyLock::new(|| (FEWEST..=MOST).map(nodes).collect());
    let enough = REACH.iter().position(|reach| length <= *reach);
    RULES
        .get(enough.unwrap_or(MOST - FEWEST))
        .map_or(&[], Vec::as_slice)
}

/// Zeros of the Legendre polynomial of a degree, by Newton's method from the
/// usual asymptotic guess cos(π(i − ¼)/(n + ½)), with their weights.
fn nodes(degree: usize) -> Vec<(f64, f64)> {
    let n = degree as f64;
    let node = |i: usize| {
        let mut x = libm::cos(std::f64::consts::PI * (i as f64 + 0.75) / (n + 0.5));
        let mut slope = 1.0;
        // Converges quadratically; eight steps are twice what it takes.
        for _ in 0..8 {
            let (mut p, mut before) = (1.0, 0.0);
            for k in 0..degree {
                let k = k as f64;
                (p, before) = (((2.0 * k + 1.0) * x * p - k * before) / (k + 1.0), p);
            }
            slope = n * (x * p - before) / (x * x - 1.0);
            x -= p / slope;
        }
        (x, 2.0 / ((1.0 - x * x) * slope * slope))
    };
    (0..degree).map(node).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_of_n_nodes_integrates_powers_up_to_twice_n_minus_one() {
        for degree in FEWEST..=MOST {
            let rule = nodes(degree);
            for power in 0..(2 * degree) {
                let power = i32::try_from(power).expect("small");
                let sum: f64 = rule.iter().map(|(x, w)| w * x.powi(power)).sum();
                let exact = if power % 2 == 0 {
                    2.0 / f64::from(power + 1)
                } else {
                    0.0
                };
                assert!(
                    (sum - exact).abs() < 1e-14,
                    "{degree} nodes, power {power}: {sum}"
                );
            }
        }
    }

    #[test]
    fn a_longer_panel_gets_no_fewer_nodes() {
        let counts = [0.0, 0.1, 0.4, 0.7, 1.0, 1.5, 2.0, 2.5].map(|length| rule(length).len());
        assert_eq!(counts, [4, 4, 5, 6, 7, 8, 9, 10]);
    }
}
