//! What measurement and the player's spread leave of a leg, to first order.

use super::CompareError;
use super::average_slopes::AverageSide;
use super::certainty::{Causes, Certainty};
use super::log_odds::Follows;
use super::player::Known;
use crate::board::Linear;
use crate::play::{Aims, Face, Leg, LegOptions, LegSlopes, Objective, PerfectLeg, Setup, Spread};

/// The spread is moved by this share of it to both sides.
const SHARE: f64 = 1e-3;

/// A leg that was solved, and what changes it.
pub(super) struct SureLeg<'a> {
    pub(super) side: &'a AverageSide<'a>,
    pub(super) first: &'a AverageSide<'a>,
    pub(super) known: &'a Known,
    pub(super) follows: &'a Follows,
    pub(super) leg: &'a Leg,
    pub(super) weights: &'a LegSlopes,
}

/// What is not known of the expected number of what is played for, and of the darts at a
/// double.
pub(super) struct SureCounts {
    pub(super) expected: Certainty,
    pub(super) at_double: Certainty,
}

impl SureLeg<'_> {
    /// Both counts. The player of an end of the spread's interval plays that player's best
    /// leg; on a board that is a little different the aims stay.
    pub(super) fn counts(&self) -> Result<SureCounts, CompareError> {
        let counts = |leg: &Leg| {
            let expected = match leg.options().objective {
                Objective::Visits => leg.expected_visits(),
                _ => leg.expected_darts(),
            };
            [expected, leg.darts_at_double()]
        };
        let spread = self.known.spread;
        let weigh = |face: &Face, spread: Spread| {
            let sums = self.weights.weigh(self.setup(face), spread);
            [sums.cost, sums.at_double]
        };
        let player = self.known.ends.iter().map(|ends| {
            let [one, other] = *ends;
            let at = |spread| {
                let leg = Leg::solve(self.side.subject.setup(None), spread, self.leg.options())?;
                Ok::<_, CompareError>(counts(&leg))
            };
            Ok([at(one)?, at(other)?])
        });
        let player: Result<Vec<_>, CompareError> = player.collect();
        let [expected, at_double] = self.causes(
            counts(self.leg),
            |face| weigh(face, spread),
            |spread| weigh(self.side.subject.face(), spread),
            &player?,
        );
        Ok(SureCounts {
            expected: expected.certainty(),
            at_double: at_double.certainty(),
        })
    }

    /// Of the match average, which the expected darts give.
    pub(super) fn match_average(&self, expected: &Certainty) -> Certainty {
        let options = self.leg.options();
        match options.objective {
            Objective::Darts => expected.map(|darts| 3.0 * f64::from(options.start) / darts),
            Objective::Visits => Certainty::NotStated,
        }
    }

    /// Of the probability of a perfect leg for who plays for nothing else. How it changes
    /// is that of aims at middles, which aims anywhere hardly differ in.
    pub(super) fn perfect(&self, chance: f64) -> Certainty {
        let options = LegOptions {
            aims: Aims::Middles,
            ..self.leg.options()
        };
        let log = |face: &Face, spread: Spread| {
            let perfect = PerfectLeg::solve(self.setup(face), spread, options);
            [perfect.map_or(f64::NAN, |perfect| libm::log(perfect.chance))]
        };
        let (face, spread) = (self.side.subject.face(), self.known.spread);
        let value = libm::log(chance);
        let [at_middles] = log(face, spread);
        let apart = value - at_middles;
        let ends = self.known.ends.iter();
        let ends = ends.map(|ends| ends.map(|spread| log(face, spread).map(|log| apart + log)));
        let [causes] = self.causes(
            [value],
            |face| log(face, spread),
            |spread| log(face, spread),
            &ends.collect::<Vec<_>>(),
        );
        causes.certainty_of_product()
    }

    fn setup<'f>(&self, face: &'f Face) -> Setup<'f> {
        let metal = self.side.subject.metal;
        Setup { face, metal }
    }

    /// From how some figures change with the board, and with a spread of the same shape.
    fn causes<const N: usize>(
        &self,
        values: [f64; N],
        on: impl Fn(&Face) -> [f64; N] + Sync,
        of: impl Fn(Spread) -> [f64; N],
        player: &[[[f64; N]; 2]],
    ) -> [Causes; N] {
        let slopes = self.side.slopes;
        let own = slopes.of_figures(N, |face| on(face).to_vec());
        let spread = self.known.spread;
        let scaled = |factor: f64| spread.scaled(factor, factor).unwrap_or(spread);
        let step = 2.0 * SHARE * spread.sigma_x();
        let around = self.follows.as_ref();
        let around = around.map(|follows| {
            (
                follows,
                [1.0 - SHARE, 1.0 + SHARE].map(|factor| of(scaled(factor))),
            )
        });
        let picked =
            |values: &[f64; N], figure: usize| values.get(figure).copied().unwrap_or(f64::NAN);
        std::array::from_fn(|figure| {
            let own = own.get(figure).cloned().unwrap_or_default();
            let boards = match &around {
                None => slopes.uncertainty(&own),
                Some((follows, [less, more])) => {
                    let rate = (picked(more, figure) - picked(less, figure)) / step;
                    let follows = Linear::default().plus(rate, follows);
                    if std::ptr::eq(self.side.subject, self.first.subject) {
                        slopes.uncertainty(&own.plus(1.0, &follows))
                    } else {
                        slopes.uncertainty_with(&own, (self.first.slopes, &follows))
                    }
                }
            };
            Causes {
                value: picked(&values, figure),
                boards,
                player: player
                    .iter()
                    .map(|ends| ends.map(|ends| picked(&ends, figure)))
                    .collect(),
            }
        })
    }
}
