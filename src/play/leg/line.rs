//! Expected costs as functions of what a void visit costs.

use super::outcome::{ByOutcome, NOTHING, OUTCOMES, SCORES, is_double};

/// The expected cost of a visit and all after it, as a straight line in the cost `v`
/// of a void visit and all after it, under a fixed policy: `v + excess`, where
/// the excess falls by `leave` for each unit of `v`. Kept relative to `v` since
/// a poor player's visits almost always come to nothing: both parts are then
/// small numbers that would drown in a large one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Line {
    pub(super) excess: f64,
    /// The probability that the visit is not void, 0 to 1.
    pub(super) leave: f64,
}

impl Line {
    /// A void visit.
    pub(super) const VOID: Self = Self {
        excess: 0.0,
        leave: 0.0,
    };

    /// A cost that does not depend on what a void visit costs.
    pub(super) const fn fixed(cost: f64, void: f64) -> Self {
        Self {
            excess: cost - void,
            leave: 1.0,
        }
    }

    /// The same policy where a void visit costs this much more.
    pub(super) const fn moved(self, more: f64) -> Self {
        Self {
            excess: self.excess - self.leave * more,
            ..self
        }
    }
}

/// What follows each outcome of a dart.
#[derive(Clone, Debug)]
pub(super) struct Outlook {
    pub(super) excess: ByOutcome,
    pub(super) leave: ByOutcome,
}

impl Outlook {
    /// From what follows nothing, and what follows a score by a double or
    /// otherwise.
    pub(super) fn new(nothing: Line, after: impl Fn(usize, bool) -> Line) -> Self {
        let mut outlook = Self {
            excess: [0.0; OUTCOMES],
            leave: [0.0; OUTCOMES],
        };
        let places = outlook.excess.iter_mut().zip(&mut outlook.leave);
        for (outcome, ((excess, leave), score)) in places.zip(SCORES).enumerate() {
            let line = match score {
                0 if outcome == NOTHING => nothing,
                0 => Line::VOID,
                _ => after(score, is_double(outcome)),
            };
            (*excess, *leave) = (line.excess, line.leave);
        }
        outlook
    }
}
