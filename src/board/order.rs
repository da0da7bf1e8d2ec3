//! Wires where no board can have them.

use super::{Bearing, Construction, Edge, RingWire, SECTOR_ORDER};
use crate::document::{Fault, Problem, Problems, Span};
use crate::units::{Angle, Length};

/// How finely two uneven rings are compared, in degrees. House rule: wires are
/// measured at places much further apart.
const STEP: usize = 3;

/// Wires may not overlap, nor lie in another order than on any board.
pub(super) fn check_order(construction: &Construction, problems: &mut Problems) {
    // The innermost wire must leave some bull.
    let mut before: Option<RingWire> = None;
    for ring in RingWire::ALL {
        if construction.rings[ring].is_none() {
            continue;
        }
        let mut bearings: Box<dyn Iterator<Item = Angle>> = if is_round(construction, ring)
            && before.is_none_or(|inner| is_round(construction, inner))
        {
            Box::new(std::iter::once(Angle::ZERO))
        } else {
            Box::new(
                (0..360)
                    .step_by(STEP)
                    .map(|degrees| Angle::degrees(f64::from(degrees))),
            )
        };
        let crossing = bearings.find_map(|bearing| {
            let inside = reach(construction, ring, Edge::Inside, bearing)?;
            let free_from = match before {
                Some(inner) => reach(construction, inner, Edge::Outside, bearing)?,
                None => Length::ZERO,
            };
            (inside <= free_from).then_some((bearing, inside, free_from))
        });
        if let Some(crossing) = crossing {
            problems.add(overlap(construction, before, ring, crossing));
        }
        before = Some(ring);
    }
    check_overall(construction, before, problems);
    check_shapes(construction, problems);
    check_sector_wires(construction, problems);
}

/// The outermost wire lies on the board.
fn check_overall(
    construction: &Construction,
    outermost: Option<RingWire>,
    problems: &mut Problems,
) {
    let Some((overall, ring)) = construction.overall.as_ref().zip(outermost) else {
        return;
    };
    let Some(radius) = construction.rings[ring].as_ref().map(|place| &place.radius) else {
        return;
    };
    let diameter = construction.value(overall);
    let of_ring = construction.value(radius) * 2.0;
    if diameter > of_ring {
        return;
    }
    let own = overall.terms().first();
    let own = own.and_then(|&(id, _)| construction.input(id));
    let span = own.map(|input| input.span).unwrap_or_default();
    let message = format!("the board is {diameter:.2} across, but the {ring} on it {of_ring:.2}");
    let remedy = "check both: the overall diameter is that of the whole board, some 451 mm";
    let problem = Problem::new(Fault::Contradiction, span, message, remedy);
    problems.add(match place_of(construction, ring) {
        Some(place) if place != span => problem.and(place, format!("the {ring}")),
        _ => problem,
    });
}

fn is_round(construction: &Construction, ring: RingWire) -> bool {
    let place = construction.rings[ring].as_ref();
    place.is_none_or(|place| place.around.is_empty() && place.offset.is_none())
}

/// How far an edge lies from the middle of the board at a bearing: between
/// places in proportion. Where the wire's thickness is not known, its one edge
/// stands for both.
fn reach(
    construction: &Construction,
    ring: RingWire,
    edge: Edge,
    bearing: Angle,
) -> Option<Length> {
    let place = construction.rings[ring].as_ref()?;
    let form = construction.edge_radius(ring, edge);
    let mean = construction.value(form.as_ref().unwrap_or(&place.radius));
    if is_round(construction, ring) {
        return Some(mean);
    }
    let (sin, cos) = libm::sincos(bearing.as_radians());
    let away = place.offset.as_ref().map_or((0.0, 0.0), |[across, up]| {
        let (x, y) = (construction.value(across), construction.value(up));
        let along = x.as_mm() * sin + y.as_mm() * cos;
        (along, x.as_mm() * cos - y.as_mm() * sin)
    });
    let radius = mean + deviation(construction, ring, bearing);
    let square = radius.as_mm() * radius.as_mm() - away.1 * away.1;
    Some(Length::mm(away.0 + libm::sqrt(square.max(0.0))))
}

/// How far a ring lies from its mean radius at a bearing.
fn deviation(construction: &Construction, ring: RingWire, bearing: Angle) -> Length {
    let Some(place) = construction.rings[ring]
        .as_ref()
        .filter(|p| !p.around.is_empty())
    else {
        return Length::ZERO;
    };
    let mean = construction.value(&place.radius);
    let turned = |angle: Angle| {
        let degrees = (angle - bearing).as_degrees();
        degrees - 360.0 * libm::floor(degrees / 360.0)
    };
    let radii = place.all_round();
    let ahead = radii
        .iter()
        .min_by(|a, b| turned(a.0).total_cmp(&turned(b.0)));
    let behind = radii
        .iter()
        .max_by(|a, b| turned(a.0).total_cmp(&turned(b.0)));
    let (Some(ahead), Some(behind)) = (ahead, behind) else {
        return Length::ZERO;
    };
    let (next, last) = (turned(ahead.0), 360.0 - turned(behind.0));
    let share = if next + last > 0.0 {
        last / (next + last)
    } else {
        0.0
    };
    let at = |form| construction.value(form) - mean;
    at(&behind.1) * (1.0 - share) + at(&ahead.1) * share
}

/// Where a ring stands in the file.
fn place_of(construction: &Construction, ring: RingWire) -> Option<Span> {
    // The last of the lengths that place a wire is its own, or the width that
    // stood in for it.
    let terms = construction.rings[ring].as_ref()?.radius.terms();
    let &(id, _) = terms.last()?;
    construction.input(id).map(|input| input.span)
}

fn overlap(
    construction: &Construction,
    inner: Option<RingWire>,
    outer: RingWire,
    (bearing, outer_inside, inner_outside): (Angle, Length, Length),
) -> Problem {
    let span = place_of(construction, outer).unwrap_or_default();
    let remedy = "check the radii, their edges, the wires, and whether one of them is a diameter";
    let Some(inner) = inner else {
        let message = format!("the {outer} leaves no bull: its inside radius is {outer_inside:.2}");
        return Problem::new(Fault::Contradiction, span, message, remedy);
    };
    let somewhere = if is_round(construction, inner) && is_round(construction, outer) {
        String::new()
    } else {
        format!(" at {}", Bearing::Turned(bearing))
    };
    let message = format!(
        "the {outer} begins at {outer_inside:.2} from the centre{somewhere}, but the {inner} ends \
         at {inner_outside:.2}"
    );
    let problem = Problem::new(Fault::Contradiction, span, message, remedy);
    match place_of(construction, inner) {
        Some(first) if first != span => problem.and(first, format!("the {inner}")),
        _ => problem,
    }
}

/// A wire bends outwards everywhere: of three neighbouring places the middle one
/// lies outside the chord of the others.
fn check_shapes(construction: &Construction, problems: &mut Problems) {
    for ring in RingWire::ALL {
        let Some(place) = &construction.rings[ring] else {
            continue;
        };
        let mut radii = place.all_round();
        let turned = |angle: Angle| {
            let degrees = angle.as_degrees();
            degrees - 360.0 * libm::floor(degrees / 360.0)
        };
        radii.sort_by(|a, b| turned(a.0).total_cmp(&turned(b.0)));
        if radii.len() < 3 {
            continue;
        }
        let point = |(bearing, radius): &(Angle, super::Linear)| {
            let (sin, cos) = libm::sincos(bearing.as_radians());
            let radius = construction.value(radius).as_mm();
            (radius * sin, radius * cos)
        };
        let next = radii.iter().cycle();
        let triples = radii.iter().zip(next.clone().skip(1)).zip(next.skip(2));
        let dent = triples.take(radii.len()).find(|((a, b), c)| {
            let (a, b, c) = (point(a), point(b), point(c));
            let cross = (b.0 - a.0) * (c.1 - b.1) - (b.1 - a.1) * (c.0 - b.0);
            cross >= 0.0
        });
        if let Some(((_, (bearing, radius)), _)) = dent {
            let input = radius
                .terms()
                .first()
                .and_then(|&(id, _)| construction.input(id));
            problems.add(Problem::new(
                Fault::Contradiction,
                input.map(|input| input.span).unwrap_or_default(),
                format!(
                    "the {ring} would bend inwards at {}: {:.2} there does not fit its neighbours",
                    Bearing::Turned(*bearing),
                    construction.value(radius)
                ),
                "look for a slip in this reading or in those beside it",
            ));
        }
    }
}

/// Two sector wires may meet within the outer bull's wire, where they end, and
/// not beyond.
fn check_sector_wires(construction: &Construction, problems: &mut Problems) {
    let Some(places) = construction.sectors.as_deref() else {
        return;
    };
    let Some(bull) = construction.edge_radius(RingWire::OuterBull, Edge::Outside) else {
        return;
    };
    let bull = construction.value(&bull).as_mm();
    let line = |wire: usize| {
        let bearing = match &places.bearings {
            Some(bearings) => *bearings.get(wire)?,
            None => Angle::degrees(18.0 * wire as f64 - 9.0),
        };
        let offset = places.offsets.get(wire).and_then(Option::as_ref);
        let offset = offset.map_or(0.0, |form| construction.value(form).as_mm());
        Some((libm::sincos(bearing.as_radians()), offset))
    };
    for sector in 0..20 {
        let (Some((left, from)), Some((right, to))) = (line(sector), line((sector + 1) % 20))
        else {
            continue;
        };
        // Along the left wire: where its distance from the right one's line is
        // zero.
        let turn = right.0 * left.1 - right.1 * left.0;
        let across = right.0 * left.0 + right.1 * left.1;
        let meeting = (from * across - to) / turn;
        if meeting > bull {
            let number = SECTOR_ORDER.get(sector).copied().unwrap_or_default();
            let input = |wire: usize| {
                let form = places.offsets.get(wire)?.as_ref()?;
                let &(id, _) = form.terms().first()?;
                construction.input(id).map(|input| input.span)
            };
            let (first, second) = (input(sector), input((sector + 1) % 20));
            let span = second.or(first).unwrap_or_default();
            let problem = Problem::new(
                Fault::Contradiction,
                span,
                format!(
                    "the wires of the {number} cross {meeting:.1} mm from the centre, beyond the \
                     outer bull"
                ),
                "check the bearings and the offsets of both wires",
            );
            problems.add(match first {
                Some(first) if first != span => problem.and(first, "the other wire"),
                _ => problem,
            });
        }
    }
}
