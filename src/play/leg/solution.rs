//! A leg that has been solved.

use super::aim::Aim;
use super::distribution::Distribution;
use super::line::{Line, Outlook};
use super::options::{Aims, Costs, LegOptions};
use super::outcome::{ByOutcome, mean, reached};
use super::programme::{Programme, Solved};
use super::range::Range;
use super::visit::Step;
use crate::geometry::{Bed, Point};
use crate::play::limits::LARGEST_START;
use crate::play::{PlayError, Setup, Spread};

/// How near the optimum a leg with continuous aims comes, in the objective's
/// unit.
const TOLERANCE: f64 = 1e-6;
/// In a visit up to three aims may be too dear by a tolerance, and the costs
/// with two darts in hand and with one too high by it; and some to spare.
const A_VISIT: f64 = 8.0;

/// One player's leg on one board: what is best in every position, what it comes
/// to, and how it may go.
///
/// The exact decision programme of a leg that ends on a double; the inner bull
/// is one. A visit that scores more than is left, leaves one, or comes to zero
/// without a double is void: the total goes back to what it was at the visit's
/// start, and the visit counts three darts. The winning visit counts the darts
/// that it took. Every dart is a normal throw with the player's spread.
///
/// ```
/// use ringrule::board::Board;
/// use ringrule::document::Source;
/// use ringrule::geometry::Spider;
/// use ringrule::play::{Face, Leg, LegOptions, Metal, Setup, Spread};
///
/// # let text = include_str!("../../../tests/fixtures/board-r.yaml");
/// let board = Board::read(Source::new("board-r.yaml", text))?;
/// let face = Face::of(&Spider::of(&board.construction))?;
/// let setup = Setup { face: &face, metal: Metal::Lost };
/// let leg = Leg::solve(setup, Spread::new(10.0)?, LegOptions::from(40))?;
/// // From 40 the middle of a double is best, but not that of double 20 alone.
/// assert!((leg.expected_darts() - 3.427_175).abs() < 1e-6);
/// assert!(leg.choice(40, 40, 3).is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Leg {
    pub(super) options: LegOptions,
    pub(super) aims: Vec<Aim>,
    pub(super) totals: Vec<Option<Solved>>,
    /// Before the first double of a leg that begins with one.
    pub(super) entry: Option<Solved>,
    darts: Vec<f64>,
    visits: Vec<f64>,
    pub(super) at_double: Vec<f64>,
}

/// What is best in a position, and what it comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Choice {
    /// Where to aim, in mm.
    pub aim: Point,
    /// The bed whose middle that is, or is nearest where aims are continuous.
    pub bed: Bed,
    /// What is still expected, in the objective's unit: further darts as they
    /// count, or visits with the present one.
    pub expected: f64,
}

impl Leg {
    /// Solves a leg for a board, what its metal does, and a spread.
    ///
    /// Refused: a start below 2 or above [`LARGEST_START`], and one from which
    /// nobody ever finishes, such as 3 where a leg begins on a double.
    pub fn solve(setup: Setup<'_>, spread: Spread, options: LegOptions) -> Result<Self, PlayError> {
        check_start(options.start)?;
        let start = options.start as usize;
        let costs = Costs::of(options.objective);
        let mut programme = Programme::new(Range::middles(setup, spread), costs);
        let mut entry = programme.leg(start, options.entry)?;
        if options.aims == Aims::Continuous {
            let leg = entry
                .as_ref()
                .map(|entry| entry.cost)
                .or(programme.cost(start));
            let visits = 1.0 + leg.unwrap_or_default() / costs.lost;
            let range = Range::anywhere(setup, spread, TOLERANCE / (A_VISIT * visits));
            programme = Programme::near(range, &programme);
            entry = programme.leg(start, options.entry)?;
        }
        let mut leg = Self {
            options,
            totals: programme.solved,
            aims: programme.range.into_aims(),
            entry,
            darts: Vec::new(),
            visits: Vec::new(),
            at_double: Vec::new(),
        };
        leg.expect();
        Ok(leg)
    }

    /// Works out the expected numbers of darts, visits and darts at a double from
    /// each total, and before the first double from the start.
    fn expect(&mut self) {
        let ends = self
            .totals
            .iter()
            .chain(self.entry.is_some().then_some(&self.entry));
        for (total, solved) in ends.enumerate() {
            let Some(Solved { visit, .. }) = solved else {
                for means in [&mut self.darts, &mut self.visits, &mut self.at_double] {
                    means.push(f64::NAN);
                }
                continue;
            };
            let after =
                |means: &[f64], scored| means.get(total - scored).copied().unwrap_or_default();
            let darts = visit.cost(&Costs::DARTS, |scored| after(&self.darts, scored));
            let visits = visit.cost(&Costs::VISITS, |scored| after(&self.visits, scored));
            let later = visit.ends.iter().enumerate().skip(1);
            let later: f64 = later
                .filter(|(_, probability)| **probability > 0.0)
                .map(|(scored, probability)| probability * after(&self.at_double, scored))
                .sum();
            let at_double = (visit.at_double + later) / visit.leaves();
            self.darts.push(darts);
            self.visits.push(visits);
            self.at_double.push(at_double);
        }
    }

    /// What was asked.
    pub const fn options(&self) -> LegOptions {
        self.options
    }

    /// The expected number of darts as they count: three for each visit that does
    /// not win.
    pub fn expected_darts(&self) -> f64 {
        self.darts.last().copied().unwrap_or(f64::NAN)
    }

    /// The expected number of visits.
    pub fn expected_visits(&self) -> f64 {
        self.visits.last().copied().unwrap_or(f64::NAN)
    }

    /// The expected numbers of darts from the start of a visit with this much to
    /// score, at least 2, once the leg has begun.
    pub fn expected_darts_from(&self, total: u32) -> Option<f64> {
        self.totals.get(total as usize)?.as_ref()?;
        self.darts.get(total as usize).copied()
    }

    /// The match average: three times the start total over the expected number
    /// of darts. Over many legs the points scored for every three darts thrown
    /// come to this, darts at doubles and void visits included; it is lower than
    /// the average of scoring darts alone.
    pub fn match_average(&self) -> f64 {
        3.0 * f64::from(self.options.start) / self.expected_darts()
    }

    /// The expected number of darts aimed at a double that would have won.
    pub fn darts_at_double(&self) -> f64 {
        self.at_double.last().copied().unwrap_or(f64::NAN)
    }

    /// The checkout rate, 0 to 1: one won leg over the expected number of darts
    /// aimed at a double that would have won. A dart that is aimed elsewhere
    /// where a double would win does not count, a leg won by luck does. `None` where not one
    /// dart a leg is aimed so: most legs are won by luck then.
    pub fn checkout_rate(&self) -> Option<f64> {
        // What rounding leaves of one.
        const ONE: f64 = 1.0 - 1e-9;
        let darts = self.darts_at_double();
        (darts >= ONE).then(|| (1.0 / darts).min(1.0))
    }

    /// How many darts the leg takes, with their probabilities.
    pub fn distribution(&self) -> Distribution {
        let visits = self
            .totals
            .iter()
            .map(|solved| solved.as_ref().map(|s| &s.visit));
        let entry = self.entry.as_ref().map(|entry| &entry.visit);
        Distribution::of(&visits.collect::<Vec<_>>(), entry)
    }

    /// What is best with this much left and this many darts in hand, 1 to 3, in a
    /// visit that began at `begun`. `None` if that cannot happen: darts from
    /// `begun` do not lead there, or the leg does not reach that high.
    pub fn choice(&self, begun: u32, left: u32, darts: usize) -> Option<Choice> {
        let step = self.step(begun as usize, left as usize, darts)?;
        self.choice_of(step, darts)
    }

    /// What is best before the first double of a leg that begins with one, with
    /// this many darts in hand, 1 to 3.
    pub fn entry_choice(&self, darts: usize) -> Option<Choice> {
        let step = *self
            .entry
            .as_ref()?
            .steps
            .get(3_usize.checked_sub(darts)?)?;
        self.choice_of(step, darts)
    }

    /// What is best after the first double within a visit that began before it.
    pub fn choice_after_entry(&self, left: u32, darts: usize) -> Option<Choice> {
        let scored = self
            .options
            .start
            .checked_sub(left)
            .filter(|scored| *scored > 0)?;
        let plan = self.entry.as_ref()?.plan.as_ref()?;
        self.choice_of(plan.step(scored as usize, darts)?, darts)
    }

    fn choice_of(&self, step: Step, darts: usize) -> Option<Choice> {
        let aim = self.aims.get(step.aim)?;
        let lost = Costs::of(self.options.objective).lost;
        // Darts of this visit that are thrown already count as its cost.
        let thrown = if lost > 1.0 { 3.0 - darts as f64 } else { 0.0 };
        Some(Choice {
            aim: aim.place,
            bed: aim.bed,
            expected: step.cost - thrown,
        })
    }

    pub(super) fn step(&self, begun: usize, left: usize, darts: usize) -> Option<Step> {
        let scored = begun.checked_sub(left)?;
        let solved = self.totals.get(begun)?.as_ref()?;
        if let Some(plan) = &solved.plan {
            return plan.step(scored, darts);
        }
        let thrown = 3_usize.checked_sub(darts)?;
        let here = self.totals.get(left)?.as_ref()?;
        let step = here.steps.get(thrown)?;
        reached(scored, thrown).then_some(*step)
    }

    /// What it costs, in the objective's unit, to take another aim for one dart,
    /// and to do what is best from then on.
    pub(super) fn loss(&self, position: [usize; 3], aim: usize) -> Option<f64> {
        self.loss_of(position, &self.aims.get(aim)?.chances)
    }

    /// The same for what comes of any aim.
    pub(super) fn loss_of(
        &self,
        [begun, left, darts]: [usize; 3],
        chances: &ByOutcome,
    ) -> Option<f64> {
        let best = self.step(begun, left, darts)?;
        let costs = Costs::of(self.options.objective);
        let cost = |total: usize| {
            self.totals
                .get(total)?
                .as_ref()
                .map(|s| costs.lost + s.cost)
        };
        let void = cost(begun)?;
        let after = darts.checked_sub(1)?;
        let next = |left: usize| match after {
            0 => cost(left),
            _ => self.step(begun, left, after).map(|step| step.cost),
        };
        let won = *costs.won.get(after)?;
        let line = |cost: Option<f64>| cost.map_or(Line::VOID, |cost| Line::fixed(cost, void));
        let outlook = Outlook::new(line(next(left)), |score, double| {
            if double && score == left {
                Line::fixed(won, void)
            } else if left >= score + 2 {
                line(next(left - score))
            } else {
                Line::VOID
            }
        });
        Some(void + mean(chances, &outlook.excess) - best.cost)
    }
}

/// Refuses a start that no leg has.
pub(super) const fn check_start(start: u32) -> Result<(), PlayError> {
    match start {
        0..2 => Err(PlayError::StartTooSmall(start)),
        2..=LARGEST_START => Ok(()),
        _ => Err(PlayError::StartTooLarge(start)),
    }
}
