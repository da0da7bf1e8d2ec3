//! What becomes of a visit under a policy.

use super::aim::Aim;
use super::options::Costs;
use super::outcome::{LARGEST, NOTHING, SCORES, is_double};

/// The most that a visit scores.
pub(super) const VISIT: usize = 3 * LARGEST;

/// How a visit ends.
#[derive(Clone, Debug)]
pub(super) struct Visit {
    /// The probability that it ends with this much less to score; with nothing
    /// less if it is void.
    pub(super) ends: Vec<f64>,
    /// The probability of winning with this many darts left.
    pub(super) wins: [f64; 3],
    /// The expected number of darts aimed at a double that would have won.
    pub(super) at_double: f64,
}

/// The aims and the costs of a visit: by how much has been scored in it, with
/// two darts in hand and with one.
#[derive(Clone, Debug, Default)]
pub(super) struct Plan {
    pub(super) three: Step,
    pub(super) two: Vec<Option<Step>>,
    pub(super) one: Vec<Option<Step>>,
}

/// An aim, and the expected cost of the visit and all after it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Step {
    pub(super) aim: usize,
    pub(super) cost: f64,
}

impl Plan {
    /// What is done after scoring this much, with this many darts in hand.
    pub(super) fn step(&self, scored: usize, darts: usize) -> Option<Step> {
        match darts {
            3 => (scored == 0).then_some(self.three),
            2 => self.two.get(scored).copied().flatten(),
            1 => self.one.get(scored).copied().flatten(),
            _ => None,
        }
    }
}

/// What a dart makes of a visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum After {
    /// It goes on, so much scored.
    On(usize),
    Won,
    Void,
}

/// After a dart with some outcome, where so much of a total has been scored in the visit.
/// Before the first double of a leg that begins with one (`entry`) nothing else counts.
#[inline]
pub(super) fn after(total: usize, scored: usize, entry: bool, outcome: usize) -> After {
    let left = total - scored;
    let score = SCORES.get(outcome).copied().unwrap_or_default();
    let double = is_double(outcome);
    if outcome == NOTHING || (entry && scored == 0 && !double) {
        After::On(scored)
    } else if left >= score + 2 {
        After::On(scored + score)
    } else if left == score && double {
        After::Won
    } else {
        After::Void
    }
}

impl Visit {
    /// Of a visit at a total. `step` is what is done after scoring some of it
    /// with some darts in hand, `aim` what an aim comes to. Before the first
    /// double of a leg that begins with one (`entry`) nothing else counts.
    pub(super) fn play<'a>(
        total: usize,
        entry: bool,
        step: impl Fn(usize, usize) -> Option<Step>,
        aim: impl Fn(usize) -> Option<&'a Aim>,
    ) -> Self {
        let mut visit = Self {
            ends: Vec::new(),
            wins: [0.0; 3],
            at_double: 0.0,
        };
        let mut now = vec![1.0];
        for darts in [3, 2, 1] {
            let mut next = vec![0.0; now.len() + LARGEST];
            for (scored, mass) in now.iter().enumerate().filter(|(_, mass)| **mass > 0.0) {
                let Some(aim) = step(scored, darts).and_then(|step| aim(step.aim)) else {
                    continue;
                };
                if aim.would_win(total - scored) {
                    visit.at_double += mass;
                }
                for (outcome, chance) in aim.chances.iter().enumerate() {
                    let probability = mass * chance;
                    match after(total, scored, entry, outcome) {
                        After::On(scored) => add(&mut next, scored, probability),
                        After::Won => add(&mut visit.wins, darts - 1, probability),
                        // Added below.
                        After::Void => {}
                    }
                }
            }
            now = next;
        }
        now.resize(VISIT + 1, 0.0);
        visit.ends = now;
        let leaves = visit.leaves();
        if let Some(back) = visit.ends.first_mut() {
            *back = 1.0 - leaves;
        }
        visit
    }

    /// The probability that it changes anything: added up, not taken from one,
    /// since a poor player's is tiny.
    pub(super) fn leaves(&self) -> f64 {
        self.ends.iter().skip(1).sum::<f64>() + self.wins.iter().sum::<f64>()
    }

    /// The expected cost of this visit and all after it, where `after` is that
    /// of a visit with so much less to score.
    pub(super) fn cost(&self, costs: &Costs, after: impl Fn(usize) -> f64) -> f64 {
        let ends = self.ends.iter().enumerate().skip(1);
        let on: f64 = ends
            .filter(|(_, probability)| **probability > 0.0)
            .map(|(scored, probability)| probability * after(scored))
            .sum();
        let wins = self.wins.iter().zip(costs.won);
        let saved: f64 = wins
            .map(|(probability, won)| probability * (costs.lost - won))
            .sum();
        (costs.lost - saved + on) / self.leaves()
    }
}

fn add(places: &mut [f64], place: usize, probability: f64) {
    if let Some(place) = places.get_mut(place) {
        *place += probability;
    }
}
