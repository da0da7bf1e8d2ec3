//! What a limit asks for, computed from whatever the board file recorded.

use crate::board::{Band, Construction, Edge, Linear, Quantity, RingWire};
use crate::table::Measurand;

/// A measurand of one board: the lengths that it speaks of, and what would
/// have to be measured for the rest, in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measured {
    /// One length for each part that was measured.
    pub parts: Vec<Part>,
    /// What is missing, in words; empty if nothing is.
    pub missing: Vec<String>,
}

/// The length of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Which part, where a measurand speaks of several; empty otherwise.
    pub name: String,
    /// The length, in terms of measured ones.
    pub form: Linear,
    /// The same length from other measured ones, where there are any: a check.
    pub check: Option<Linear>,
}

/// Computes a measurand at the edge that a limit refers to. `edge` is ignored
/// by measurands that have none; [`Measurand::Mounting`] has no length and
/// yields no parts.
pub fn measure(construction: &Construction, measurand: Measurand, edge: Edge) -> Measured {
    let radius = |ring: RingWire, factor: f64| {
        let form = construction.edge_radius(ring, edge);
        match form {
            Some(form) => one(Linear::default().plus(factor, &form), None),
            None => lacking(missing_radius(construction, ring)),
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
            Some(form) => one(form.clone(), None),
            None => lacking(vec!["the overall diameter".to_owned()]),
        },
        Measurand::SectorWiresGauge => match &construction.sector_wires {
            Some(form) => one(form.clone(), None),
            None => lacking(vec!["the thickness of the sector wires".to_owned()]),
        },
        Measurand::RingWiresGauge => ring_wires(construction),
        Measurand::Mounting => Measured::default(),
    }
}

fn one(form: Linear, check: Option<Linear>) -> Measured {
    Measured {
        parts: vec![Part {
            name: String::new(),
            form,
            check,
        }],
        missing: Vec::new(),
    }
}

const fn lacking(missing: Vec<String>) -> Measured {
    Measured {
        parts: Vec::new(),
        missing,
    }
}

/// A width taken directly is the better measurement: it carries one reading's
/// uncertainty, not two. The radii check it.
fn width(construction: &Construction, band: Band, edge: Edge) -> Measured {
    let direct = construction.width_direct(band, edge);
    let from_radii = construction.width_from_radii(band, edge);
    match (direct, from_radii) {
        (Some(direct), check) => {
            let check = check.filter(|form| *form != direct);
            one(direct, check)
        }
        (None, Some(form)) => one(form, None),
        (None, None) => {
            let wires = band.inner_wire().into_iter().chain([band.outer_wire()]);
            if construction.widths[band].is_some() {
                // Taken, but to other edges: the wires are what is missing.
                let unknown = wires.filter(|&ring| construction.ring_wires[ring].is_none());
                return lacking(
                    unknown
                        .map(|ring| format!("the thickness of the {ring}"))
                        .collect(),
                );
            }
            let mut missing: Vec<_> = wires
                .flat_map(|ring| missing_radius(construction, ring))
                .collect();
            missing.push(format!("or the {band} width itself"));
            lacking(missing)
        }
    }
}

fn missing_radius(construction: &Construction, ring: RingWire) -> Vec<String> {
    match (&construction.rings[ring], &construction.ring_wires[ring]) {
        (None, _) => vec![format!("the radius of the {ring}")],
        (Some(_), None) => vec![format!("the thickness of the {ring}")],
        (Some(_), Some(_)) => Vec::new(),
    }
}

/// The wires that share one entry count as one part.
fn ring_wires(construction: &Construction) -> Measured {
    let mut parts: Vec<Part> = Vec::new();
    let mut missing = Vec::new();
    for ring in RingWire::ALL {
        let Some(form) = &construction.ring_wires[ring] else {
            missing.push(format!("the thickness of the {ring}"));
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
        let name = if shared {
            "ring wires".to_owned()
        } else {
            ring.to_string()
        };
        parts.push(Part {
            name,
            form: form.clone(),
            check: None,
        });
    }
    if parts.is_empty() {
        missing = vec!["the thickness of the ring wires".to_owned()];
    }
    Measured { parts, missing }
}
