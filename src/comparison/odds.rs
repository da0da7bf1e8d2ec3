//! How many times harder targets and routes are than on the first board.

use super::player::player;
use super::{ByMetal, Subject, TargetKind};
use crate::play::{
    AimRule, Route, Spread, band_harder_by_area, band_harder_by_spread, known_routes,
    route_harder_by_area, route_harder_by_spread,
};

/// A kind of target on two boards, in the mean over its beds. Ratios above 1
/// mean harder than on the first board.
#[derive(Clone, Debug)]
pub struct TargetOdds {
    /// Which kind.
    pub kind: TargetKind,
    /// How many times harder under the area rule: in inverse proportion to the
    /// free area. The same as the spread rule of a very wide spread with every
    /// dart on metal lost.
    pub harder_by_area: Option<f64>,
    /// How many times harder under the spread rule.
    pub harder_by_spread: ByMetal<Option<f64>>,
    /// The probability of hitting it on the first board, from 0 to 1.
    pub probability_on_first: ByMetal<f64>,
    /// The probability of hitting it on this board.
    pub probability: ByMetal<f64>,
}

/// A route on two boards.
#[derive(Clone, Debug)]
pub struct RouteOdds {
    /// What it is called, if it has a name.
    pub name: Option<String>,
    /// Its targets, as the trade writes them.
    pub route: String,
    /// How many darts it has.
    pub darts: usize,
    /// What it scores.
    pub total: u32,
    /// How many times harder under the area rule.
    pub harder_by_area: Option<f64>,
    /// How many times harder under the spread rule.
    pub harder_by_spread: ByMetal<Option<f64>>,
    /// On the first board, one try in this many succeeds.
    pub one_in_on_first: ByMetal<Option<f64>>,
    /// On this board.
    pub one_in: ByMetal<Option<f64>>,
}

pub(super) fn target_odds(
    subject: &Subject,
    first: &Subject,
    spread: Spread,
    aim: AimRule,
) -> Vec<TargetOdds> {
    let odds = |kind: TargetKind| {
        let band = kind.band();
        let on = |subject: &Subject, metal| {
            player(subject.setup(metal), spread, aim).band_probability(band)
        };
        TargetOdds {
            kind,
            harder_by_area: band_harder_by_area(subject.face(), first.face(), band),
            harder_by_spread: ByMetal::of(|metal| {
                let board = player(subject.setup(metal), spread, aim);
                let than = player(first.setup(metal), spread, aim);
                band_harder_by_spread(&board, &than, band)
            }),
            probability_on_first: ByMetal::of(|metal| on(first, metal)),
            probability: ByMetal::of(|metal| on(subject, metal)),
        }
    };
    TargetKind::ALL.map(odds).into()
}

pub(super) fn route_odds(
    subject: &Subject,
    first: &Subject,
    spread: Spread,
    aim: AimRule,
    own: &[Route],
) -> Vec<RouteOdds> {
    let known = known_routes().into_iter();
    let named = known.map(|(name, route)| (Some(name.to_owned()), route));
    let all = named.chain(own.iter().map(|route| (None, route.clone())));
    all.map(|(name, route)| {
        let one_in = |subject: &Subject, metal| {
            let probability = player(subject.setup(metal), spread, aim).route_probability(&route);
            Some(1.0 / probability).filter(|one_in| one_in.is_finite())
        };
        RouteOdds {
            name,
            route: route.to_string(),
            darts: route.targets().len(),
            total: route.total(),
            harder_by_area: route_harder_by_area(subject.face(), first.face(), &route),
            harder_by_spread: ByMetal::of(|metal| {
                let board = player(subject.setup(metal), spread, aim);
                let than = player(first.setup(metal), spread, aim);
                route_harder_by_spread(&board, &than, &route).filter(|ratio| ratio.is_finite())
            }),
            one_in_on_first: ByMetal::of(|metal| one_in(first, metal)),
            one_in: ByMetal::of(|metal| one_in(subject, metal)),
        }
    })
    .collect()
}
