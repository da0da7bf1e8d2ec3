//! What comes of aims all over the board: known on a honeycomb, and between its places from
//! polynomials.

use std::collections::HashMap;
use std::hash::Hash;
use std::sync::{Arc, PoisonError, RwLock};

use rayon::prelude::*;

use super::comb::{Cell, Comb};
use super::patch::{Fit, InReach, Patch, RINGS};
use super::scale::Scale;
use crate::geometry::Point;
use crate::play::worth::BEDS;
use crate::play::{Setup, Slope, Spread, Throw};

/// The distance of neighbours, in spreads: why so much, the degree of the polynomials says.
const SPACING: f64 = 0.4;

/// Nearer than this to a place of the honeycomb, in spreads, an aim is that place. House
/// rule: what rounding leaves.
const SAME: f64 = 1e-12;

/// What comes of each bed, at a place.
pub(super) type Slopes = [Slope; BEDS];

/// Places and slopes are in spreads. The climbs of a leg lead to the same few hills time and
/// again, so what was worked out once is kept: of 65,199 aims that a spread of 5 by 25 mm
/// looked at, all lay about 5,837 places of the honeycomb (measured).
#[derive(Debug)]
pub(super) struct Surface<'a> {
    setup: Setup<'a>,
    spread: Spread,
    pub(super) scale: Scale,
    pub(super) comb: Comb,
    fit: Fit,
    known: Kept<Cell, InReach>,
    patches: Kept<Cell, Patch>,
}

impl<'a> Surface<'a> {
    pub(super) fn new(setup: Setup<'a>, spread: Spread) -> Self {
        let comb = Comb(SPACING);
        let around = Comb::around().map(|cell| comb.place(cell));
        Self {
            setup,
            spread,
            scale: Scale::of(spread),
            comb,
            fit: Fit::of(&around, f64::from(RINGS) * comb.0),
            known: Kept::default(),
            patches: Kept::default(),
        }
    }

    /// What comes of an aim, along the borders of all beds.
    pub(super) fn exact(&self, at: Point) -> Slopes {
        let cell = self.comb.nearest(at);
        if (self.comb.place(cell) - at).norm() < SAME {
            return self.known(cell).all();
        }
        self.along_borders(at)
    }

    /// The probability of every bed; nothing beyond all that can be counted.
    pub(super) fn values(&self, at: Point) -> Option<[f64; BEDS]> {
        Some(self.about(at)?.values(at))
    }

    /// A sum over beds, each times a weight, and its slopes.
    pub(super) fn slope(&self, at: Point, weights: &[f64; BEDS]) -> Option<Slope> {
        Some(self.about(at)?.slope(at, weights))
    }

    fn about(&self, at: Point) -> Option<Arc<Patch>> {
        let cell = self.comb.nearest(at);
        let away = (self.comb.place(cell) - at).norm();
        // Farther out than cells can be counted, none is near.
        (away < self.comb.0).then(|| self.patches.get(cell, || self.patch(cell)))
    }

    fn patch(&self, (i, j): Cell) -> Patch {
        let around = Comb::around().map(|(di, dj)| (i.saturating_add(di), j.saturating_add(dj)));
        let slopes: Vec<Arc<InReach>> = around.par_iter().map(|cell| self.known(*cell)).collect();
        let slopes = slopes.iter().map(AsRef::as_ref);
        self.fit.patch(self.comb.place((i, j)), slopes)
    }

    fn known(&self, cell: Cell) -> Arc<InReach> {
        let place = self.comb.place(cell);
        self.known
            .get(cell, || InReach::of(&self.along_borders(place)))
    }

    fn along_borders(&self, at: Point) -> Slopes {
        let throw = Throw::at(self.scale.place(at), self.spread);
        let slopes = self.setup.face.slopes(&throw, self.setup.metal);
        slopes.map(|slope| self.scale.slope(&slope))
    }
}

/// What was worked out, by what it is of.
#[derive(Debug)]
struct Kept<K, V>(RwLock<HashMap<K, Arc<V>>>);

impl<K, V> Default for Kept<K, V> {
    fn default() -> Self {
        Self(RwLock::default())
    }
}

impl<K: Eq + Hash, V> Kept<K, V> {
    /// Two threads may work out the same: what is kept is either's.
    fn get(&self, key: K, work_out: impl FnOnce() -> V) -> Arc<V> {
        let known = self.0.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(value) = known.get(&key) {
            return Arc::clone(value);
        }
        drop(known);
        let value = Arc::new(work_out());
        let mut known = self.0.write().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(known.entry(key).or_insert(value))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{bent, round};
    use crate::play::{Face, Metal, Spread};

    /// Against what comes of the same aims along all borders.
    #[test]
    fn between_the_places_of_the_honeycomb_nothing_is_lost() {
        for (board, [x, y, rho]) in [
            (round(), [15.0, 21.0, 0.3]),
            (bent(), [15.0, 15.0, 0.0]),
            (round(), [60.0, 9.0, 0.2]),
            (round(), [2.0, 3.0, 0.0]),
        ] {
            let face = Face::of(&board).expect("all wires are known");
            let spread = Spread::with(x, y, rho).expect("a spread");
            let setup = Setup {
                face: &face,
                metal: Metal::Lost,
            };
            let surface = Surface::new(setup, spread);
            let weights: [f64; BEDS] = std::array::from_fn(|bed| (bed * 7 % 5) as f64);
            let (mut values, mut slopes, mut bends) = (0.0_f64, 0.0_f64, 0.0_f64);
            for n in 0..60 {
                let (turn, far) = (f64::from(n) * 2.4, 1.6 * f64::from(n));
                let place = Point::mm(far * libm::cos(turn), far * libm::sin(turn));
                let aim = surface.scale.spreads(place);
                let exact = surface.along_borders(aim);
                let told = surface.values(aim).expect("a patch");
                for (told, exact) in told.iter().zip(&exact) {
                    values = values.max((told - exact.value).abs());
                }
                let told = surface.slope(aim, &weights).expect("a patch");
                let sum = |part: fn(&Slope) -> f64| -> f64 {
                    exact
                        .iter()
                        .zip(&weights)
                        .map(|(slope, weight)| weight * part(slope))
                        .sum()
                };
                let [x, y] = told.gradient;
                let [xx, xy, yy] = told.hessian;
                slopes = slopes.max((x - sum(|s| s.gradient[0])).abs());
                slopes = slopes.max((y - sum(|s| s.gradient[1])).abs());
                for off in [
                    xx - sum(|s| s.hessian[0]),
                    xy - sum(|s| s.hessian[1]),
                    yy - sum(|s| s.hessian[2]),
                ] {
                    bends = bends.max(off.abs());
                }
            }
            assert!(values < 1e-10, "{values}");
            assert!(slopes < 2e-9, "{slopes}");
            assert!(bends < 1e-7, "{bends}");
            assert!(surface.values(Point::new(1e12, 0.0)).is_none());
        }
    }
}
