//! Places all over the board, from which every hill of a wide spread can be seen.
//!
//! What an aim costs is smooth on the scale of the spread. So on a honeycomb a good deal
//! finer than that every hill has a place that is higher than all its neighbours. Across a
//! long and narrow spread that would be too many places: there the honeycomb is coarser, and
//! the middles of beds are climbed from as well.

use std::cmp::Ordering;
use std::collections::HashMap;
use std::f64::consts::PI;

use super::comb::{Cell, Comb};
use super::scale::Scale;
use crate::geometry::Point;

/// Hills are looked for up to here, in mm from the middle: just outside the double ring.
const REACH: f64 = 180.0;
/// And so many spreads farther: who must not hit a double may aim beyond them. House rule.
const BEYOND: f64 = 1.5;
/// In no direction are places closer than with a spread of so many mm, which is about the
/// width of a double. House rule.
const NARROW: f64 = 8.0;
/// With more places than this, hills are looked for from the middles of beds alone: with a
/// narrow spread they all are about these. House rule: the board has as many with a
/// spread of 10 mm.
const MOST: f64 = 2500.0;
/// Not so where darts scatter this many times wider one way than across it: hills then lie
/// along the spread, where no middle leads to (0.005 darts a leg were lost at 0.5 by 6 mm,
/// nothing at 3 by 9, measured). House rule.
const LONG: f64 = 3.0;
/// Steps to the six neighbours, along the two axes of the honeycomb: of its places every
/// third one is taken, which are a honeycomb again.
const STEPS: [Cell; 6] = [(1, 1), (2, -1), (1, -2), (-1, -1), (-2, 1), (-1, 2)];

/// Places, in spreads, and which of them are neighbours.
#[derive(Clone, Debug, Default)]
pub(super) struct Chart {
    pub(super) places: Vec<Point>,
    /// Whether there may be hills between them, about the middles of beds.
    pub(super) coarse: bool,
    /// Of each; itself where there is none.
    neighbours: Vec<[usize; STEPS.len()]>,
}

impl Chart {
    /// In spreads, as a honeycomb is; empty where the spread is narrow.
    pub(super) fn of(comb: Comb, scale: Scale) -> Self {
        let wide = scale.widened(NARROW);
        let few = disc(REACH) <= 3.0 * comb.area() * wide.area() * MOST;
        if !few && scale.elongation() <= LONG {
            return Self::default();
        }
        let is_near = |at: Point| {
            let far = at.norm();
            wide.place(at).norm() * (far - BEYOND) <= REACH * far
        };
        let margin = Point::new(BEYOND, BEYOND);
        let cells = comb.within(wide.extent(REACH) + margin, is_near);
        let thirds = cells.into_iter().filter(|(i, j)| (i - j) % 3 == 0);
        let cells: Vec<Cell> = thirds.collect();
        let index: HashMap<Cell, usize> = cells.iter().copied().zip(0..).collect();
        let around = |(own, (i, j)): (usize, &Cell)| {
            STEPS.map(|(di, dj)| index.get(&(i + di, j + dj)).copied().unwrap_or(own))
        };
        let place = |cell: &Cell| scale.spreads(wide.place(comb.place(*cell)));
        Self {
            places: cells.iter().map(place).collect(),
            coarse: wide.area() > scale.area(),
            neighbours: cells.iter().enumerate().map(around).collect(),
        }
    }

    /// The places, by their index, that cost less than any of their neighbours, or as much
    /// as those that come later: of a plain only its first place, and few at its edge.
    pub(super) fn lowest<'a>(&'a self, costs: &'a [f64]) -> impl Iterator<Item = usize> + 'a {
        let is_lowest = |index: usize, cost: f64, around: &[usize; STEPS.len()]| {
            around.iter().all(|other| {
                let there = costs.get(*other).copied().unwrap_or(f64::INFINITY);
                match cost.total_cmp(&there) {
                    Ordering::Equal => index <= *other,
                    order => order.is_lt(),
                }
            })
        };
        let each = costs.iter().zip(&self.neighbours).enumerate();
        each.filter_map(move |(index, (cost, around))| {
            is_lowest(index, *cost, around).then_some(index)
        })
    }
}

fn disc(radius: f64) -> f64 {
    PI * radius * radius
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
        let plain = vec![1.0; chart.places.len()];
        // The first of all, and a few at the edge that none before is a neighbour of.
        let starts: Vec<usize> = chart.lowest(&plain).collect();
        assert_eq!(starts.first(), Some(&0));
        let most = chart.places.len() / 50;
        assert!(starts.len() < most, "{} of {most}", starts.len());
    }
}
