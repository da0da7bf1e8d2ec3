//! The best aim anywhere on the board, found by climbing.

use super::line::Outlook;
use super::outcome::{NOTHING, outcome};
use crate::geometry::Point;
use crate::play::aim::uphill;
use crate::play::{Hits, Setup, Slope, Spread, Throw, Worth};

/// A climb that has not ended by then is on a plain, where it may stop.
const MOST_STEPS: usize = 40;
/// Where a climb is given up: this many times what the next step promises
/// would still not reach the best that is known.
const HOPE: f64 = 8.0;

/// What climbs are made with.
#[derive(Clone, Copy, Debug)]
pub(super) struct Climber<'a> {
    setup: Setup<'a>,
    spread: Spread,
}

/// The cost of each aim, upside down.
pub(super) struct Hill<'a> {
    climber: Climber<'a>,
    worth: Worth,
    /// What a dart that scores nothing costs: what is won is counted from it.
    nothing: f64,
    /// A climb has arrived when its next step would win less.
    close: f64,
}

impl<'a> Climber<'a> {
    /// What an aim may cost too much, in darts or visits: a hundredth of what is
    /// promised for a whole leg of some hundred darts.
    pub(super) const TOLERANCE: f64 = 1e-10;

    pub(super) const fn new(setup: Setup<'a>, spread: Spread) -> Self {
        Self { setup, spread }
    }

    pub(super) fn hits(&self, aim: Point) -> Hits {
        let throw = Throw::at(aim, self.spread);
        self.setup.face.hits(&throw, self.setup.metal)
    }

    pub(super) fn hill(self, outlook: &Outlook) -> Hill<'a> {
        let cost = |outcome: usize| outlook.excess.get(outcome).copied().unwrap_or_default();
        let nothing = cost(NOTHING);
        let worth = Worth::from_fn(|bed| nothing - cost(outcome(bed)));
        let most = worth.values().iter().fold(0.0, |most: f64, w| most.max(w.abs()));
        // Chances are tiny numbers, darts are not: as close as the smaller asks.
        let close = Self::TOLERANCE * most.min(1.0);
        Hill {
            climber: self,
            worth,
            nothing,
            close,
        }
    }
}

impl Hill<'_> {
    fn at(&self, aim: Point) -> Slope {
        let (setup, spread) = (self.climber.setup, self.climber.spread);
        setup
            .face
            .slope(&Throw::at(aim, spread), setup.metal, &self.worth)
    }

    /// The top that is reached from a place, if that is not the place itself,
    /// nor likely to cost more than `best`.
    ///
    /// Newton's steps, no longer than the spread allows. What a step promises
    /// is exact in the limit, so that the value found is right to about what
    /// the last step promised.
    pub(super) fn climb(&self, start: Point, best: f64) -> Option<Point> {
        let best = self.nothing - best;
        let mut trust = self.climber.spread.smallest();
        let mut aim = start;
        let mut here = self.at(aim);
        for _ in 0..MOST_STEPS {
            let step = uphill(&here, trust);
            let promised = promise(&here, step);
            if promised < self.close || here.value + HOPE * promised < best {
                break;
            }
            let there = self.at(aim + step);
            if there.value > here.value {
                (aim, here) = (aim + step, there);
                trust *= 2.0;
            } else {
                trust = 0.3 * step.norm();
            }
        }
        let moved = (aim - start).norm() > 0.0;
        (moved && here.value > best).then_some(aim)
    }
}

/// What a step wins if the slope changes evenly, and at least what its first
/// part does.
fn promise(slope: &Slope, step: Point) -> f64 {
    let [gx, gy] = slope.gradient;
    let [xx, xy, yy] = slope.hessian;
    let first = gx * step.x + gy * step.y;
    let second = xx * step.x * step.x + 2.0 * xy * step.x * step.y + yy * step.y * step.y;
    (first + 0.5 * second).max(0.5 * first)
}
