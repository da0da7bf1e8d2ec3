//! Limits on what differs from place to place: the length at every place, how
//! round a ring is, and how far its centre lies off the bull.

use super::Missing;
use super::measured::{Measured, Part, WirePart};
use crate::board::{Around, Band, Bearing, Construction, Edge, Linear, Quantity, RingWire};
use crate::table::Measurand;

/// The fewest places on which a limit that speaks of every place can be met.
/// House rule: two across and two along.
pub(super) const FEWEST: usize = 4;

/// The length that a limit asks for at every place where it was taken, for each
/// part; `None` where a measurand has no places.
pub(super) fn every_place(
    construction: &Construction,
    measurand: Measurand,
    edge: Edge,
) -> Option<Vec<Around>> {
    Some(match measurand {
        Measurand::InnerBullDiameter => across(construction, RingWire::InnerBull, edge),
        Measurand::OuterBullDiameter => across(construction, RingWire::OuterBull, edge),
        Measurand::DoubleOuterDiameter => across(construction, RingWire::DoubleOuter, edge),
        Measurand::TrebleOuterRadius => construction.radii_around(RingWire::TrebleOuter, edge),
        Measurand::DoubleOuterRadius => construction.radii_around(RingWire::DoubleOuter, edge),
        Measurand::TrebleWidth => construction.widths_around(Band::Treble, edge),
        Measurand::DoubleWidth => construction.widths_around(Band::Double, edge),
        Measurand::OverallDiameter => construction.overall_around.clone(),
        _ => return None,
    })
}

fn around_at(at: Bearing, length: Linear) -> Around {
    Around { at, length }
}

/// Diameters at the places of a ring: as taken, or from the radii on both sides,
/// each diameter once.
fn across(construction: &Construction, ring: RingWire, edge: Edge) -> Vec<Around> {
    let Some(place) = &construction.rings[ring] else {
        return Vec::new();
    };
    let mut found: Vec<Around> = Vec::new();
    for own in &place.around {
        if found.iter().any(|known| known.at.opposite().is(own.at)) {
            continue;
        }
        let here = construction.edge_radius_at(ring, edge, own.at);
        let there = construction.edge_radius_at(ring, edge, own.at.opposite());
        if let (Some(here), Some(there)) = (here, there) {
            found.push(around_at(own.at, here.plus(1.0, &there)));
        }
    }
    found
}

/// What places a limit needs that speaks of every place.
pub(super) const fn places_for(measurand: Measurand) -> Option<Quantity> {
    Some(match measurand {
        Measurand::InnerBullDiameter => Quantity::Ring(RingWire::InnerBull, true),
        Measurand::OuterBullDiameter => Quantity::Ring(RingWire::OuterBull, true),
        Measurand::DoubleOuterDiameter => Quantity::Ring(RingWire::DoubleOuter, true),
        Measurand::TrebleOuterRadius => Quantity::Ring(RingWire::TrebleOuter, false),
        Measurand::DoubleOuterRadius => Quantity::Ring(RingWire::DoubleOuter, false),
        Measurand::TrebleWidth => Quantity::Width(Band::Treble),
        Measurand::DoubleWidth => Quantity::Width(Band::Double),
        Measurand::OverallDiameter => Quantity::Overall,
        _ => return None,
    })
}

/// How far each ring is out of round: the greatest less the least radius about
/// the centre of its least-squares circle (as ISO 12181-1 has it, from memory).
pub(super) fn roundness(construction: &Construction, only: Option<RingWire>) -> Measured {
    of_rings(only, &RingWire::ALL, |ring| {
        let place = construction.rings[ring].as_ref();
        let radii = place
            .map(crate::board::RingPlace::all_round)
            .unwrap_or_default();
        if radii.len() < FEWEST {
            return Err(Missing::Places(Quantity::Ring(ring, false)));
        }
        let circle = Circle::through(&radii).ok_or(Missing::Places(Quantity::Ring(ring, false)))?;
        let forms: Vec<Linear> = circle.residuals(&radii);
        let value = |form: &Linear| construction.value(form).as_mm();
        let by_value = |a: &&Linear, b: &&Linear| value(a).total_cmp(&value(b));
        let (least, most) = (forms.iter().min_by(by_value), forms.iter().max_by(by_value));
        let (Some(least), Some(most)) = (least, most) else {
            return Err(Missing::Places(Quantity::Ring(ring, false)));
        };
        Ok(most.clone().plus(-1.0, least))
    })
}

/// How far the centre of each ring lies off that of the inner bull: from the
/// recorded offsets or, without one, from the radii at places.
pub(super) fn offset(construction: &Construction, only: Option<RingWire>) -> Measured {
    let bull = centre(construction, RingWire::InnerBull);
    // The others are measured from the inner bull.
    let others = RingWire::ALL
        .into_iter()
        .filter(|ring| *ring != RingWire::InnerBull);
    let others: Vec<RingWire> = others.collect();
    of_rings(only, &others, |ring| {
        let Some([x, y]) = centre(construction, ring) else {
            return Err(Missing::Offset(ring));
        };
        let (x, y) = match &bull {
            Some([across, up]) if ring != RingWire::InnerBull => {
                (x.plus(-1.0, across), y.plus(-1.0, up))
            }
            _ => (x, y),
        };
        // The distance is its slopes times the two: it is of the first degree.
        let (a, b) = (
            construction.value(&x).as_mm(),
            construction.value(&y).as_mm(),
        );
        let distance = libm::hypot(a, b);
        let (a, b) = if distance > 0.0 {
            (a / distance, b / distance)
        } else {
            (1.0, 0.0)
        };
        Ok(Linear::default().plus(a, &x).plus(b, &y))
    })
}

/// One ring, or every one of these.
fn of_rings(
    only: Option<RingWire>,
    all: &[RingWire],
    form: impl Fn(RingWire) -> Result<Linear, Missing>,
) -> Measured {
    let rings = only.as_ref().map_or(all, std::slice::from_ref);
    let mut measured = Measured::default();
    for &ring in rings {
        match form(ring) {
            Ok(form) => measured.parts.push(Part {
                wires: Some(WirePart::Ring(ring)),
                form,
            }),
            Err(missing) => measured.missing.push(missing),
        }
    }
    measured
}

/// Where a ring's centre lies, right and up.
fn centre(construction: &Construction, ring: RingWire) -> Option<[Linear; 2]> {
    let place = construction.rings[ring].as_ref()?;
    if let Some(offset) = &place.offset {
        return Some(offset.clone());
    }
    if ring == RingWire::InnerBull && place.around.is_empty() {
        return None;
    }
    let radii = place.all_round();
    if radii.len() < FEWEST || place.across {
        return None;
    }
    Circle::through(&radii).map(|circle| circle.centre)
}

/// The least-squares circle of radii at bearings, in terms of measured lengths:
/// r(θ) = a + x·sin θ + y·cos θ, which for offsets of a millimetre on a ring of
/// a hundred is right to 0.005 mm.
struct Circle {
    radius: Linear,
    centre: [Linear; 2],
}

impl Circle {
    fn through(radii: &[(crate::units::Angle, Linear)]) -> Option<Self> {
        // Normal equations of three unknowns.
        let mut matrix = [[0.0; 3]; 3];
        let mut right: [Linear; 3] = std::array::from_fn(|_| Linear::default());
        for (bearing, radius) in radii {
            let basis = basis(bearing.as_radians());
            for (row, a) in basis.iter().enumerate() {
                for (column, b) in basis.iter().enumerate() {
                    *matrix.get_mut(row)?.get_mut(column)? += a * b;
                }
                let own = right.get_mut(row)?;
                *own = std::mem::take(own).plus(*a, radius);
            }
        }
        let inverse = inverse(&matrix)?;
        let solved = inverse.map(|row| {
            let terms = row.iter().zip(&right);
            terms.fold(Linear::default(), |sum, (factor, form)| {
                sum.plus(*factor, form)
            })
        });
        let [radius, across, up] = solved;
        Some(Self {
            radius,
            centre: [across, up],
        })
    }

    /// What is left of each radius.
    fn residuals(&self, radii: &[(crate::units::Angle, Linear)]) -> Vec<Linear> {
        let [across, up] = &self.centre;
        let residual = |(bearing, radius): &(crate::units::Angle, Linear)| {
            let [_, sin, cos] = basis(bearing.as_radians());
            let fitted = self.radius.clone().plus(sin, across).plus(cos, up);
            radius.clone().plus(-1.0, &fitted)
        };
        radii.iter().map(residual).collect()
    }
}

fn basis(bearing: f64) -> [f64; 3] {
    let (sin, cos) = libm::sincos(bearing);
    [1.0, sin, cos]
}

/// The inverse of a symmetric matrix of three; `None` if it has none.
fn inverse(matrix: &[[f64; 3]; 3]) -> Option<[[f64; 3]; 3]> {
    let [[a, b, c], [_, d, e], [_, _, f]] = *matrix;
    let minors = [
        [d * f - e * e, c * e - b * f, b * e - c * d],
        [c * e - b * f, a * f - c * c, b * c - a * e],
        [b * e - c * d, b * c - a * e, a * d - b * b],
    ];
    let [[first, second, third], ..] = minors;
    let determinant = a * first + b * second + c * third;
    if determinant.abs() < 1e-9 {
        return None;
    }
    Some(minors.map(|row| row.map(|minor| minor / determinant)))
}
