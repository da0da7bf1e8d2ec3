//! The classic mistake: a radius taken to one edge and declared as another.

use super::measure::{Measured, measure};
use super::{Verdict, decide};
use crate::board::{Construction, Edge, RingWire};
use crate::table::{Decision, Demand, Limit};
use crate::units::Length;

/// Wires whose declared edge looks wrong: with another one, limits that are
/// broken would be met.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspicion {
    /// The ring wires.
    pub rings: Vec<RingWire>,
    /// The edge that the file declares.
    pub declared: Edge,
    /// The edge that would fit.
    pub fitting: Edge,
    /// How many broken limits would be met.
    pub cured: usize,
    /// How many would still be broken.
    pub left: usize,
}

/// Looks for the smallest change of declared edges that meets the most broken
/// limits and breaks none.
pub(super) fn suspect(construction: &Construction, limits: &[&Limit]) -> Option<Suspicion> {
    // Only limits that refer to an edge can change with one.
    let limits: Vec<&Limit> = limits
        .iter()
        .copied()
        .filter(|l| l.edge.is_some())
        .collect();
    let broken = broken_limits(construction, &limits);
    let before = broken.iter().filter(|&&broken| broken).count();
    if before == 0 {
        return None;
    }
    let mut redeclared = construction.clone();
    let mut best: Option<Suspicion> = None;
    for declared in Edge::ALL {
        let taken = |ring: &RingWire| {
            let place = construction.rings[*ring].as_ref();
            place.is_some_and(|place| place.edge == declared)
        };
        let rings: Vec<RingWire> = RingWire::ALL.into_iter().filter(taken).collect();
        for fitting in Edge::ALL.into_iter().filter(|&edge| edge != declared) {
            // What is left broken if these wires were taken to the other edge;
            // `None` if that helps nothing or breaks something.
            let mut left = |group: &[RingWire]| {
                declare(&mut redeclared, group, fitting);
                let after = broken_limits(&redeclared, &limits);
                declare(&mut redeclared, group, declared);
                let breaks = broken.iter().zip(&after).any(|(was, is)| !was && *is);
                let left = after.iter().filter(|&&broken| broken).count();
                (!breaks && left < before).then_some(left)
            };
            // One wire, or two neighbours that moved together, or all of them;
            // then whatever of that helps, together.
            let singles = rings.iter().map(|&ring| vec![ring]);
            let neighbours = rings.windows(2).map(<[RingWire]>::to_vec);
            let mut groups: Vec<_> = singles.chain(neighbours).chain([rings.clone()]).collect();
            let mut helpful: Vec<RingWire> = groups
                .iter()
                .filter(|group| left(group).is_some())
                .flatten()
                .copied()
                .collect();
            helpful.sort_unstable();
            helpful.dedup();
            groups.push(helpful);
            for group in groups {
                let Some(left) = left(&group) else {
                    continue;
                };
                let better = best
                    .as_ref()
                    .is_none_or(|best| (left, group.len()) < (best.left, best.rings.len()));
                if better {
                    best = Some(Suspicion {
                        rings: group,
                        declared,
                        fitting,
                        cured: before - left,
                        left,
                    });
                }
            }
        }
    }
    best
}

fn declare(construction: &mut Construction, rings: &[RingWire], edge: Edge) {
    for &ring in rings {
        if let Some(place) = &mut construction.rings[ring] {
            place.edge = edge;
        }
    }
}

/// For each limit, whether the bare value breaks it. Uncertainty plays no part
/// in a suspicion.
fn broken_limits(construction: &Construction, limits: &[&Limit]) -> Vec<bool> {
    let broken = |limit: &&Limit| {
        let Demand::Within(interval) = limit.demand else {
            return false;
        };
        let edge = limit.edge.unwrap_or(Edge::Apex);
        let Measured::Parts(parts) = measure(construction, limit.measurand, edge) else {
            return false;
        };
        parts.iter().any(|part| {
            let value = construction.value(&part.form).as_mm();
            let lower = interval.lower.map(Length::as_mm);
            let upper = interval.upper.map(Length::as_mm);
            let decided = decide(value, None, lower, upper, Decision::Simple);
            decided.verdict == Verdict::DoesNotConform
        })
    };
    limits.iter().map(broken).collect()
}
