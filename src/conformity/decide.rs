//! A value, its uncertainty and a rule make a verdict.

use thiserror::Error;

use crate::table::Decision;
use crate::units::{Angle, Length, Percent, Uncertainty};

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
    /// Whether the uncertainty is larger than the simple rule allows.
    pub too_coarse: bool,
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

impl Decidable for Angle {
    /// In degrees.
    fn number(self) -> f64 {
        self.as_degrees()
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
/// let decided = decide(width(7.7), None, limits, Decision::BARE)?;
/// assert_eq!(decided.verdict, Verdict::DoesNotConform);
/// assert!(decide(width(7.7), None, (limits.1, limits.0), Decision::BARE).is_err());
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
    decide_sides(value, uncertainty.map(|u| (u, u)), limits, rule)
}

/// The same, where limits may move with what was measured: the uncertainties
/// are those of the value less the lower and less the upper limit.
pub(super) fn decide_sides<Q: Decidable>(
    value: Q,
    uncertainties: Option<(Uncertainty, Uncertainty)>,
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
    let Some((to_lower, to_upper)) = uncertainties else {
        let verdict = match rule {
            Decision::Simple { .. } => simple,
            // Nothing is known of the probability that the rule asks for.
            Decision::Guarded { .. } => Verdict::Inconclusive,
        };
        return Decided {
            verdict,
            probability: None,
            too_coarse: false,
        };
    };
    // Tails are computed as tails: one minus nearly one loses its digits.
    let tail = |u: Uncertainty, distance: f64, within: bool| match (u.standard() == 0.0, within) {
        (true, true) => 0.0,
        (true, false) => 1.0,
        (false, _) => u.probability_below(distance / u.standard()),
    };
    let below = lower.map_or(0.0, |limit| tail(to_lower, limit - value, above_lower));
    let above = upper.map_or(0.0, |limit| tail(to_upper, value - limit, below_upper));
    let probability = (1.0 - below - above).clamp(0.0, 1.0);
    let expanded = |u: Uncertainty| u.expanded().expanded;
    let expanded = expanded(to_lower).max(expanded(to_upper));
    let too_coarse = most(rule, lower, upper).is_some_and(|most| expanded > most * (1.0 + NOISE));
    let verdict = match rule {
        // A value that lies outside by more than its uncertainty is outside,
        // however badly it was measured.
        Decision::Simple { .. } if too_coarse => {
            let beyond = |limit: f64, away: f64| away > expanded + noise(limit);
            let outside = lower.is_some_and(|limit| beyond(limit, limit - value))
                || upper.is_some_and(|limit| beyond(limit, value - limit));
            if outside {
                Verdict::DoesNotConform
            } else {
                Verdict::Inconclusive
            }
        }
        Decision::Simple { .. } => simple,
        Decision::Guarded { confidence, .. } => {
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
        too_coarse,
    }
}

/// The largest expanded uncertainty with which the simple rule decides between
/// these limits, in the unit of the limits; `None` for any.
fn most(rule: Decision, lower: Option<f64>, upper: Option<f64>) -> Option<f64> {
    let Decision::Simple { max_uncertainty } = rule else {
        return None;
    };
    Some(max_uncertainty?.ratio() * (upper? - lower?))
}

/// The largest standard uncertainty with which the rule would decide about this
/// value, were it the true one; `None` if none would, because the value lies on
/// a limit. Under the simple rule any uncertainty that it allows will do. The
/// degrees of freedom are those of the uncertainty that is known.
pub fn deciding_uncertainty<Q: Decidable>(
    value: Q,
    limits: (Option<Q>, Option<Q>),
    rule: Decision,
    known: Option<Uncertainty>,
) -> Option<f64> {
    let degrees_of_freedom = known.map_or(f64::INFINITY, Uncertainty::degrees_of_freedom);
    if matches!(rule, Decision::Simple { .. }) {
        let most = most(rule, limits.0.map(Q::number), limits.1.map(Q::number));
        return Some(most.map_or(f64::INFINITY, |most| most / 2.0));
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
mod tests;
