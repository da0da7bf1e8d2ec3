//! What measurement and the player's spread leave of the odds, to first order.
//!
//! A ratio of two boards is a difference of logarithms, and a route's is a sum of them: so
//! everything here is about logarithms of areas and of probabilities.

use super::Subject;
use super::certainty::{Causes, Certainty};
use super::data::TARGETS;
use super::odds::NamedRoute;
use super::player::{Known, player};
use super::slopes::Slopes;
use crate::board::Linear;
use crate::geometry::{Bed, Point};
use crate::play::{AimRule, Face, Player, Route, Spread, Target, Throw, Worth};
use crate::units::Uncertainty;

/// The spread is moved by this share of it to both sides.
const SHARE: f64 = 1e-3;

/// The logarithms of a board's figures, and what changes them.
pub(super) struct LogOdds<'a> {
    slopes: &'a Slopes<'a>,
    /// The bands and the routes by area, then the same by probability.
    values: Vec<f64>,
    /// The slope of each in the measured lengths.
    lengths: Vec<Linear>,
    /// The slope of each in the spread, per mm.
    spread: Vec<f64>,
    /// Each where the spread lies at either end of its interval.
    ends: Vec<[Vec<f64>; 2]>,
}

/// How the player's spread follows from the first board's lengths, in mm per mm, where it
/// is that of an average there.
pub(super) type Follows = Option<Linear>;

impl<'a> LogOdds<'a> {
    pub(super) fn of(
        subject: &Subject,
        slopes: &'a Slopes<'a>,
        known: &Known,
        aim: AimRule,
        routes: &[NamedRoute],
    ) -> Self {
        let fixed = FixedAims::of(&player(subject.setup(None), known.spread, aim), routes);
        let at = |face: &Face, spread: Spread| {
            let figures = Figures {
                face,
                spread,
                subject,
                aims: &fixed,
            };
            figures.logs(routes)
        };
        let scaled = |factor: f64| {
            let spread = known.spread;
            at(
                subject.face(),
                spread.scaled(factor, factor).unwrap_or(spread),
            )
        };
        let values = at(subject.face(), known.spread);
        let step = 2.0 * SHARE * known.spread.sigma_x();
        let (less, more) = (scaled(1.0 - SHARE), scaled(1.0 + SHARE));
        Self {
            lengths: slopes.of_figures(values.len(), |face| at(face, known.spread)),
            spread: less
                .iter()
                .zip(&more)
                .map(|(a, b)| (b - a) / step)
                .collect(),
            ends: known
                .ends
                .iter()
                .map(|ends| ends.map(|spread| at(subject.face(), spread)))
                .collect(),
            slopes,
            values,
        }
    }

    /// How sure it is how many times harder something is by area on this board than on the
    /// first one; by its place in the list of bands and then routes.
    pub(super) fn by_area(&self, first: &LogOdds<'_>, place: usize) -> Certainty {
        let value = first.value(place) - self.value(place);
        let causes = Causes {
            value,
            boards: self.area_uncertainty(first, place),
            player: Vec::new(),
        };
        causes.certainty_of_product()
    }

    /// The standard uncertainty of the logarithm of that.
    pub(super) fn area_uncertainty(
        &self,
        first: &LogOdds<'_>,
        place: usize,
    ) -> Option<Uncertainty> {
        first
            .slopes
            .uncertainty_with(&first.slope(place), (self.slopes, &self.negative(place)))
    }

    /// The same by the probability of hitting it, metal as set.
    pub(super) fn by_spread(
        &self,
        first: &LogOdds<'_>,
        place: usize,
        follows: &Follows,
    ) -> Certainty {
        let place = place + self.values.len() / 2;
        let difference = |a: &[f64], b: &[f64]| match (a.get(place), b.get(place)) {
            (Some(a), Some(b)) => a - b,
            _ => f64::NAN,
        };
        let mut on_first = first.slope(place);
        if let Some(follows) = follows {
            let rate = difference(&first.spread, &self.spread);
            on_first = on_first.plus(rate, follows);
        }
        let ends = first.ends.iter().zip(&self.ends);
        let causes = Causes {
            value: difference(&first.values, &self.values),
            boards: first
                .slopes
                .uncertainty_with(&on_first, (self.slopes, &self.negative(place))),
            player: ends
                .map(|([a, b], [c, d])| [difference(a, c), difference(b, d)])
                .collect(),
        };
        causes.certainty_of_product()
    }

    fn value(&self, place: usize) -> f64 {
        self.values.get(place).copied().unwrap_or(f64::NAN)
    }

    /// The slope of its negative.
    fn negative(&self, place: usize) -> Linear {
        Linear::default().plus(-1.0, &self.slope(place))
    }

    fn slope(&self, place: usize) -> Linear {
        self.lengths.get(place).cloned().unwrap_or_default()
    }
}

/// Where a player aims who looks for the place that is hit most often: a little beside it,
/// nothing changes to first order, so that it is looked for once.
struct FixedAims(Vec<(Bed, usize, Point)>);

impl FixedAims {
    fn of(player: &Player<'_>, routes: &[NamedRoute]) -> Self {
        if player.aim == AimRule::Middle {
            return Self(Vec::new());
        }
        let beds = TARGETS
            .into_iter()
            .flat_map(|band| Bed::of_band(band).map(|bed| (vec![bed], bed)));
        let targets = routes.iter().flat_map(|(_, route)| route.targets());
        let targets = targets.map(|target| (target.beds(), target.main_bed()));
        let mut found: Vec<(Bed, usize, Point)> = Vec::new();
        for (beds, main) in beds.chain(targets) {
            if !found
                .iter()
                .any(|(bed, count, _)| (*bed, *count) == (main, beds.len()))
            {
                found.push((main, beds.len(), player.aim_for(&beds, main)));
            }
        }
        Self(found)
    }

    fn aim(&self, face: &Face, beds: &[Bed], main: Bed) -> Point {
        let mut found = self.0.iter();
        let found = found.find(|(bed, count, _)| (*bed, *count) == (main, beds.len()));
        found.map_or_else(|| face.middle(main), |(.., aim)| *aim)
    }
}

/// A board as it is, or a little different.
struct Figures<'a> {
    face: &'a Face,
    spread: Spread,
    subject: &'a Subject,
    aims: &'a FixedAims,
}

impl Figures<'_> {
    fn logs(&self, routes: &[NamedRoute]) -> Vec<f64> {
        let areas = TARGETS.map(|band| self.log_area(&Bed::of_band(band).collect::<Vec<_>>()));
        let route_areas = routes
            .iter()
            .map(|(_, route)| sum(route, |target| self.log_area(&target.beds())));
        let hits = TARGETS.map(|band| {
            let beds = Bed::of_band(band).map(|bed| self.probability(&[bed], bed));
            libm::log(beds.sum::<f64>() / band.beds() as f64)
        });
        let route_hits = routes.iter().map(|(_, route)| {
            sum(route, |target| {
                libm::log(self.probability(&target.beds(), target.main_bed()))
            })
        });
        let by_area = areas.into_iter().chain(route_areas);
        by_area.chain(hits).chain(route_hits).collect()
    }

    fn log_area(&self, beds: &[Bed]) -> f64 {
        libm::log(self.face.free_area(beds).as_mm2())
    }

    fn probability(&self, beds: &[Bed], main: Bed) -> f64 {
        let aim = self.aims.aim(self.face, beds, main);
        let throw = Throw::at(aim, self.spread);
        self.face
            .mean(&throw, self.subject.metal, &Worth::any_of(beds))
    }
}

/// Over the darts of a route; each distinct target is looked at once.
fn sum(route: &Route, log: impl Fn(Target) -> f64) -> f64 {
    route
        .counted()
        .into_iter()
        .map(|(target, darts)| f64::from(darts) * log(target))
        .sum()
}
