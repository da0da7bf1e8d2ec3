//! Wires where no board can have them.

use super::{Construction, Edge, RingWire};
use crate::document::{Fault, Problem, Problems};
use crate::units::Length;

/// Wires may not overlap, nor lie in another order than on any board.
pub(super) fn check_order(construction: &Construction, problems: &mut Problems) {
    // The innermost wire must leave some bull.
    let mut before: Option<(RingWire, Length)> = None;
    for ring in RingWire::ALL {
        let Some(place) = &construction.rings[ring] else {
            continue;
        };
        let edge = |edge| {
            let radius = construction.edge_radius(ring, edge);
            construction.value(radius.as_ref().unwrap_or(&place.radius))
        };
        let (inside, outside) = (edge(Edge::Inside), edge(Edge::Outside));
        let free_from = before.map_or(Length::ZERO, |(_, outside)| outside);
        if inside <= free_from {
            problems.add(overlap(construction, before, ring, inside));
        }
        before = Some((ring, outside));
    }
}

fn overlap(
    construction: &Construction,
    inner: Option<(RingWire, Length)>,
    outer: RingWire,
    outer_inside: Length,
) -> Problem {
    // The last of the lengths that place a wire is its own, or the width that
    // stood in for it.
    let place = |ring: RingWire| {
        let terms = construction.rings[ring].as_ref()?.radius.terms();
        let &(id, _) = terms.last()?;
        construction.input(id).map(|input| input.span)
    };
    let span = place(outer).unwrap_or_default();
    let remedy = "check the radii, their edges, the wires, and whether one of them is a diameter";
    let Some((inner, inner_outside)) = inner else {
        let message = format!("the {outer} leaves no bull: its inside radius is {outer_inside:.2}");
        return Problem::new(Fault::Contradiction, span, message, remedy);
    };
    let message = format!(
        "the {outer} begins at {outer_inside:.2} from the centre, but the {inner} ends at \
         {inner_outside:.2}"
    );
    let problem = Problem::new(Fault::Contradiction, span, message, remedy);
    match place(inner) {
        Some(first) if first != span => problem.and(first, format!("the {inner}")),
        _ => problem,
    }
}
