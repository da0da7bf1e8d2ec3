//! What measurement and the player's spread leave of a leg, to first order.

use super::CompareError;
use super::average_slopes::AverageSide;
use super::certainty::{Causes, Certainty, together};
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

impl SureLeg<'_> {
    /// Of the expected number of what is played for.
    pub(super) fn expected(&self) -> Result<Certainty, CompareError> {
        let expected = |leg: &Leg| match leg.options().objective {
            Objective::Visits => leg.expected_visits(),
            _ => leg.expected_darts(),
        };
        let spread = self.known.spread;
        let weigh = |face: &Face, spread: Spread| self.weights.weigh(self.setup(face), spread);
        let player = self.known.ends.iter().map(|ends| {
            let [one, other] = *ends;
            let at = |spread| {
                let leg = Leg::solve(self.side.subject.setup(None), spread, self.leg.options())?;
                Ok::<_, CompareError>(expected(&leg))
            };
            Ok([at(one)?, at(other)?])
        });
        let player: Result<Vec<_>, CompareError> = player.collect();
        let causes = self.causes(
            expected(self.leg),
            |face| weigh(face, spread),
            |spread| weigh(self.side.subject.face(), spread),
            player?,
        );
        Ok(causes.certainty())
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
            perfect.map_or(f64::NAN, |perfect| libm::log(perfect.chance))
        };
        let (face, spread) = (self.side.subject.face(), self.known.spread);
        let value = libm::log(chance);
        let apart = value - log(face, spread);
        let ends = self.known.ends.iter();
        let ends = ends.map(|ends| ends.map(|spread| apart + log(face, spread)));
        let causes = self.causes(
            value,
            |face| log(face, spread),
            |spread| log(face, spread),
            ends.collect(),
        );
        causes.certainty_of_product()
    }

    fn setup<'f>(&self, face: &'f Face) -> Setup<'f> {
        let metal = self.side.subject.metal;
        Setup { face, metal }
    }

    /// From how a figure changes with the board, and with a spread of the same shape.
    fn causes(
        &self,
        value: f64,
        on: impl Fn(&Face) -> f64 + Sync,
        of: impl Fn(Spread) -> f64,
        player: Vec<[f64; 2]>,
    ) -> Causes {
        let slopes = self.side.slopes;
        let own = slopes.of_figures(1, |face| vec![on(face)]).pop();
        let own = own.unwrap_or_default();
        let boards = match self.follows {
            None => slopes.uncertainty(&own),
            Some(follows) => {
                let spread = self.known.spread;
                let scaled = |factor: f64| spread.scaled(factor, factor).unwrap_or(spread);
                let step = 2.0 * SHARE * spread.sigma_x();
                let rate = (of(scaled(1.0 + SHARE)) - of(scaled(1.0 - SHARE))) / step;
                let follows = Linear::default().plus(rate, follows);
                if std::ptr::eq(self.side.subject, self.first.subject) {
                    slopes.uncertainty(&own.plus(1.0, &follows))
                } else {
                    together(
                        self.first.slopes.uncertainty(&follows),
                        slopes.uncertainty(&own),
                    )
                }
            }
        };
        Causes {
            value,
            boards,
            player,
        }
    }
}
