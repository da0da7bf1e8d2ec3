//! Places all over the board, from which every hill of a wide spread can be seen.
//!
//! What an aim costs is smooth on the scale of the spread. So on a honeycomb a good deal
//! finer than that every hill has a place that is higher than all its neighbours.

use std::collections::HashMap;

use crate::geometry::Point;

/// The distance of neighbours, as a share of the spread.
const SPACING: f64 = 0.6;
/// Nobody aims farther out than this, in mm: just outside the double ring.
const REACH: f64 = 180.0;
/// The spread, in mm, from which hills are looked for on a chart. With less they stand
/// apart, each about the middle of a bed, and a chart would have too many places.
const WIDE: f64 = 13.0;
/// Steps to the six neighbours, along the two axes of a honeycomb.
const STEPS: [(i32, i32); 6] = [(1, 0), (0, 1), (-1, 1), (-1, 0), (0, -1), (1, -1)];

/// Places, and which of them are neighbours.
#[derive(Clone, Debug, Default)]
pub(super) struct Chart {
    pub(super) places: Vec<Point>,
    neighbours: Vec<Vec<usize>>,
}

impl Chart {
    /// For a spread whose smallest standard deviation is so many mm; without a place where
    /// no chart is needed.
    pub(super) fn of(narrow: f64) -> Self {
        if narrow < WIDE {
            return Self::default();
        }
        let spacing = SPACING * narrow;
        let place = |(i, j): (i32, i32)| {
            let (i, j) = (f64::from(i), f64::from(j));
            Point::mm(
                spacing * (i + 0.5 * j),
                spacing * j * (0.5 * libm::sqrt(3.0)),
            )
        };
        #[allow(
            clippy::cast_possible_truncation,
            reason = "at least a few millimetres apart: some dozens"
        )]
        let most = libm::ceil(2.0 * REACH / spacing) as i32;
        let all = (-most..=most).flat_map(|j| (-most..=most).map(move |i| (i, j)));
        let cells: Vec<(i32, i32)> = all.filter(|cell| place(*cell).norm() <= REACH).collect();
        let index: HashMap<(i32, i32), usize> = cells.iter().copied().zip(0..).collect();
        let around = |(i, j): &(i32, i32)| {
            let cells = STEPS.iter().map(|(di, dj)| (i + di, j + dj));
            cells.filter_map(|cell| index.get(&cell).copied()).collect()
        };
        Self {
            places: cells.iter().map(|cell| place(*cell)).collect(),
            neighbours: cells.iter().map(around).collect(),
        }
    }

    /// The places, by their index, that cost no more than any of their neighbours.
    pub(super) fn lowest<'a>(&'a self, costs: &'a [f64]) -> impl Iterator<Item = usize> + 'a {
        let is_lowest = |(cost, around): (&f64, &Vec<usize>)| {
            let mut around = around.iter().filter_map(|other| costs.get(*other));
            around.all(|other| cost <= other)
        };
        let each = costs.iter().zip(&self.neighbours).enumerate();
        each.filter_map(move |(index, place)| is_lowest(place).then_some(index))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hill_anywhere_is_seen_from_one_place() {
        let chart = Chart::of(15.0);
        for top in [(0.0, 0.0), (63.0, -31.0), (-99.5, 40.2), (3.1, 168.0)] {
            let top = Point::mm(top.0, top.1);
            let costs = chart.places.iter().map(|place| (*place - top).norm());
            let costs: Vec<f64> = costs.collect();
            let lowest: Vec<usize> = chart.lowest(&costs).collect();
            assert_eq!(lowest.len(), 1, "{top:?}");
            // No place is farther from the nearest one than a honeycomb's corner.
            assert!(costs[lowest[0]] <= 9.0 / libm::sqrt(3.0) + 1e-9, "{top:?}");
        }
    }

    #[test]
    fn a_narrow_spread_has_no_chart() {
        assert!(Chart::of(12.9).places.is_empty());
    }
}
