//! How the expected cost of a leg, and the darts that it takes at a double, change with
//! what darts come to.
//!
//! Under the best policy a small change of the chances changes the expected cost as if the
//! policy stayed: what it would gain by another aim is of second order. So the change is a
//! sum over all darts of the leg, each in its position: how often the dart is thrown, times
//! the changes of its outcomes' chances, times what each outcome costs from there. Collected
//! by aim, that is one weight for each aim and outcome. The darts at a double are a sum of
//! the same kind, for a player who keeps to the aims.

use super::options::{Aims, Costs};
use super::outcome::{ByOutcome, LARGEST, OUTCOMES, chances, mean};
use super::programme::Solved;
use super::solution::Leg;
use super::visit::{After, Step, VISIT, after};
use crate::geometry::{Bed, Point};
use crate::play::{Setup, Spread, Throw};

/// What each outcome of the darts at each aim weighs in the figures of a leg.
#[derive(Clone, Debug)]
pub struct LegSlopes {
    /// Only the aims that are taken.
    aims: Vec<Weighed>,
}

#[derive(Clone, Debug)]
struct Weighed {
    place: Point,
    /// Where the middle of a bed is aimed at: it goes where the bed goes.
    middle: Option<Bed>,
    weights: Weights,
}

#[derive(Clone, Debug)]
struct Weights {
    cost: ByOutcome,
    at_double: ByOutcome,
}

/// What darts come to, weighed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct LegSums {
    /// In the expected cost, in the objective's unit.
    pub cost: f64,
    /// In the expected number of darts aimed at a double that would have won, by a player
    /// who keeps to the aims.
    pub at_double: f64,
}

impl LegSlopes {
    /// What darts come to on a board with a spread, weighed. The difference of two such
    /// sums is, to first order, the difference of the leg's figure between them, if one of
    /// them is what the leg was solved for.
    pub fn weigh(&self, setup: Setup<'_>, spread: Spread) -> LegSums {
        let mut sums = LegSums {
            cost: 0.0,
            at_double: 0.0,
        };
        for aim in &self.aims {
            let place = aim.middle.map_or(aim.place, |bed| setup.face.middle(bed));
            let hits = setup.face.hits(&Throw::at(place, spread), setup.metal);
            let chances = chances(&hits);
            sums.cost += mean(&chances, &aim.weights.cost);
            sums.at_double += mean(&chances, &aim.weights.at_double);
        }
        sums
    }
}

impl Leg {
    /// How its figures change with what darts come to.
    pub fn slopes(&self) -> LegSlopes {
        let mut weights = vec![None; self.aims.len()];
        let mut inflow = vec![0.0; self.totals.len()];
        let mut add = |total: usize, solved: &Solved, outside: bool, inflow: &mut [f64]| {
            let arriving = if outside {
                1.0
            } else {
                inflow.get(total).copied().unwrap_or_default()
            };
            if arriving <= 0.0 {
                return;
            }
            let visits = arriving / solved.visit.leaves();
            for (scored, probability) in solved.visit.ends.iter().enumerate().skip(1) {
                if let Some(place) = total.checked_sub(scored).and_then(|t| inflow.get_mut(t)) {
                    *place += visits * probability;
                }
            }
            let positions = Positions {
                leg: self,
                total,
                solved,
                outside,
            };
            positions.weigh(visits, &mut weights);
        };
        let start = self.options.start as usize;
        match &self.entry {
            Some(entry) => add(start, entry, true, &mut inflow),
            None => {
                if let Some(place) = inflow.last_mut() {
                    *place = 1.0;
                }
            }
        }
        for (total, solved) in self.totals.iter().enumerate().rev() {
            if let Some(solved) = solved {
                add(total, solved, false, &mut inflow);
            }
        }
        let middles = self.options.aims == Aims::Middles;
        let aims = self.aims.iter().zip(weights);
        LegSlopes {
            aims: aims
                .filter_map(|(aim, weights)| {
                    Some(Weighed {
                        place: aim.place,
                        middle: middles.then_some(aim.bed),
                        weights: weights?,
                    })
                })
                .collect(),
        }
    }
}

/// The positions of the visits at one total; before the first double if `outside`.
struct Positions<'a> {
    leg: &'a Leg,
    total: usize,
    solved: &'a Solved,
    outside: bool,
}

impl Positions<'_> {
    fn costs(&self) -> Costs {
        Costs::of(self.leg.options.objective)
    }

    fn void(&self) -> f64 {
        self.costs().lost + self.solved.cost
    }

    fn step(&self, scored: usize, darts: usize) -> Option<Step> {
        let thrown = 3_usize.checked_sub(darts)?;
        match &self.solved.plan {
            Some(plan) => plan.step(scored, darts),
            None if scored == 0 => self.solved.steps.get(thrown).copied(),
            None => {
                let left = self.total.checked_sub(scored)?;
                let solved = self.leg.totals.get(left)?.as_ref()?;
                solved.steps.get(thrown).copied()
            }
        }
    }

    /// What is expected with so much scored and so many darts left.
    fn cost(&self, scored: usize, darts: usize) -> f64 {
        let cost = match darts {
            0 if scored == 0 => Some(self.void()),
            0 => {
                let left = self.total.checked_sub(scored);
                let solved = left.and_then(|left| self.leg.totals.get(left)?.as_ref());
                solved.map(|solved| self.costs().lost + solved.cost)
            }
            _ => self.step(scored, darts).map(|step| step.cost),
        };
        cost.unwrap_or_else(|| self.void())
    }

    /// What is expected at a double of a visit that begins with so much scored.
    fn at_double_from(&self, scored: usize) -> f64 {
        let means = &self.leg.at_double;
        let mean = match self.total.checked_sub(scored) {
            Some(total) if scored > 0 || !self.outside => means.get(total),
            _ => means.last(),
        };
        mean.copied().unwrap_or_default()
    }

    /// By darts in hand, 3 to 1: how often each score of the visit comes about.
    fn reached(&self, visits: f64) -> [Vec<f64>; 3] {
        let next = |now: &[f64], darts: usize| {
            let mut next = vec![0.0; now.len() + LARGEST];
            for (scored, mass) in now.iter().enumerate().filter(|(_, mass)| **mass > 0.0) {
                let step = self.step(scored, darts);
                let Some(aim) = step.and_then(|step| self.leg.aims.get(step.aim)) else {
                    continue;
                };
                for (outcome, chance) in aim.chances.iter().enumerate() {
                    if let After::On(scored) = self.after(scored, outcome)
                        && let Some(place) = next.get_mut(scored)
                    {
                        *place += mass * chance;
                    }
                }
            }
            next
        };
        let three = vec![visits];
        let two = next(&three, 3);
        let one = next(&two, 2);
        [three, two, one]
    }

    fn after(&self, scored: usize, outcome: usize) -> After {
        after(self.total, scored, self.outside, outcome)
    }

    /// Adds the weights of every dart of so many visits.
    fn weigh(&self, visits: f64, weights: &mut [Option<Weights>]) {
        let (void, void_at_double) = (self.void(), self.at_double_from(0));
        let won = self.costs().won;
        // What is still expected at a double, by score, with the darts after this one.
        let mut later: Vec<f64> = (0..=self.total.min(VISIT))
            .map(|scored| self.at_double_from(scored))
            .collect();
        let reached = self.reached(visits);
        for (darts, now) in [3_usize, 2, 1].into_iter().zip(&reached).rev() {
            let mut here = vec![0.0; now.len()];
            for (scored, mass) in now.iter().enumerate().filter(|(_, mass)| **mass > 0.0) {
                let Some(step) = self.step(scored, darts) else {
                    continue;
                };
                let (Some(aim), Some(weights)) =
                    (self.leg.aims.get(step.aim), weights.get_mut(step.aim))
                else {
                    continue;
                };
                let weights = weights.get_or_insert(Weights {
                    cost: [0.0; OUTCOMES],
                    at_double: [0.0; OUTCOMES],
                });
                let mut expected = f64::from(u8::from(aim.would_win(self.total - scored)));
                let each = aim.chances.iter().enumerate();
                let both = weights.cost.iter_mut().zip(&mut weights.at_double);
                for ((outcome, chance), (cost_weight, at_double_weight)) in each.zip(both) {
                    let (cost, at_double) = match self.after(scored, outcome) {
                        After::On(scored) => (
                            self.cost(scored, darts - 1),
                            later.get(scored).copied().unwrap_or_default(),
                        ),
                        After::Won => (won.get(darts - 1).copied().unwrap_or_default(), 0.0),
                        After::Void => (void, void_at_double),
                    };
                    *cost_weight += mass * (cost - void);
                    *at_double_weight += mass * (at_double - void_at_double);
                    expected += chance * at_double;
                }
                if let Some(place) = here.get_mut(scored) {
                    *place = expected;
                }
            }
            later = here;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixtures::{face, from, solve, spread};
    use super::super::{Entry, LegOptions, Objective};
    use super::*;
    use crate::board::RingWire;
    use crate::fixtures::{bent, round};
    use crate::play::{Face, Metal};
    use crate::units::Length;

    fn lost(face: &Face) -> Setup<'_> {
        let metal = Metal::Lost;
        Setup { face, metal }
    }

    fn cost(leg: &Leg) -> f64 {
        match leg.options().objective {
            Objective::Visits => leg.expected_visits(),
            Objective::Darts => leg.expected_darts(),
        }
    }

    #[test]
    fn a_small_change_of_board_or_spread_costs_what_solving_anew_finds() {
        let options = [
            from(201),
            from(40),
            LegOptions {
                entry: Entry::Double,
                ..from(101)
            },
            LegOptions {
                objective: Objective::Visits,
                ..from(170)
            },
        ];
        for spider in [round(), bent()] {
            let here = face(&spider);
            let mut moved = spider.clone();
            // Where every double is hit as often, as many darts at a double are thrown
            // whatever the trebles are: so the doubles' wire is moved too.
            for wire in [RingWire::TrebleInner, RingWire::DoubleInner] {
                let ring = &mut moved.rings[wire];
                ring.outside = ring.outside.map(|radius| radius + Length::mm(1e-5));
            }
            let thicker = face(&moved);
            for options in options {
                let leg = solve(&here, spread(11.0), options);
                let slopes = leg.slopes();
                let base = slopes.weigh(lost(&here), spread(11.0));
                for (there, sigma) in [(&thicker, 11.0), (&here, 11.000_01)] {
                    let first = slopes.weigh(lost(there), spread(sigma));
                    let anew = solve(there, spread(sigma), options);
                    // Recomputed: the whole programme for the changed board.
                    for (first, anew) in [
                        (first.cost - base.cost, cost(&anew) - cost(&leg)),
                        (
                            first.at_double - base.at_double,
                            anew.darts_at_double() - leg.darts_at_double(),
                        ),
                    ] {
                        assert!(
                            (first / anew - 1.0).abs() < 2e-3,
                            "{options:?}, {sigma}: {first} {anew}"
                        );
                    }
                }
            }
        }
    }

    #[test]
    fn aims_that_are_never_taken_weigh_nothing() {
        let face = face(&round());
        let slopes = solve(&face, spread(10.0), from(2)).slopes();
        // From 2 nothing but double 1 wins.
        assert!(slopes.aims.iter().all(|aim| aim.middle.is_some()));
        assert!(slopes.aims.len() <= 3, "{}", slopes.aims.len());
    }
}
