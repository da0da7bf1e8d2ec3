//! The best aim anywhere on the board, found by climbing.

use super::line::Outlook;
use super::outcome::{ByOutcome, NOTHING, OUTCOMES, mean, outcome};
use crate::geometry::{Bed, Point};
use crate::play::aim::uphill;
use crate::play::{Setup, Slope, Spread, Throw};

/// A climb that has not ended by then is on a plain, where it may stop.
const MOST_STEPS: usize = 40;
/// Where a climb is given up: this many times what the next step promises
/// would still not reach the best that is known.
const HOPE: f64 = 5.0;
/// A climb that comes this near to a top, as a share of the spread, is on its
/// hill.
pub(super) const SAME_HILL: f64 = 0.3;

/// What climbs are made with.
#[derive(Clone, Copy, Debug)]
pub(super) struct Climber<'a> {
    setup: Setup<'a>,
    spread: Spread,
    /// The spread in the direction in which it is smallest, in mm.
    pub(super) narrow: f64,
    /// A climb has arrived when its next step would win less, in the unit of
    /// costs; or less than this share of all that is at stake, if that is less
    /// than one.
    pub(super) tolerance: f64,
}

/// A place, and how the probabilities of all outcomes change about it. The slope
/// of any cost follows without another look at the board.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) at: Point,
    /// The bed that is hit most often from there.
    pub(super) bed: Bed,
    pub(super) chances: ByOutcome,
    gradient: [ByOutcome; 2],
    hessian: [ByOutcome; 3],
}

/// Where a climb has led: to a new place, or nowhere.
pub(super) struct Top {
    pub(super) place: Option<Place>,
    /// The cost there.
    pub(super) cost: f64,
    /// The top, unless the climb was given up.
    pub(super) arrived: Option<Point>,
    /// What the top costs at least, as far as can be told from where the climb
    /// was given up; infinite where it came to the hill that was known.
    pub(super) bound: f64,
}

impl<'a> Climber<'a> {
    pub(super) fn new(setup: Setup<'a>, spread: Spread, tolerance: f64) -> Self {
        Self {
            setup,
            spread,
            narrow: spread.smallest(),
            tolerance,
        }
    }

    /// What there is to know of a place.
    pub(super) fn place(&self, at: Point) -> Place {
        let throw = Throw::at(at, self.spread);
        let slopes = self.setup.face.slopes(&throw, self.setup.metal);
        let mut place = Place {
            at,
            bed: Bed::new(crate::board::Band::InnerBull, 0),
            chances: [0.0; OUTCOMES],
            gradient: [[0.0; OUTCOMES]; 2],
            hessian: [[0.0; OUTCOMES]; 3],
        };
        let mut most = 0.0;
        for (bed, slope) in Bed::all().zip(slopes) {
            if slope.value > most {
                (most, place.bed) = (slope.value, bed);
            }
            // Rounding leaves about 1e-16 of either sign in beds out of reach.
            let value = slope.value.clamp(0.0, 1.0);
            place.add(outcome(bed), value, 1.0, &slope);
            // What is in no bed is nothing.
            place.add(NOTHING, -value, -1.0, &slope);
        }
        let nothing = place.chances.get_mut(NOTHING);
        if let Some(nothing) = nothing {
            *nothing = (1.0 + *nothing).max(0.0);
        }
        place
    }

    /// Where the hill about a place has its top, and what that costs, as far as can be told
    /// from the place.
    pub(super) fn estimate(&self, place: &Place, outlook: &Outlook) -> (Point, f64) {
        let here = place.slope(outlook);
        let step = uphill(&here, self.narrow);
        (place.at + step, -here.value - promise(&here, step))
    }

    /// The top that is reached from a place, as far as it may cost less than
    /// `best` and is not the hill of the `known` top.
    ///
    /// Newton's steps, no longer than the spread allows. What a step promises
    /// is exact in the limit, so the cost is right to about what the last one
    /// promised.
    pub(super) fn climb(
        &self,
        start: &Place,
        outlook: &Outlook,
        best: f64,
        known: Option<Point>,
    ) -> Top {
        let at_stake = outlook
            .excess
            .iter()
            .fold(0.0, |most: f64, excess| most.max(excess.abs()));
        let close = self.tolerance * at_stake.min(1.0);
        let mut trust = self.narrow;
        let mut here = start.slope(outlook);
        let (mut top, mut arrived): (Option<Place>, _) = (None, None);
        let mut bound = None;
        let near = SAME_HILL * self.narrow;
        for _ in 0..MOST_STEPS {
            let at = top.as_ref().map_or(start.at, |place| place.at);
            if known.is_some_and(|known| (at - known).norm() < near) {
                bound = Some(f64::INFINITY);
                break;
            }
            let step = uphill(&here, trust);
            // The next step would come to it: there is no need to go and see.
            if known.is_some_and(|known| (at + step - known).norm() < near) {
                bound = Some(f64::INFINITY);
                break;
            }
            let promised = promise(&here, step);
            if promised < close {
                arrived = Some(at);
                break;
            }
            let hoped = here.value + HOPE * promised;
            if hoped < -best {
                bound = Some(-hoped);
                break;
            }
            let place = self.place(at + step);
            let there = place.slope(outlook);
            if there.value > here.value {
                (top, here) = (Some(place), there);
                trust *= 2.0;
            } else {
                trust = 0.3 * step.norm();
            }
        }
        Top {
            place: top,
            cost: -here.value,
            arrived,
            bound: bound.unwrap_or(-here.value),
        }
    }
}

impl Place {
    fn add(&mut self, outcome: usize, value: f64, sign: f64, slope: &Slope) {
        let Self {
            chances,
            gradient,
            hessian,
            ..
        } = self;
        let slopes = slope.gradient.into_iter().chain(slope.hessian);
        let values = std::iter::once(value).chain(slopes.map(|slope| sign * slope));
        let places = std::iter::once(chances).chain(gradient).chain(hessian);
        for (place, value) in places.zip(values) {
            if let Some(place) = place.get_mut(outcome) {
                *place += value;
            }
        }
    }

    /// The cost of aiming here, upside down: a hill.
    fn slope(&self, outlook: &Outlook) -> Slope {
        let down = |chances: &ByOutcome| -mean(chances, &outlook.excess);
        Slope {
            value: down(&self.chances),
            gradient: self.gradient.each_ref().map(down),
            hessian: self.hessian.each_ref().map(down),
        }
    }
}

/// What a step wins if the slope changes evenly, and at least what its first
/// half does.
fn promise(slope: &Slope, step: Point) -> f64 {
    let [gx, gy] = slope.gradient;
    let [xx, xy, yy] = slope.hessian;
    let first = gx * step.x + gy * step.y;
    let second = xx * step.x * step.x + 2.0 * xy * step.x * step.y + yy * step.y * step.y;
    (first + 0.5 * second).max(0.5 * first)
}
