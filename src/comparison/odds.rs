//! How many times harder targets and routes are than on the first board.

use super::data::TARGETS;
use super::log_odds::{Follows, LogOdds};
use super::player::player;
use super::{ByMetal, Certainty, Crossed, Subject};
use crate::board::Band;
use crate::play::{
    AimRule, Number, Route, Spread, Target, band_harder_by_area, band_harder_by_spread,
    route_harder_by_area, route_harder_by_spread,
};

/// A kind of target on two boards, in the mean over its beds. Ratios above 1
/// mean harder than on the first board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct TargetOdds {
    /// Which band.
    pub band: Band,
    /// How many times harder under the area rule: in inverse proportion to the
    /// free area. The same as the spread rule of a very wide spread with every
    /// dart on metal lost.
    pub harder_by_area: Option<f64>,
    /// How sure that is.
    pub by_area_certainty: Certainty,
    /// How many times harder under the spread rule.
    pub harder_by_spread: ByMetal<Option<f64>>,
    /// How sure that is in the chosen setting.
    pub by_spread_certainty: Certainty,
    /// The same where the boards' metal differs as far as it can.
    pub harder_crossed: Crossed<Option<f64>>,
    /// The probability of hitting it on the first board, from 0 to 1.
    pub probability_on_first: ByMetal<f64>,
    /// The probability of hitting it on this board.
    pub probability: ByMetal<f64>,
}

/// What a route is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum RouteName {
    /// Three treble twenties.
    Maximum,
    /// The easiest on the first board of the shortest legs from this total.
    PerfectLeg(u32),
}

/// A route on two boards.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct RouteOdds {
    /// What it is called, if it has a name.
    pub name: Option<RouteName>,
    /// Its targets.
    pub route: Route,
    /// How many darts it has.
    pub darts: usize,
    /// What it scores.
    pub total: u32,
    /// How many times harder under the area rule.
    pub harder_by_area: Option<f64>,
    /// How sure that is.
    pub by_area_certainty: Certainty,
    /// How many times harder under the spread rule.
    pub harder_by_spread: ByMetal<Option<f64>>,
    /// How sure that is in the chosen setting.
    pub by_spread_certainty: Certainty,
    /// The same where the boards' metal differs as far as it can.
    pub harder_crossed: Crossed<Option<f64>>,
    /// On the first board, one try in this many succeeds.
    pub one_in_on_first: ByMetal<Option<f64>>,
    /// On this board.
    pub one_in: ByMetal<Option<f64>>,
}

/// A board of a pair, with what is not known of it.
#[derive(Clone, Copy)]
pub(super) struct Side<'a> {
    pub(super) subject: &'a Subject,
    pub(super) logs: &'a LogOdds<'a>,
}

/// Whose odds, and what is not known of the spread.
#[derive(Clone, Copy)]
pub(super) struct Thrower<'a> {
    pub(super) spread: Spread,
    pub(super) aim: AimRule,
    pub(super) follows: &'a Follows,
}

pub(super) fn target_odds(
    Side { subject, logs }: Side<'_>,
    than: Side<'_>,
    Thrower {
        spread,
        aim,
        follows,
    }: Thrower<'_>,
) -> Vec<TargetOdds> {
    let first = than.subject;
    let odds = |(place, band): (usize, Band)| {
        let on = |subject: &Subject, metal| {
            player(subject.setup(metal), spread, aim).band_probability(band)
        };
        let harder = |on_first, here| {
            let board = player(subject.setup(here), spread, aim);
            let than = player(first.setup(on_first), spread, aim);
            band_harder_by_spread(&board, &than, band)
        };
        TargetOdds {
            band,
            harder_by_area: band_harder_by_area(subject.face(), first.face(), band),
            by_area_certainty: logs.by_area(than.logs, place),
            harder_by_spread: ByMetal::of(|metal| harder(metal, metal)),
            by_spread_certainty: logs.by_spread(than.logs, place, follows),
            harder_crossed: Crossed::of(|on_first, here| harder(Some(on_first), Some(here))),
            probability_on_first: ByMetal::of(|metal| on(first, metal)),
            probability: ByMetal::of(|metal| on(subject, metal)),
        }
    };
    TARGETS.into_iter().enumerate().map(odds).collect()
}

/// A route, and what it is called if it has a name.
pub(super) type NamedRoute = (Option<RouteName>, Route);

/// The routes of a comparison: a maximum, the perfect leg of each start total
/// (the easiest on the first board), and those that the user named.
pub(super) fn routes(perfect: Vec<(u32, Route)>, own: &[Route]) -> Vec<NamedRoute> {
    let treble = Number::new(20).map(Target::Treble);
    let maximum = treble.and_then(|treble| Route::new(vec![treble; 3]).ok());
    let maximum = maximum.map(|route| (Some(RouteName::Maximum), route));
    let perfect = perfect
        .into_iter()
        .map(|(start, route)| (Some(RouteName::PerfectLeg(start)), route));
    let own = own.iter().map(|route| (None, route.clone()));
    maximum.into_iter().chain(perfect).chain(own).collect()
}

pub(super) fn route_odds(
    Side { subject, logs }: Side<'_>,
    than: Side<'_>,
    Thrower {
        spread,
        aim,
        follows,
    }: Thrower<'_>,
    routes: &[NamedRoute],
) -> Vec<RouteOdds> {
    let first = than.subject;
    let odds = |(index, (name, route)): (usize, &NamedRoute)| {
        let place = TARGETS.len() + index;
        let one_in = |subject: &Subject, metal| {
            let probability = player(subject.setup(metal), spread, aim).route_probability(route);
            Some(1.0 / probability).filter(|one_in| one_in.is_finite())
        };
        let harder = |on_first, here| {
            let board = player(subject.setup(here), spread, aim);
            let than = player(first.setup(on_first), spread, aim);
            route_harder_by_spread(&board, &than, route).filter(|ratio| ratio.is_finite())
        };
        RouteOdds {
            name: *name,
            route: route.clone(),
            darts: route.targets().len(),
            total: route.total(),
            harder_by_area: route_harder_by_area(subject.face(), first.face(), route),
            by_area_certainty: logs.by_area(than.logs, place),
            harder_by_spread: ByMetal::of(|metal| harder(metal, metal)),
            by_spread_certainty: logs.by_spread(than.logs, place, follows),
            harder_crossed: Crossed::of(|on_first, here| harder(Some(on_first), Some(here))),
            one_in_on_first: ByMetal::of(|metal| one_in(first, metal)),
            one_in: ByMetal::of(|metal| one_in(subject, metal)),
        }
    };
    routes.iter().enumerate().map(odds).collect()
}
