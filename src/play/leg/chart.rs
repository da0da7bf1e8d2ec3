//! Places all over the board, from which every hill of a wide spread can be seen.
//!
//! What an aim costs is smooth on the scale of the spread. So on a honeycomb a good deal
//! finer than that every hill has a place that is higher than all its neighbours.

use std::collections::HashMap;

use super::comb::{Cell, Comb};
use super::scale::Scale;
use crate::geometry::Point;

/// Hills are looked for up to here, in mm from the middle: just outside the double ring.
const REACH: f64 = 180.0;
/// With more places than this, hills are looked for from the middles of beds alone: with a
/// narrow spread they all are about these. House rule: the honeycomb has as many with a spread
/// of 12 mm.
const MOST: f64 = 1700.0;
/// Steps to the six neighbours, along the two axes of the honeycomb: of its places every
/// third one is taken, which are a honeycomb again.
const STEPS: [Cell; 6] = [(1, 1), (2, -1), (1, -2), (-1, -1), (-2, 1), (-1, 2)];

/// Places, in spreads, and which of them are neighbours.
#[derive(Clone, Debug, Default)]
pub(super) struct Chart {
    pub(super) places: Vec<Point>,
    neighbours: Vec<Vec<usize>>,
}

impl Chart {
    /// From a honeycomb in spreads; empty where the spread is narrow.
    pub(super) fn of(comb: Comb, scale: Scale) -> Self {
        if scale.disc(REACH) > 3.0 * comb.area() * MOST {
            return Self::default();
        }
        let cells = comb.within(scale.extent(REACH), |at| scale.place(at).norm() <= REACH);
        let thirds = cells.into_iter().filter(|(i, j)| (i - j) % 3 == 0);
        let cells: Vec<Cell> = thirds.collect();
        let index: HashMap<Cell, usize> = cells.iter().copied().zip(0..).collect();
        let around = |(i, j): &Cell| {
            let cells = STEPS.iter().map(|(di, dj)| (i + di, j + dj));
            cells.filter_map(|cell| index.get(&cell).copied()).collect()
        };
        Self {
            places: cells.iter().map(|cell| comb.place(*cell)).collect(),
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
    use crate::play::Spread;

    #[test]
    fn a_hill_anywhere_is_seen_from_one_place() {
        let scale = Scale::of(Spread::new(13.0).expect("a spread"));
        let chart = Chart::of(Comb(0.4), scale);
        for top in [(0.0, 0.0), (63.0, -31.0), (-99.5, 40.2), (3.1, 168.0)] {
            let top = scale.spreads(Point::mm(top.0, top.1));
            let costs = chart.places.iter().map(|place| (*place - top).norm());
            let costs: Vec<f64> = costs.collect();
            let lowest: Vec<usize> = chart.lowest(&costs).collect();
            assert_eq!(lowest.len(), 1, "{top:?}");
            // No place is farther from the nearest one than a honeycomb's corner.
            assert!(costs[lowest[0]] <= 0.4 + 1e-9, "{top:?}");
        }
    }
}
