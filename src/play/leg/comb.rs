//! Places all over the board, each as far from its six neighbours.

use super::patch::{PLACES, RINGS};
use crate::geometry::Point;

/// A place of a honeycomb, along its two axes.
pub(super) type Cell = (i32, i32);

/// A honeycomb whose places are so far apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct Comb(pub(super) f64);

/// How far apart its rows are, as a share of the distance of neighbours: half of √3.
const ROW: f64 = 0.866_025_403_784_438_6;

impl Comb {
    pub(super) fn place(self, (i, j): Cell) -> Point {
        let (i, j) = (f64::from(i), f64::from(j));
        Point::new(self.0 * (i + 0.5 * j), self.0 * ROW * j)
    }

    /// The place that is nearest to a point: of the three numbers of a place that add up to
    /// zero, the one that rounding moved most follows from the others.
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a cast saturates, and there is no such place then"
    )]
    pub(super) fn nearest(self, point: Point) -> Cell {
        let j = point.y / (ROW * self.0);
        let i = point.x / self.0 - 0.5 * j;
        let k = -i - j;
        let off = |number: f64| (number - number.round()).abs();
        let (a, b, c) = (i.round(), j.round(), k.round());
        let (a, b) = if off(i) > off(j) && off(i) > off(k) {
            (-b - c, b)
        } else if off(j) > off(k) {
            (a, -a - c)
        } else {
            (a, b)
        };
        (a as i32, b as i32)
    }

    /// Every place that is wanted, of those that are no farther sideways and up than this.
    pub(super) fn within(self, extent: Point, wanted: impl Fn(Point) -> bool) -> Vec<Cell> {
        let (_, rows) = self.nearest(Point::new(0.0, extent.y));
        let row = |j: i32| {
            let up = self.place((0, j));
            let (first, _) = self.nearest(Point::new(-extent.x, up.y));
            let (last, _) = self.nearest(Point::new(extent.x, up.y));
            (first - 1..=last + 1).map(move |i| (i, j))
        };
        let all = (-rows - 1..=rows + 1).flat_map(row);
        all.filter(|cell| wanted(self.place(*cell))).collect()
    }

    /// How much of the plane each place has for itself.
    pub(super) const fn area(self) -> f64 {
        ROW * self.0 * self.0
    }

    /// The steps from a place to itself and to the rings about it.
    pub(super) fn around() -> [Cell; PLACES] {
        let mut cells = [(0, 0); PLACES];
        let all = (-RINGS..=RINGS).flat_map(|j| (-RINGS..=RINGS).map(move |i| (i, j)));
        let near = all.filter(|(i, j)| (i + j).abs() <= RINGS);
        for (place, cell) in cells.iter_mut().zip(near) {
            *place = cell;
        }
        cells
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_place_is_the_nearest_one() {
        let comb = Comb(5.2);
        for n in 0..500 {
            let turn = f64::from(n) * 2.4;
            let point = Point::mm(0.3 * f64::from(n) * libm::cos(turn), 40.0 * libm::sin(turn));
            let found = comb.nearest(point);
            let far = (comb.place(found) - point).norm();
            for (di, dj) in Comb::around() {
                let other = comb.place((found.0 + di, found.1 + dj));
                assert!((other - point).norm() >= far - 1e-9, "{point:?}");
            }
        }
    }
}
