//! What comes of aims all over the board, known on a honeycomb.

use std::collections::HashMap;
use std::sync::OnceLock;

use rayon::prelude::*;

use super::comb::{Cell, Comb};
use super::patch::{Fit, Patch, RINGS};
use crate::geometry::Point;
use crate::play::Slope;
use crate::play::worth::BEDS;

/// The distance of neighbours, as a share of the spread: why so much, the degree of the
/// polynomials says.
const SPACING: f64 = 0.4;

/// Nearer than this to a place of the honeycomb, as a share of the distance of neighbours,
/// an aim is that place. House rule: what rounding leaves.
const SAME: f64 = 1e-12;

/// Values on a honeycomb, and between its places the polynomials that they settle.
#[derive(Debug)]
pub(super) struct Surface {
    pub(super) comb: Comb,
    index: HashMap<Cell, usize>,
    slopes: Vec<[Slope; BEDS]>,
    fit: Fit,
    patches: Vec<OnceLock<Option<Patch>>>,
}

impl Surface {
    /// For a spread whose smallest standard deviation is so many mm, so far from the middle
    /// of the board; `slopes` is what comes of an aim.
    pub(super) fn new(
        narrow: f64,
        reach: f64,
        slopes: impl Fn(Point) -> [Slope; BEDS] + Sync,
    ) -> Self {
        let comb = Comb(SPACING * narrow);
        let cells = comb.within(reach + f64::from(RINGS + 1) * comb.0);
        let values = cells.par_iter().map(|cell| slopes(comb.place(*cell)));
        let around = Comb::around().map(|cell| comb.place(cell));
        Self {
            comb,
            slopes: values.collect(),
            patches: cells.iter().map(|_| OnceLock::new()).collect(),
            index: cells.into_iter().zip(0..).collect(),
            fit: Fit::of(&around, f64::from(RINGS) * comb.0),
        }
    }

    /// What comes of an aim at a place of the honeycomb itself.
    pub(super) fn known(&self, aim: Point) -> Option<&[Slope; BEDS]> {
        let cell = self.comb.nearest(aim);
        let index = *self.index.get(&cell)?;
        let away = (self.comb.place(cell) - aim).norm();
        self.slopes.get(index).filter(|_| away < SAME * self.comb.0)
    }

    /// The probability of every bed; nothing where an aim is beyond the honeycomb.
    pub(super) fn values(&self, aim: Point) -> Option<[f64; BEDS]> {
        Some(self.about(aim)?.values(aim))
    }

    /// A sum over beds, each times a weight, and its slopes.
    pub(super) fn slope(&self, aim: Point, weights: &[f64; BEDS]) -> Option<Slope> {
        Some(self.about(aim)?.slope(aim, weights))
    }

    fn about(&self, aim: Point) -> Option<&Patch> {
        let cell = self.comb.nearest(aim);
        let patch = self.patches.get(*self.index.get(&cell)?)?;
        patch.get_or_init(|| self.patch(cell)).as_ref()
    }

    fn patch(&self, (i, j): Cell) -> Option<Patch> {
        let around = Comb::around().map(|(di, dj)| {
            let index = self.index.get(&(i + di, j + dj))?;
            self.slopes.get(*index)
        });
        let around: Option<Vec<&[Slope; BEDS]>> = around.into_iter().collect();
        let middle = self.comb.place((i, j));
        Some(self.fit.patch(middle, around?.into_iter()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{bent, round};
    use crate::play::{Face, Metal, Spread, Throw};

    /// Against what comes of the same aims along all borders.
    #[test]
    fn between_the_places_of_the_honeycomb_nothing_is_lost() {
        for board in [round(), bent()] {
            let face = Face::of(&board).expect("all wires are known");
            let spread = Spread::with(15.0, 21.0, 0.3).expect("a spread");
            let exact = |aim: Point| face.slopes(&Throw::at(aim, spread), Metal::Lost);
            let narrow = spread.smallest();
            let surface = Surface::new(narrow, 100.0, exact);
            let weights: [f64; BEDS] = std::array::from_fn(|bed| (bed * 7 % 5) as f64);
            let (mut values, mut slopes, mut bends) = (0.0_f64, 0.0_f64, 0.0_f64);
            for n in 0..60 {
                let (turn, far) = (f64::from(n) * 2.4, 1.6 * f64::from(n));
                let aim = Point::mm(far * libm::cos(turn), far * libm::sin(turn));
                let exact = exact(aim);
                let told = surface.values(aim).expect("within reach");
                for (told, exact) in told.iter().zip(&exact) {
                    values = values.max((told - exact.value).abs());
                }
                let told = surface.slope(aim, &weights).expect("within reach");
                let sum = |part: fn(&Slope) -> f64| -> f64 {
                    exact
                        .iter()
                        .zip(&weights)
                        .map(|(slope, weight)| weight * part(slope))
                        .sum()
                };
                let [x, y] = told.gradient;
                let [xx, xy, yy] = told.hessian;
                slopes = slopes.max((x - sum(|s| s.gradient[0])).abs() * narrow);
                slopes = slopes.max((y - sum(|s| s.gradient[1])).abs() * narrow);
                for off in [
                    xx - sum(|s| s.hessian[0]),
                    xy - sum(|s| s.hessian[1]),
                    yy - sum(|s| s.hessian[2]),
                ] {
                    bends = bends.max(off.abs() * narrow * narrow);
                }
            }
            assert!(values < 1e-10, "{values}");
            assert!(slopes < 2e-9, "{slopes}");
            assert!(bends < 1e-7, "{bends}");
            assert!(surface.values(Point::mm(150.0, 0.0)).is_none());
            assert!(surface.known(Point::mm(0.0, 0.0)).is_some());
            assert!(surface.known(Point::mm(0.1, 0.0)).is_none());
        }
    }
}
