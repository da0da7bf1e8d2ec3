//! What a limit asks for, computed from whatever the board file recorded.

use super::Missing;
use super::around::{offset, roundness};
use super::measured::{Measured, Part, WirePart};
use crate::board::{Band, Construction, Edge, Linear, Quantity, RingWire};
use crate::table::Measurand;

/// Computes a measurand at the edge that a limit refers to. `edge` is ignored
/// by measurands that have none; what is no length yields no parts.
pub fn measure(construction: &Construction, measurand: Measurand, edge: Edge) -> Measured {
    let radius = |ring: RingWire, factor: f64| {
        let form = construction.edge_radius(ring, edge);
        match form {
            Some(form) => one(Linear::default().plus(factor, &form)),
            None => lacking(Missing::at_edge(construction, ring, edge)),
        }
    };
    match measurand {
        Measurand::InnerBullDiameter => radius(RingWire::InnerBull, 2.0),
        Measurand::OuterBullDiameter => radius(RingWire::OuterBull, 2.0),
        Measurand::TrebleOuterRadius => radius(RingWire::TrebleOuter, 1.0),
        Measurand::DoubleOuterRadius => radius(RingWire::DoubleOuter, 1.0),
        Measurand::DoubleOuterDiameter => radius(RingWire::DoubleOuter, 2.0),
        Measurand::TrebleWidth => width(construction, Band::Treble, edge),
        Measurand::DoubleWidth => width(construction, Band::Double, edge),
        Measurand::OverallDiameter => match &construction.overall {
            Some(form) => one(form.clone()),
            None => lacking([Missing::Measured(Quantity::Overall)]),
        },
        Measurand::SectorWiresGauge => sector_wires(construction),
        Measurand::RingWiresGauge => ring_wires(construction),
        Measurand::RingRoundness => roundness(construction, None),
        Measurand::RingOffset => offset(construction, None),
        Measurand::SectorAngle | Measurand::BedArea | Measurand::Mounting => Measured::default(),
    }
}

fn one(form: Linear) -> Measured {
    Measured {
        parts: vec![Part { wires: None, form }],
        missing: Vec::new(),
    }
}

fn lacking(missing: impl IntoIterator<Item = Missing>) -> Measured {
    Measured {
        parts: Vec::new(),
        missing: missing.into_iter().collect(),
    }
}

/// A width by the radii, which agree with one that was taken directly once all
/// lengths are adjusted; by the latter alone where a radius is not known.
fn width(construction: &Construction, band: Band, edge: Edge) -> Measured {
    let from_radii = construction.width_from_radii(band, edge);
    if let Some(form) = from_radii.or_else(|| construction.width_direct(band, edge)) {
        return one(form);
    }
    let inner = band.inner_wire().map(|ring| (ring, edge.facing()));
    let wires = inner.into_iter().chain([(band.outer_wire(), edge)]);
    if construction.widths[band].is_some() {
        // Taken, but to other edges: the wires are what is missing.
        let unknown = wires.filter(|&(ring, _)| construction.ring_wires[ring].is_none());
        return lacking(unknown.map(|(ring, _)| thickness(ring)));
    }
    let radii = wires.filter_map(|(ring, edge)| Missing::at_edge(construction, ring, edge));
    lacking(radii.chain([Missing::Instead(Quantity::Width(band))]))
}

const fn thickness(ring: RingWire) -> Missing {
    Missing::Measured(Quantity::RingWire(ring))
}

/// The wires that share one entry, and each that has its own.
fn sector_wires(construction: &Construction) -> Measured {
    let Some(form) = &construction.sector_wires else {
        return lacking([Missing::Measured(Quantity::SectorWires)]);
    };
    let mut measured = one(form.clone());
    let single = construction.sectors.as_deref().map(|places| &places.widths);
    for (wire, form) in single.into_iter().flatten().enumerate() {
        if let (Some(form), Ok(wire)) = (form, u8::try_from(wire)) {
            measured.parts.push(Part {
                wires: Some(WirePart::SectorWire(wire)),
                form: form.clone(),
            });
        }
    }
    measured
}

/// The wires that share one entry count as one part.
fn ring_wires(construction: &Construction) -> Measured {
    let mut parts: Vec<Part> = Vec::new();
    let mut missing = Vec::new();
    for ring in RingWire::ALL {
        let Some(form) = &construction.ring_wires[ring] else {
            missing.push(thickness(ring));
            continue;
        };
        let input = form
            .terms()
            .first()
            .and_then(|&(id, _)| construction.input(id));
        let shared = input.is_some_and(|input| input.quantity == Quantity::RingWires);
        if shared && parts.iter().any(|part| part.form == *form) {
            continue;
        }
        let wires = if shared {
            WirePart::RingWires
        } else {
            WirePart::Ring(ring)
        };
        parts.push(Part {
            wires: Some(wires),
            form: form.clone(),
        });
    }
    if parts.is_empty() {
        missing = vec![Missing::Measured(Quantity::RingWires)];
    }
    Measured { parts, missing }
}
