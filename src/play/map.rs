//! The mean worth of a throw over the whole board.

use rayon::prelude::*;

use super::{Face, Metal, Spread, Throw, Worth};
use crate::geometry::Point;

/// Places along each side of a map, a millimetre apart.
pub const MAP_SIDE: usize = 340;
/// Half the extent of a map, in mm.
const HALF: f64 = 170.0;
/// Distance between the exact values that a map is interpolated from, in
/// spreads. A mean over normal throws is smooth at the scale of the spread;
/// the tests hold the error at this distance to a thousandth of a point.
const COARSENESS: f64 = 0.45;
/// Never further apart than this, in mm.
const WIDEST: f64 = 20.0;
/// Exact values that each interpolated one is made from, along each axis.
const TAPS: usize = 10;

/// Mean worth of a throw by aim, at the middles of 340 × 340 squares of a
/// millimetre that cover the board to 170 mm from the origin.
#[derive(Clone, Debug, PartialEq)]
pub struct WorthMap {
    values: Vec<f64>,
}

impl WorthMap {
    /// Right to 0.001 for worths of up to 60.
    pub fn new(face: &Face, spread: Spread, metal: Metal, worth: &Worth) -> Self {
        let mean = |x, y| face.mean(&Throw::at(Point::mm(x, y), spread), metal, worth);
        let step = (COARSENESS * spread.smallest()).min(WIDEST);
        if step < 1.0 {
            // No smoother than the map itself: every value is computed.
            let row = |row: usize| (0..MAP_SIDE).map(move |column| place(column, row));
            let places: Vec<Point> = (0..MAP_SIDE).flat_map(row).collect();
            let values = places.par_iter().map(|aim| mean(aim.x, aim.y)).collect();
            return Self { values };
        }
        let axis = Axis::new(step);
        let coarse: Vec<Vec<f64>> = (0..axis.nodes)
            .into_par_iter()
            .map(|row| {
                let y = axis.at(row);
                let along: Vec<f64> = (0..axis.nodes)
                    .map(|column| mean(axis.at(column), y))
                    .collect();
                (0..MAP_SIDE)
                    .map(|column| axis.value(column, |node| along.get(node)))
                    .collect()
            })
            .collect();
        let fine = |(row, column): (usize, usize)| {
            // Rows run downwards from the top, coordinates upwards.
            axis.value(MAP_SIDE - 1 - row, |node| coarse.get(node)?.get(column))
        };
        let places = (0..MAP_SIDE).flat_map(|row| (0..MAP_SIDE).map(move |column| (row, column)));
        Self {
            values: places.map(fine).collect(),
        }
    }

    /// The value at a place: columns from the left, rows from the top.
    pub fn at(&self, column: usize, row: usize) -> Option<f64> {
        let inside = column < MAP_SIDE && row < MAP_SIDE;
        inside.then(|| self.values.get(row * MAP_SIDE + column).copied())?
    }

    /// All values, row by row from the top.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The aim that a place of the map stands for.
    pub fn place(column: usize, row: usize) -> Point {
        place(column, row)
    }
}

fn place(column: usize, row: usize) -> Point {
    Point::mm(column as f64 + 0.5 - HALF, HALF - 0.5 - row as f64)
}

/// Interpolation along an axis: equally spaced nodes that reach beyond the map
/// on either side, and the weights of those around each place.
struct Axis {
    first: f64,
    step: f64,
    nodes: usize,
    taps: Vec<(usize, [f64; TAPS])>,
}

impl Axis {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn new(step: f64) -> Self {
        let margin = TAPS / 2;
        let nodes = libm::ceil(2.0 * HALF / step) as usize + 2 * margin;
        let first = -HALF - (margin - 1) as f64 * step;
        let weights = |index: usize| {
            let across = (place(index, 0).x - first) / step;
            let start = libm::floor(across) as usize - (margin - 1);
            (start, lagrange(across - start as f64))
        };
        Self {
            first,
            step,
            nodes,
            taps: (0..MAP_SIDE).map(weights).collect(),
        }
    }

    fn at(&self, node: usize) -> f64 {
        self.first + self.step * node as f64
    }

    fn value<'a>(&self, index: usize, node: impl Fn(usize) -> Option<&'a f64>) -> f64 {
        let Some((start, weights)) = self.taps.get(index) else {
            return f64::NAN;
        };
        let terms = weights.iter().enumerate();
        terms
            .map(|(tap, weight)| weight * node(start + tap).copied().unwrap_or(f64::NAN))
            .sum()
    }
}

/// Weights of values at 0, 1, … in the polynomial through all of them, at `x`.
fn lagrange(x: f64) -> [f64; TAPS] {
    std::array::from_fn(|j| {
        let others = (0..TAPS).filter(|k| *k != j);
        others
            .map(|k| (x - k as f64) / (j as f64 - k as f64))
            .product()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixtures::{bent, round};
    use crate::random::Random;

    #[test]
    fn a_map_is_right_to_a_thousandth_of_a_point() {
        let share = Metal::Share(super::super::BounceShare::new(0.4).expect("a share"));
        let mut random = Random::seeded(340);
        for (spider, sigmas) in [
            (round(), [(4.0, 4.0), (25.0, 25.0)]),
            (bent(), [(6.0, 11.0), (80.0, 80.0)]),
        ] {
            let face = Face::of(&spider).expect("all wires known");
            for (sigma_x, sigma_y) in sigmas {
                let spread = Spread::with(sigma_x, sigma_y, 0.0).expect("a spread");
                let map = WorthMap::new(&face, spread, share, &Worth::score());
                let mut worst = 0.0_f64;
                let mut check = |column: usize, row: usize| {
                    let throw = Throw::at(WorthMap::place(column, row), spread);
                    let exact = face.mean(&throw, share, &Worth::score());
                    let value = map.at(column, row).expect("on the map");
                    worst = worst.max((value - exact).abs());
                };
                for (column, row) in [(0, 0), (339, 0), (0, 339), (339, 339)] {
                    check(column, row);
                }
                for _ in 0..1500 {
                    check(random.below(MAP_SIDE), random.below(MAP_SIDE));
                }
                assert!(worst < 1e-3, "{sigma_x} {sigma_y}: {worst}");
            }
        }
    }

    #[test]
    fn a_map_has_the_top_of_the_board_at_its_top() {
        assert_eq!(WorthMap::place(0, 0), Point::mm(-169.5, 169.5));
        let face = Face::of(&round()).expect("all wires known");
        let spread = Spread::new(8.0).expect("a spread");
        let treble = Worth::any_of(&[crate::geometry::Bed::new(crate::board::Band::Treble, 0)]);
        let map = WorthMap::new(&face, spread, Metal::Lost, &treble);
        assert!(map.at(170, 68).expect("there") > 0.3);
        assert!(map.at(170, 271).expect("there").abs() < 1e-3);
        assert_eq!(map.at(340, 0), None);
    }
}
