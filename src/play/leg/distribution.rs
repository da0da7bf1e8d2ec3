//! How many darts a leg takes.

use super::visit::{VISIT, Visit};

/// What is left unsaid may be this probable.
const TAIL: f64 = 1e-12;
/// Nor more visits than this: a player who needs more is stated as a tail.
const MOST_VISITS: usize = 20_000;
/// What is less probable than this in one total joins the tail.
const LEAST: f64 = 1e-300;

/// The probability of each number of darts, as they count.
#[derive(Clone, Debug, PartialEq)]
pub struct Distribution {
    /// In each visit with two darts left, one and none.
    visits: Vec<[f64; 3]>,
    tail: f64,
}

impl Distribution {
    /// From what a visit at each total comes to; the leg starts at the last, or
    /// at `entry`.
    pub(super) fn of(totals: &[Option<&Visit>], entry: Option<&Visit>) -> Self {
        let start = totals.len() - usize::from(entry.is_none());
        let mut mass = vec![0.0; totals.len()];
        let mut outside = if entry.is_some() { 1.0 } else { 0.0 };
        if let Some(place) = mass.get_mut(start) {
            *place = 1.0;
        }
        let (mut visits, mut tail) = (Vec::new(), 1.0);
        let mut dropped = 0.0;
        while tail > TAIL && visits.len() < MOST_VISITS {
            let mut wins = [0.0; 3];
            let mut next = vec![0.0; mass.len()];
            let still_outside = match entry {
                Some(visit) => spread(visit, start, outside, &mut next, &mut wins),
                None => 0.0,
            };
            for (total, mass) in mass.iter().enumerate().filter(|(_, mass)| **mass > 0.0) {
                if *mass < LEAST {
                    dropped += mass;
                } else if let Some(Some(visit)) = totals.get(total) {
                    let back = spread(visit, total, *mass, &mut next, &mut wins);
                    if let Some(place) = next.get_mut(total) {
                        *place += back;
                    }
                }
            }
            (mass, outside) = (next, still_outside);
            wins.reverse();
            visits.push(wins);
            tail = mass.iter().sum::<f64>() + outside + dropped;
        }
        Self { visits, tail }
    }

    /// The probability of exactly this many darts.
    pub fn chance_of(&self, darts: usize) -> f64 {
        let Some(before) = darts.checked_sub(1) else {
            return 0.0;
        };
        let visit = self.visits.get(before / 3);
        visit
            .and_then(|wins| wins.get(before % 3))
            .copied()
            .unwrap_or_default()
    }

    /// Each number of darts with its probability, from 1 up.
    pub fn iter(&self) -> impl Iterator<Item = (usize, f64)> {
        let darts = self.visits.iter().flatten().copied();
        darts
            .enumerate()
            .map(|(before, chance)| (before + 1, chance))
    }

    /// The probability of winning in each visit, the first one first.
    pub fn by_visit(&self) -> impl Iterator<Item = f64> {
        self.visits.iter().map(|wins| wins.iter().sum())
    }

    /// The probability of more darts than are listed: at most 1e-12 but for a player who
    /// needs tens of thousands.
    pub const fn tail(&self) -> f64 {
        self.tail
    }

    /// The probability of this many darts or fewer.
    pub fn within(&self, darts: usize) -> f64 {
        self.iter().take(darts).map(|(_, chance)| chance).sum()
    }

    /// The fewest darts within which a leg is won with at least this
    /// probability; the median for a half. `None` beyond what is listed.
    pub fn quantile(&self, probability: f64) -> Option<usize> {
        let mut sum = 0.0;
        self.iter()
            .find(|(_, chance)| {
                sum += chance;
                sum >= probability
            })
            .map(|(darts, _)| darts)
    }
}

/// Plays a visit with some probability; says how much of it comes back.
fn spread(visit: &Visit, total: usize, mass: f64, next: &mut [f64], wins: &mut [f64; 3]) -> f64 {
    for (win, chance) in wins.iter_mut().zip(visit.wins) {
        *win += mass * chance;
    }
    let lowest = total.saturating_sub(VISIT);
    let below = next.get_mut(lowest..total).into_iter().flatten().rev();
    let mut ends = visit.ends.iter();
    let back = ends.next().copied().unwrap_or_default();
    for (place, chance) in below.zip(ends) {
        *place += mass * chance;
    }
    mass * back
}
