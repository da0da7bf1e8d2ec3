//! The best aim anywhere on the board, found by climbing.

use super::line::Outlook;
use super::outcome::{ByOutcome, NOTHING, OUTCOMES, mean, outcome};
use super::surface::Surface;
use crate::geometry::{Bed, Point};
use crate::play::aim::uphill;
use crate::play::worth::BEDS;
use crate::play::{Setup, Slope, Spread};

/// A climb that has not ended by then is on a plain, where it may stop.
const MOST_STEPS: usize = 40;
/// Where a climb is given up: this many times what the next step promises
/// would still not reach the best that is known.
const HOPE: f64 = 5.0;
/// A climb that comes this near to a top, in spreads, is on its hill.
pub(super) const SAME_HILL: f64 = 0.3;

/// What climbs are made with. They count steps in spreads, so that a long one leads as far
/// as a short one.
#[derive(Debug)]
pub(super) struct Climber<'a> {
    pub(super) surface: Surface<'a>,
    /// A climb has arrived when its next step would win less, in the unit of
    /// costs; or less than this share of all that is at stake, if that is less
    /// than one.
    pub(super) tolerance: f64,
}

/// A place, and how the probabilities of all outcomes change about it. The slope
/// of any cost follows without another look at the board. All are in spreads.
#[derive(Clone, Debug)]
pub(super) struct Place {
    pub(super) at: Point,
    pub(super) chances: ByOutcome,
    /// Two first and three second derivatives; without them the surface tells.
    slopes: Option<Box<[ByOutcome; 5]>>,
}

/// Where a step of a climb leads.
pub(super) enum Reached {
    Place(Box<Place>),
    /// On the surface, where it need not be looked at closely before it is chosen.
    At(Point),
}

/// Where a climb has led: to a new place, or nowhere.
pub(super) struct Top {
    pub(super) reached: Option<Reached>,
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
            surface: Surface::new(setup, spread),
            tolerance,
        }
    }

    /// What there is to know of a place that many climbs start from.
    pub(super) fn start(&self, at: Point) -> Place {
        Place::of(at, &self.surface.exact(at))
    }

    /// What there is to know of a place that a climb has led to.
    pub(super) fn place(&self, reached: Reached) -> Place {
        let at = match reached {
            Reached::Place(place) => return *place,
            Reached::At(at) => at,
        };
        let Some(values) = self.surface.values(at) else {
            return self.start(at);
        };
        Place {
            slopes: None,
            ..Place::of(
                at,
                &values.map(|value| Slope {
                    value,
                    gradient: [0.0; 2],
                    hessian: [0.0; 3],
                }),
            )
        }
    }

    /// The cost of an aim, upside down: a hill; and the aim.
    fn look(&self, at: Point, outlook: &Outlook) -> (Slope, Reached) {
        if let Some(slope) = self.on_surface(at, outlook) {
            return (slope, Reached::At(at));
        }
        let place = self.start(at);
        (self.slope(&place, outlook), Reached::Place(Box::new(place)))
    }

    /// The same of a place that was looked at before.
    fn slope(&self, place: &Place, outlook: &Outlook) -> Slope {
        let down = |chances: &ByOutcome| -mean(chances, &outlook.excess);
        let Some(slopes) = &place.slopes else {
            return self.on_surface(place.at, outlook).unwrap_or(Slope {
                value: down(&place.chances),
                gradient: [0.0; 2],
                hessian: [0.0; 3],
            });
        };
        let [x, y, xx, xy, yy] = slopes.each_ref().map(down);
        Slope {
            value: down(&place.chances),
            gradient: [x, y],
            hessian: [xx, xy, yy],
        }
    }

    fn on_surface(&self, at: Point, outlook: &Outlook) -> Option<Slope> {
        let excess = &outlook.excess;
        // What is in no bed is nothing.
        let nothing = excess.get(NOTHING).copied().unwrap_or_default();
        let mut weights = [0.0; BEDS];
        for (weight, bed) in weights.iter_mut().zip(Bed::all()) {
            *weight = nothing - excess.get(outcome(bed)).copied().unwrap_or_default();
        }
        let slope = self.surface.slope(at, &weights)?;
        Some(Slope {
            value: slope.value - nothing,
            ..slope
        })
    }

    /// Where the hill about a place has its top, and what that costs, as far as can be told
    /// from the place.
    pub(super) fn estimate(&self, place: &Place, outlook: &Outlook) -> (Point, f64) {
        let here = self.slope(place, outlook);
        let step = uphill(&here, 1.0);
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
        let mut trust = 1.0;
        let mut here = self.slope(start, outlook);
        let mut at = start.at;
        let (mut reached, mut arrived) = (None, None);
        let mut bound = None;
        let near = SAME_HILL;
        for _ in 0..MOST_STEPS {
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
            let (there, place) = self.look(at + step, outlook);
            if there.value > here.value {
                (reached, here, at) = (Some(place), there, at + step);
                trust *= 2.0;
            } else {
                trust = 0.3 * step.norm();
            }
        }
        Top {
            reached,
            cost: -here.value,
            arrived,
            bound: bound.unwrap_or(-here.value),
        }
    }
}

impl Place {
    /// From what comes of each bed.
    fn of(at: Point, slopes: &[Slope; BEDS]) -> Self {
        let mut sums = [[0.0; OUTCOMES]; 6];
        for (own, slope) in Bed::all().zip(slopes) {
            // Rounding leaves about 1e-16 of either sign in beds out of reach.
            let value = slope.value.clamp(0.0, 1.0);
            let ([x, y], [xx, xy, yy]) = (slope.gradient, slope.hessian);
            for (sums, part) in sums.iter_mut().zip([value, x, y, xx, xy, yy]) {
                for (place, part) in [(outcome(own), part), (NOTHING, -part)] {
                    if let Some(sum) = sums.get_mut(place) {
                        *sum += part;
                    }
                }
            }
        }
        let [mut chances, slopes @ ..] = sums;
        if let Some(nothing) = chances.get_mut(NOTHING) {
            *nothing = (1.0 + *nothing).max(0.0);
        }
        Self {
            at,
            chances,
            slopes: Some(Box::new(slopes)),
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
