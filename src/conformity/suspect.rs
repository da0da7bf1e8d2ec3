//! The classic mistake: a radius taken to one edge and declared as another.

use super::Verdict;
use super::decide::decide_on;
use super::measure::measure;
use crate::board::{Construction, Edge, RingWire};
use crate::table::{Decision, Demand, Limit};

/// Wires whose declared edge looks wrong: with another one, limits that are
/// broken would be met.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Suspicion {
    /// The wires and the edges that would fit.
    pub redeclared: Vec<Redeclared>,
    /// How many broken limits would be met.
    pub cured: usize,
    /// How many limits that refer to an edge would still be broken.
    pub left: usize,
}

/// Wires that share a declared edge and would share another.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Redeclared {
    /// The ring wires.
    pub rings: Vec<RingWire>,
    /// The edge that the file declares.
    pub declared: Edge,
    /// The edge that would fit.
    pub fitting: Edge,
}

/// Whether a limit is met by the bare values. Uncertainty plays no part in a
/// suspicion.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Met,
    Broken,
    Unknown,
}

/// Looks for the smallest change of declared edges that meets the most broken
/// limits and breaks none; then for another one in what is left.
pub(super) fn suspect(construction: &Construction, limits: &[&Limit]) -> Option<Suspicion> {
    // Only limits that refer to an edge can change with one.
    let limits: Vec<&Limit> = limits
        .iter()
        .copied()
        .filter(|limit| limit.edge.is_some())
        .collect();
    let mut redeclared = Vec::new();
    let mut changed = construction.clone();
    let before = broken(&states(&changed, &limits));
    while let Some(step) = best_step(&changed, &limits) {
        declare(&mut changed, &step.rings, step.fitting);
        redeclared.push(step);
    }
    let left = broken(&states(&changed, &limits));
    (left < before).then_some(Suspicion {
        redeclared,
        cured: before - left,
        left,
    })
}

/// The one redeclaration that leaves the fewest limits broken, if any helps.
/// Each step leaves fewer than the one before, so steps come to an end.
fn best_step(construction: &Construction, limits: &[&Limit]) -> Option<Redeclared> {
    let now = states(construction, limits);
    let mut trial = construction.clone();
    let mut best: Option<(usize, Redeclared)> = None;
    for declared in Edge::ALL {
        let taken = |ring: &RingWire| {
            let place = construction.rings[*ring].as_ref();
            place.is_some_and(|place| place.edge == declared)
        };
        let rings: Vec<RingWire> = RingWire::ALL.into_iter().filter(taken).collect();
        for fitting in Edge::ALL.into_iter().filter(|&edge| edge != declared) {
            // How many are broken if these wires were taken to the other edge;
            // `None` if that helps nothing, or costs a limit that is met.
            let mut left = |group: &[RingWire]| {
                declare(&mut trial, group, fitting);
                let then = states(&trial, limits);
                declare(&mut trial, group, declared);
                let lost = now.iter().zip(&then).any(|(now, then)| {
                    (*now == State::Met && *then != State::Met)
                        || (*now == State::Broken && *then == State::Unknown)
                });
                let left = broken(&then);
                (!lost && left < broken(&now)).then_some(left)
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
            for rings in groups {
                let Some(left) = left(&rings) else {
                    continue;
                };
                let better = best
                    .as_ref()
                    .is_none_or(|(least, best)| (left, rings.len()) < (*least, best.rings.len()));
                if better {
                    let step = Redeclared {
                        rings,
                        declared,
                        fitting,
                    };
                    best = Some((left, step));
                }
            }
        }
    }
    best.map(|(_, step)| step)
}

fn declare(construction: &mut Construction, rings: &[RingWire], edge: Edge) {
    for &ring in rings {
        if let Some(place) = &mut construction.rings[ring] {
            place.edge = edge;
        }
    }
}

fn broken(states: &[State]) -> usize {
    let broken = states.iter().filter(|&&state| state == State::Broken);
    broken.count()
}

fn states(construction: &Construction, limits: &[&Limit]) -> Vec<State> {
    let state = |limit: &&Limit| {
        let Demand::Within(interval) = limit.demand else {
            return State::Unknown;
        };
        let edge = limit.edge.unwrap_or(Edge::Apex);
        let measured = measure(construction, limit.measurand, edge);
        if !measured.missing.is_empty() {
            return State::Unknown;
        }
        let met = measured.parts.iter().all(|part| {
            let value = construction.value(&part.form);
            let limits = (interval.lower, interval.upper);
            decide_on(value, None, limits, Decision::Simple).verdict == Verdict::Conforms
        });
        if met { State::Met } else { State::Broken }
    };
    limits.iter().map(state).collect()
}
