//! The decision programme: the least expected cost of a leg from every total.
//!
//! A visit at a total either lowers it, wins, or is void; so totals are solved
//! one after the other from below. Within a visit the cost `v` of a void visit
//! is unknown, since it leads back to the visit's own start: the start's cost is
//! the `v` at which the visit costs as much as is put in. Every policy's cost is
//! a straight line in `v`, the least of all is concave, and Newton's method
//! (policy iteration) comes down to its fixed point in a few steps.
//!
//! Within reach of zero the cost with one or two darts in hand depends on where
//! the visit began, through `v` alone: an [`Envelope`] for each remaining total
//! serves all starts.

use super::aim::Pick;
use super::envelope::Envelope;
use super::line::{Line, Outlook};
use super::options::{Costs, Entry};
use super::outcome::{LARGEST, is_score, reached};
use super::range::{Question, Range};
use super::visit::{Plan, Step, VISIT, Visit};
use crate::play::PlayError;

/// A fixed point is found when the next step is this small a share of it.
const CLOSE: f64 = 1e-13;
/// How many times a guess grows at most from round to round. House rule.
const MOST_GROWTH: f64 = 4.0;
/// Newton's method takes three or four; a first guess that grows, a few more.
const MOST_ROUNDS: usize = 200;

/// A total below which a dart may make the visit void, or win, with one dart in
/// hand.
const NEAR_WITH_ONE: usize = LARGEST + 2;
/// With two darts in hand.
const NEAR_WITH_TWO: usize = 2 * LARGEST + 2;
/// With three.
const NEAR: usize = VISIT + 2;

/// What is known of a total.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    /// The least expected cost from a visit's start.
    pub(super) cost: f64,
    /// What is done with three, two and one darts in hand where nothing has
    /// been scored in the visit; and further up, whatever has.
    pub(super) steps: [Step; 3],
    pub(super) visit: Visit,
    /// What is done within the visit, where that depends on its start.
    pub(super) plan: Option<Plan>,
}

/// The programme, solved up to some total.
pub(super) struct Programme<'a> {
    pub(super) range: Range<'a>,
    costs: Costs,
    /// By total; nothing can be done from 0 and 1.
    pub(super) solved: Vec<Option<Solved>>,
    one: Vec<Envelope>,
    two: Vec<Envelope>,
    /// Costs that the solution will be near to, by total.
    guesses: Vec<f64>,
}

impl<'a> Programme<'a> {
    pub(super) fn new(range: Range<'a>, costs: Costs) -> Self {
        Self {
            guesses: Vec::new(),
            range,
            costs,
            solved: vec![None, None],
            one: vec![Envelope::default(); NEAR_WITH_ONE],
            two: vec![Envelope::default(); NEAR_WITH_TWO],
        }
    }

    /// The same, to begin with what another solution has come to.
    pub(super) fn near(range: Range<'a>, other: &Programme<'_>) -> Self {
        let guesses = (0..other.solved.len()).map(|total| other.cost(total).unwrap_or_default());
        Self {
            guesses: guesses.collect(),
            ..Self::new(range, other.costs)
        }
    }

    /// Solves a leg; what is best before its first double, where it begins with
    /// one.
    pub(super) fn leg(&mut self, start: usize, entry: Entry) -> Result<Option<Solved>, PlayError> {
        match entry {
            Entry::Straight => self.solve(start).map(|()| None),
            Entry::Double => {
                self.solve(start - 1)?;
                self.settle(start, true).map(Some)
            }
        }
    }

    /// Solves all totals up to one.
    fn solve(&mut self, start: usize) -> Result<(), PlayError> {
        while self.solved.len() <= start {
            let total = self.solved.len();
            let solved = self.settle(total, false)?;
            self.solved.push(Some(solved));
        }
        Ok(())
    }

    /// What is best at a total, those below it solved; before the first double
    /// if `entry`.
    fn settle(&mut self, total: usize, entry: bool) -> Result<Solved, PlayError> {
        let lost = self.costs.lost;
        let mut void = lost + self.guess(total);
        let below = self.solved.last().and_then(Option::as_ref);
        let mut hints = below.map_or([0; 3], |solved| solved.steps.map(|step| step.aim));
        let mut at_start = [Line::VOID; 3];
        for round in 0.. {
            let picks = self.visit(total, void, entry, hints);
            hints = picks.map(|pick| pick.aim);
            at_start = picks.map(|pick| pick.line);
            let [three, ..] = at_start;
            // From below the fixed point the best may be never to finish, or hardly ever: the
            // whole step would then lead so far that rounding swallows what a leg takes.
            let next = if three.leave > 0.0 {
                void + (three.excess + lost) / three.leave
            } else {
                f64::INFINITY
            };
            let next = next.min(MOST_GROWTH * void + 10.0);
            let moved = (next - void).abs();
            void = next;
            if moved <= (CLOSE * void).max(self.range.tolerance()) {
                break;
            }
            if round == MOST_ROUNDS || !void.is_finite() {
                return Err(PlayError::NeverFinishes(
                    u32::try_from(total).unwrap_or(u32::MAX),
                ));
            }
        }
        let step = |(aim, line): (usize, Line)| Step {
            aim,
            cost: void + line.excess,
        };
        let [a, b, c] = at_start;
        let [i, j, k] = hints;
        let steps = [(i, a), (j, b), (k, c)].map(step);
        Ok(self.play(total, void, entry, steps))
    }

    /// What a total will cost, or more or less.
    fn guess(&self, total: usize) -> f64 {
        let below = self.cost(total - 1);
        let guess = |total: usize| self.guesses.get(total);
        match (below, guess(total), guess(total - 1)) {
            (Some(below), Some(here), Some(there)) => below + here - there,
            (None, Some(here), _) => *here,
            (below, ..) => self.costs.lost + below.unwrap_or(10.0),
        }
    }

    /// The visit under the policy that was found, and its exact cost.
    fn play(&mut self, total: usize, void: f64, entry: bool, steps: [Step; 3]) -> Solved {
        let near = entry || total < NEAR;
        let plan = near.then(|| self.plan(total, void, steps));
        let visit = {
            let step = |scored: usize, darts: usize| match &plan {
                Some(plan) => plan.step(scored, darts),
                None if scored == 0 => steps.get(3 - darts).copied(),
                None => self.step(total - scored, darts),
            };
            Visit::play(total, entry, step, |aim| self.range.get(aim))
        };
        let cost = visit.cost(&self.costs, |scored| {
            self.cost(total - scored).unwrap_or_default()
        });
        Solved {
            cost,
            steps,
            visit,
            plan,
        }
    }

    /// Everything that may be done within a visit.
    fn plan(&mut self, total: usize, void: f64, steps: [Step; 3]) -> Plan {
        let [three, two, one] = steps;
        let mut plan = Plan {
            three,
            two: vec![None; LARGEST + 1],
            one: vec![None; 2 * LARGEST + 1],
        };
        let begun = [(2, two), (1, one)];
        for (darts, step) in begun {
            let places = if darts == 2 {
                &mut plan.two
            } else {
                &mut plan.one
            };
            for (scored, place) in places.iter_mut().enumerate() {
                if scored == 0 {
                    *place = Some(step);
                    continue;
                }
                let left = total.checked_sub(scored).filter(|left| *left >= 2);
                if let Some(left) = left.filter(|_| reached(scored, 3 - darts)) {
                    let pick = self.with(left, darts, void);
                    *place = Some(Step {
                        aim: pick.aim,
                        cost: void + pick.line.excess,
                    });
                }
            }
        }
        plan
    }

    /// The least expected cost from a visit's start.
    pub(super) fn cost(&self, total: usize) -> Option<f64> {
        Some(self.solved.get(total)?.as_ref()?.cost)
    }

    /// What is done far from zero.
    fn step(&self, left: usize, darts: usize) -> Option<Step> {
        let solved = self.solved.get(left)?.as_ref()?;
        solved.steps.get(3 - darts).copied()
    }

    /// Picks for a visit's start with three, two and one darts in hand, where a
    /// void visit costs `void`.
    fn visit(&mut self, total: usize, void: f64, entry: bool, hints: [usize; 3]) -> [Pick; 3] {
        if total < NEAR && self.range.is_climbed() {
            self.prepare(total, void);
        }
        let [a, b, c] = hints;
        let mut nothing = Line::VOID;
        let mut pick = |left_after: usize, hint: usize| {
            let outlook = self.outlook(total, left_after, void, nothing, entry);
            let pick = self.range.choose(&outlook, &[hint]);
            nothing = pick.line;
            pick
        };
        let one = pick(0, c);
        let two = pick(1, b);
        [pick(2, a), two, one]
    }

    /// The least expected cost with one or two darts in hand, or none, in a
    /// visit that began elsewhere.
    fn with(&mut self, left: usize, darts: usize, void: f64) -> Pick {
        if let Some(known) = self.known(left, darts, void) {
            return known;
        }
        let question = self.question(left, darts, void);
        let pick = self.range.choose(&question.outlook, &question.hints);
        self.note(left, darts, void, pick);
        pick
    }

    /// The same, where nothing needs to be searched for it.
    fn known(&self, left: usize, darts: usize, void: f64) -> Option<Pick> {
        if darts == 0 {
            let cost = self.costs.lost + self.cost(left).unwrap_or_default();
            let line = Line::fixed(cost, void);
            return Some(Pick { aim: 0, line });
        }
        let Some(envelope) = self.envelope(left, darts) else {
            let step = self.step(left, darts).unwrap_or_default();
            let (aim, line) = (step.aim, Line::fixed(step.cost, void));
            return Some(Pick { aim, line });
        };
        let (line, aim) = envelope.at(void, self.range.tolerance())?;
        Some(Pick { aim, line })
    }

    /// What has to be searched for otherwise.
    fn question(&mut self, left: usize, darts: usize, void: f64) -> Question {
        let near = self
            .envelope(left, darts)
            .map(|envelope| envelope.near(void));
        let mut hints: Vec<usize> = near.into_iter().flatten().collect();
        if hints.is_empty() {
            hints.extend(self.step(left, darts).map(|step| step.aim));
        }
        let nothing = self.with(left, darts - 1, void).line;
        let outlook = self.outlook(left, darts - 1, void, nothing, false);
        Question { outlook, hints }
    }

    fn note(&mut self, left: usize, darts: usize, void: f64, pick: Pick) {
        let envelopes = if darts == 1 {
            &mut self.one
        } else {
            &mut self.two
        };
        if let Some(envelope) = envelopes.get_mut(left) {
            envelope.insert(void, pick.line, pick.aim);
        }
    }

    /// Of a position whose cost depends on where the visit began.
    fn envelope(&self, left: usize, darts: usize) -> Option<&Envelope> {
        let envelopes = if darts == 1 { &self.one } else { &self.two };
        envelopes.get(left)
    }

    /// Searches for all that a visit at a total will ask for, side by side.
    fn prepare(&mut self, total: usize, void: f64) {
        let unknown = |own: &Self, from: usize, darts: usize| -> Vec<usize> {
            let lefts = (1..=LARGEST).filter(|score| is_score(*score));
            let lefts = lefts.filter_map(|score| from.checked_sub(score).filter(|left| *left >= 2));
            lefts
                .filter(|left| own.known(*left, darts, void).is_none())
                .collect()
        };
        let two = unknown(self, total, 2);
        // With the last dart: after two that were both thrown, or one that scored nothing.
        let mut one = unknown(self, total, 1);
        for left in &two {
            one.extend(unknown(self, *left, 1));
            one.extend(self.known(*left, 1, void).is_none().then_some(*left));
        }
        one.sort_unstable();
        one.dedup();
        for (darts, lefts) in [(1, one), (2, two)] {
            let questions: Vec<Question> = lefts
                .iter()
                .map(|left| self.question(*left, darts, void))
                .collect();
            let picks = self.range.choose_each(&questions);
            for (left, pick) in lefts.into_iter().zip(picks) {
                self.note(left, darts, void, pick);
            }
        }
    }

    /// What follows each outcome of a dart thrown at a total, with some darts
    /// left after it.
    fn outlook(
        &mut self,
        left: usize,
        darts_after: usize,
        void: f64,
        nothing: Line,
        entry: bool,
    ) -> Outlook {
        let mut after = [Line::VOID; LARGEST + 1];
        for (score, line) in after.iter_mut().enumerate().skip(1) {
            if is_score(score) && left >= score + 2 {
                *line = self.with(left - score, darts_after, void).line;
            }
        }
        let won = self.costs.won.get(darts_after).copied().unwrap_or_default();
        let won = Line::fixed(won, void);
        Outlook::new(nothing, |score, double| {
            if entry && !double {
                nothing
            } else if double && score == left {
                won
            } else {
                after.get(score).copied().unwrap_or(Line::VOID)
            }
        })
    }
}
