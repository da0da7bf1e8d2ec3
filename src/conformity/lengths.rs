//! The lengths that a limit asks for, each of them judged.

use super::around::{FEWEST, every_place, offset, places_for, roundness};
use super::beds::rank;
use super::decide::decide_on;
use super::finding::{LengthFinding, PlaceFinding};
use super::measure::measure;
use super::measured::WirePart;
use super::{Missing, Verdict};
use crate::board::{Around, Bearing, Construction, Edge, InputId, Linear};
use crate::table::{Decision, Extent, Interval, Limit, Measurand};
use crate::units::Length;

/// Judges one length.
fn length(
    form: &Linear,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> LengthFinding {
    let value = board.value(form);
    let uncertainty = form.uncertainty(&board.inputs);
    let limits = (interval.lower, interval.upper);
    LengthFinding {
        value,
        form: form.clone(),
        uncertainty,
        contributions: form.contributions(&board.inputs),
        interval,
        excess: excess(value, interval),
        decided: decide_on(value, uncertainty, limits, rule),
        inputs: inputs_of(form),
        contradiction: None,
        at: None,
        places: Vec::new(),
    }
}

/// The lengths that a limit asks for, each of its parts judged, and what is
/// missing.
pub(super) fn lengths(
    limit: &Limit,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> (Vec<(Option<WirePart>, LengthFinding)>, Vec<Missing>) {
    let edge = limit.edge.unwrap_or(Edge::Apex);
    if limit.of == Extent::EveryPlace
        && let Some(around) = every_place(board, limit.measurand, edge)
    {
        let needs = places_for(limit.measurand).map(Missing::Places);
        let enough = around.len() >= FEWEST;
        let found = at_every_place(around, interval, board, rule);
        // Few places can show that a board fails, not that it conforms.
        let decided =
            |found: &LengthFinding| enough || found.decided.verdict == Verdict::DoesNotConform;
        return match found.filter(decided) {
            Some(found) => (vec![(None, found)], Vec::new()),
            None => (Vec::new(), needs.into_iter().collect()),
        };
    }
    let measured = match limit.measurand {
        Measurand::RingRoundness => roundness(board, limit.ring),
        Measurand::RingOffset => offset(board, limit.ring),
        measurand => measure(board, measurand, edge),
    };
    // What a limit on the mean has at each place is shown beside it.
    let around = every_place(board, limit.measurand, edge).unwrap_or_default();
    let places = at_every_place(around, interval, board, rule).map(|found| found.places);
    let places = places.unwrap_or_default();
    let parts = measured.parts.into_iter();
    let judged = parts.map(|part| {
        let found = length(&part.form, interval, board, rule);
        let places = places.clone();
        (part.wires, LengthFinding { places, ..found })
    });
    (judged.collect(), measured.missing)
}

/// Every place judged by itself, and the worst in front.
fn at_every_place(
    around: Vec<Around>,
    interval: Interval,
    board: &Construction,
    rule: Decision,
) -> Option<LengthFinding> {
    let judged: Vec<(Bearing, LengthFinding)> = around
        .into_iter()
        .map(|own| (own.at, length(&own.length, interval, board, rule)))
        .collect();
    let places = judged.iter().map(|(at, found)| PlaceFinding {
        at: *at,
        value: found.value,
        form: found.form.clone(),
        uncertainty: found.uncertainty,
        decided: found.decided,
    });
    let places = places.collect();
    // Beyond a limit counts before near to it.
    let room = |found: &LengthFinding| {
        let to = |limit: Option<Length>| limit.map(|limit| (found.value - limit).as_mm().abs());
        let nearest = [to(interval.lower), to(interval.upper)]
            .into_iter()
            .flatten();
        let nearest = nearest.fold(f64::INFINITY, f64::min);
        if found.excess == Length::ZERO {
            nearest
        } else {
            -nearest
        }
    };
    let worse = |a: &LengthFinding, b: &LengthFinding| {
        let verdicts = rank(a.decided.verdict).cmp(&rank(b.decided.verdict));
        verdicts.then(room(a).total_cmp(&room(b)))
    };
    let worst = judged.into_iter().min_by(|(_, a), (_, b)| worse(a, b));
    worst.map(|(at, found)| LengthFinding {
        at: Some(at),
        places,
        ..found
    })
}

fn inputs_of(form: &Linear) -> Vec<InputId> {
    let mut inputs: Vec<_> = form.terms().iter().map(|&(id, _)| id).collect();
    inputs.sort_unstable();
    inputs
}

/// How far a value lies beyond its interval; zero within it and on its limits.
fn excess(value: Length, interval: Interval) -> Length {
    let limits = (interval.lower, interval.upper);
    let bare = decide_on(value, None, limits, Decision::BARE);
    match (bare.verdict, limits.0, limits.1) {
        (Verdict::Conforms, ..) => Length::ZERO,
        (_, Some(lower), _) if value < lower => value - lower,
        (_, _, Some(upper)) => value - upper,
        _ => Length::ZERO,
    }
}
