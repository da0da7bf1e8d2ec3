//! A value, its uncertainty and a rule make a verdict.

use thiserror::Error;

use crate::table::Decision;
use crate::units::{Length, Percent, Uncertainty};

words! {
    /// What can be said of a limit, a band or a board. There are these three and no
    /// more: match on all of them.
    ///
    /// ```
    /// use ringrule::conformity::Verdict;
    ///
    /// let worst = [Verdict::Conforms, Verdict::DoesNotConform].into_iter().max();
    /// assert_eq!(worst, Some(Verdict::DoesNotConform));
    /// assert_eq!(Verdict::DoesNotConform.to_string(), "does not conform");
    /// ```
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    pub enum Verdict {
        /// Within the limits, as the decision rule asks.
        Conforms = "conforms",
        /// Neither can be said.
        Inconclusive = "inconclusive",
        /// Beyond a limit, as the decision rule asks.
        DoesNotConform = "does not conform",
    }

    /// The words.
    fn words;
    impl Display = words;
}

/// A verdict and the probability that the true value conforms.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Decided {
    /// The verdict under the rule.
    pub verdict: Verdict,
    /// The probability of conformity, 0 to 1, if an uncertainty is stated.
    pub probability: Option<f64>,
}

/// How far beyond a limit a value may lie and still be on it, relative to the
/// limit: the noise of decimal numbers in binary arithmetic, not a tolerance.
/// House rule: a hundredth of a nanometre on a millimetre scale of 100.
const NOISE: f64 = 1e-10;

/// What limits can be set on: a kind of number that compares with its own kind
/// only.
pub trait Decidable: Copy {
    /// The number, in the unit that uncertainties are stated in.
    fn number(self) -> f64;
}

impl Decidable for Length {
    /// In mm.
    fn number(self) -> f64 {
        self.as_mm()
    }
}

impl Decidable for Percent {
    /// In percent.
    fn number(self) -> f64 {
        self.value()
    }
}

/// Numbers on which nothing can be decided.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum DecideError {
    /// A value, a limit or an uncertainty that is not a number, or infinite.
    #[error("{0} is not a finite number; leave a limit out if there is none")]
    NotFinite(f64),
    /// A lower limit above the upper one.
    #[error("the lower limit, {0}, is above the upper limit, {1}")]
    Inverted(f64, f64),
}

/// Decides whether a value conforms to `limits`, the lower and the upper one;
/// a missing one leaves its side open.
///
/// The probability of conformity of a value y with standard uncertainty u is
/// Φ((U − y)/u) − Φ((L − y)/u), the value being normal (JCGM 106 clause 7,
/// from memory). Under the guarded rule a value does not conform only if the
/// probability of lying beyond the nearer limit reaches the confidence: one
/// minus the first would condemn a poorly measured value inside the limits.
///
/// ```
/// use ringrule::conformity::{Verdict, decide};
/// use ringrule::table::Decision;
/// use ringrule::units::Length;
///
/// let width = |mm| Length::mm(mm);
/// let limits = (Some(width(7.8)), Some(width(8.2)));
/// let decided = decide(width(7.7), None, limits, Decision::Simple)?;
/// assert_eq!(decided.verdict, Verdict::DoesNotConform);
/// assert!(decide(width(7.7), None, (limits.1, limits.0), Decision::Simple).is_err());
/// # Ok::<(), ringrule::conformity::DecideError>(())
/// ```
pub fn decide<Q: Decidable>(
    value: Q,
    uncertainty: Option<Uncertainty>,
    limits: (Option<Q>, Option<Q>),
    rule: Decision,
) -> Result<Decided, DecideError> {
    let (lower, upper) = (limits.0.map(Q::number), limits.1.map(Q::number));
    // Uncertainties that are finite by themselves can overflow when combined.
    let standard = uncertainty.map(Uncertainty::standard);
    for number in [Some(value.number()), lower, upper, standard] {
        if let Some(number) = number.filter(|number| !number.is_finite()) {
            return Err(DecideError::NotFinite(number));
        }
    }
    match (lower, upper) {
        (Some(lower), Some(upper)) if lower > upper => Err(DecideError::Inverted(lower, upper)),
        _ => Ok(decide_on(value, uncertainty, limits, rule)),
    }
}

/// The same for numbers that were checked where they were read.
pub(super) fn decide_on<Q: Decidable>(
    value: Q,
    uncertainty: Option<Uncertainty>,
    limits: (Option<Q>, Option<Q>),
    rule: Decision,
) -> Decided {
    let value = value.number();
    let (lower, upper) = (limits.0.map(Q::number), limits.1.map(Q::number));
    let noise = |limit: f64| NOISE * limit.abs().max(1e-3);
    let above_lower = lower.is_none_or(|limit| value >= limit - noise(limit));
    let below_upper = upper.is_none_or(|limit| value <= limit + noise(limit));
    let inside = above_lower && below_upper;
    let simple = if inside {
        Verdict::Conforms
    } else {
        Verdict::DoesNotConform
    };
    let Some(uncertainty) = uncertainty else {
        let verdict = match rule {
            Decision::Simple => simple,
            // Nothing is known of the probability that the rule asks for.
            Decision::Guarded { .. } => Verdict::Inconclusive,
        };
        return Decided {
            verdict,
            probability: None,
        };
    };
    let u = uncertainty.standard();
    if u == 0.0 {
        return Decided {
            verdict: simple,
            probability: Some(if inside { 1.0 } else { 0.0 }),
        };
    }
    // Tails are computed as tails: one minus nearly one loses its digits.
    let below = lower.map_or(0.0, |limit| {
        uncertainty.probability_below((limit - value) / u)
    });
    let above = upper.map_or(0.0, |limit| {
        uncertainty.probability_below((value - limit) / u)
    });
    let probability = (1.0 - below - above).clamp(0.0, 1.0);
    let verdict = match rule {
        Decision::Simple => simple,
        Decision::Guarded { confidence } => {
            if probability >= confidence.ratio() {
                Verdict::Conforms
            } else if below.max(above) >= confidence.ratio() {
                Verdict::DoesNotConform
            } else {
                Verdict::Inconclusive
            }
        }
    };
    Decided {
        verdict,
        probability: Some(probability),
    }
}

/// The largest standard uncertainty with which the rule would decide about this
/// value, were it the true one; `None` if none would, because the value lies on
/// a limit. Under the simple rule any uncertainty will do: infinity. The
/// degrees of freedom are those of the uncertainty that is known.
pub fn deciding_uncertainty<Q: Decidable>(
    value: Q,
    limits: (Option<Q>, Option<Q>),
    rule: Decision,
    known: Option<Uncertainty>,
) -> Option<f64> {
    let degrees_of_freedom = known.map_or(f64::INFINITY, Uncertainty::degrees_of_freedom);
    if rule == Decision::Simple {
        return Some(f64::INFINITY);
    }
    let decides = |u: f64| {
        let u = Uncertainty::with_degrees(u, degrees_of_freedom);
        decide_on(value, Some(u), limits, rule).verdict != Verdict::Inconclusive
    };
    // From a nanometre to a kilometre on a scale of mm.
    let (mut yes, mut no) = (1e-6, 1e6);
    if !decides(yes) {
        return None;
    }
    if decides(no) {
        return Some(f64::INFINITY);
    }
    // Each probability falls or rises steadily with u: halving finds the turn.
    for _ in 0..100 {
        let middle = libm::sqrt(yes * no);
        if decides(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    Some(yes)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GUARDED: Decision = Decision::Guarded {
        confidence: Percent::finite(95.0),
    };

    fn mm(lower: f64, upper: f64) -> (Option<Length>, Option<Length>) {
        (Some(Length::mm(lower)), Some(Length::mm(upper)))
    }

    #[test]
    fn nothing_is_decided_on_numbers_that_are_none() {
        let on = |value: f64, u: f64, lower: f64, upper: f64| {
            let limits = (Some(Percent::finite(lower)), Some(Percent::finite(upper)));
            let u = Some(Uncertainty::finite(u));
            decide(Percent::finite(value), u, limits, GUARDED)
        };
        for (value, u, lower, upper) in [
            (f64::NAN, 1.0, -5.0, 5.0),
            (0.0, f64::INFINITY, -5.0, 5.0),
            (0.0, 1.0, f64::NEG_INFINITY, 5.0),
            (0.0, 1.0, -5.0, f64::NAN),
        ] {
            let found = on(value, u, lower, upper);
            assert!(matches!(found, Err(DecideError::NotFinite(_))), "{found:?}");
        }
        assert_eq!(
            on(0.0, 1.0, 5.0, -5.0),
            Err(DecideError::Inverted(5.0, -5.0))
        );
        assert!(on(0.0, 1.0, -5.0, 5.0).is_ok());
    }

    #[test]
    fn conformity_probabilities_are_the_ones_of_the_guide() {
        // JCGM 106 clause 7, from memory; recomputed independently.
        let p = |y, u, lower: Option<f64>, upper: Option<f64>| {
            let limits = (lower.map(Percent::finite), upper.map(Percent::finite));
            let u = Some(Uncertainty::finite(u));
            let decided = decide(Percent::finite(y), u, limits, Decision::Simple).expect("finite");
            decided.probability.expect("stated")
        };
        assert!((p(-5.47, 0.05, None, Some(-5.40)) - 0.91924).abs() < 5e-6);
        assert!((p(509.7, 8.6, Some(490.0), None) - 0.98901).abs() < 5e-6);
        assert!((p(13.6, 1.8, Some(12.5), Some(16.3)) - 0.66263).abs() < 5e-6);
    }

    #[test]
    fn a_value_on_the_limit_conforms_whatever_its_binary_noise() {
        let value = 107.0 - 98.8; // 8.2 in decimals, 8.200000000000003 in binary
        assert!(value > 8.2);
        let decided = decide_on(Length::mm(value), None, mm(7.8, 8.2), Decision::Simple);
        assert_eq!(decided.verdict, Verdict::Conforms);
        let decided = decide_on(Length::mm(8.200_001), None, mm(7.8, 8.2), Decision::Simple);
        assert_eq!(decided.verdict, Verdict::DoesNotConform);
    }

    #[test]
    fn a_very_poor_measurement_condemns_nothing() {
        let verdict = |y, u| {
            let u = Some(Uncertainty::finite(u));
            decide_on(Length::mm(y), u, mm(7.8, 8.2), GUARDED).verdict
        };
        assert_eq!(verdict(8.0, 0.05), Verdict::Conforms);
        assert_eq!(verdict(8.19, 0.05), Verdict::Inconclusive);
        assert_eq!(verdict(8.4, 0.05), Verdict::DoesNotConform);
        assert_eq!(verdict(8.0, 5.0), Verdict::Inconclusive);
    }

    #[test]
    fn guard_bands_are_the_ones_of_the_interval() {
        // Guard band as a multiple of u at 95 %, by T/u: recomputed
        // independently. The value that far inside the limit just conforms.
        for (width, multiple) in [
            (4.0, 1.79621),
            (5.0, 1.64877),
            (6.0, 1.64492),
            (8.0, 1.64485),
        ] {
            let u = Some(Uncertainty::finite(1.0));
            let verdict = |y| decide_on(Length::mm(y), u, mm(0.0, width), GUARDED).verdict;
            assert_eq!(verdict(multiple + 1e-4), Verdict::Conforms, "T/u {width}");
            assert_eq!(
                verdict(multiple - 1e-4),
                Verdict::Inconclusive,
                "T/u {width}"
            );
        }
    }

    #[test]
    fn the_deciding_uncertainty_is_the_largest_that_decides() {
        for value in [8.0, 8.17, 8.25, 7.0] {
            let (value, limits) = (Length::mm(value), mm(7.8, 8.2));
            let u = deciding_uncertainty(value, limits, GUARDED, None).expect("off the limit");
            let verdict =
                |u| decide_on(value, Some(Uncertainty::finite(u)), limits, GUARDED).verdict;
            assert_ne!(verdict(u), Verdict::Inconclusive, "{value}");
            assert_eq!(verdict(u * 1.001), Verdict::Inconclusive, "{value}");
        }
        let on_it = |rule| deciding_uncertainty(Length::mm(8.2), mm(7.8, 8.2), rule, None);
        assert_eq!(on_it(GUARDED), None);
        let simple = on_it(Decision::Simple);
        assert_eq!(simple, Some(f64::INFINITY));
    }

    #[test]
    fn without_an_uncertainty_only_the_simple_rule_decides() {
        let verdict = |rule| decide_on(Length::mm(8.0), None, mm(7.8, 8.2), rule).verdict;
        assert_eq!(verdict(Decision::Simple), Verdict::Conforms);
        assert_eq!(verdict(GUARDED), Verdict::Inconclusive);
    }
}
