//! From the parts of a file that describe a construction to apexes and widths.

use super::entries::{LengthEntry, WireEntry};
use super::evaluated::{Beside, Evaluated};
use super::file::{RadiusEntry, RingsFile, WidthEntry, WidthsFile, WiresFile};
use super::inputs::{add, plain_input};
use super::lengths::Lengths;
use super::order::check_order;
use super::read_shape::{read_offset, read_sectors, read_staples, without};
use super::shape_file::{SectorsFile, StaplesFile};
use super::usual::Ranges;
use super::{
    Around, Band, Construction, DirectWidth, Edge, Linear, Mounting, PerBand, PerRing, Profile,
    Quantity, RingPlace, RingWire,
};
use crate::document::{Fault, Problem, Span};

/// The parts of a file that describe a construction: a board's or a nominal
/// board's.
pub(crate) struct ConstructionFile<'a> {
    pub(crate) mounting: Mounting,
    pub(crate) profile: Option<Profile>,
    pub(crate) wires: Option<&'a WiresFile>,
    pub(crate) rings: Option<&'a RingsFile>,
    pub(crate) widths: Option<&'a WidthsFile>,
    pub(crate) overall: Option<(&'a LengthEntry, Beside<'a>)>,
    pub(crate) sectors: Option<&'a SectorsFile>,
    pub(crate) staples: Option<&'a StaplesFile>,
}

/// Reads wires, rings, widths and size, and derives every apex.
pub(crate) fn read_construction(
    file: &ConstructionFile<'_>,
    lengths: &mut Lengths<'_>,
) -> Construction {
    let mut construction = Construction {
        mounting: file.mounting,
        profile: file.profile.unwrap_or(file.mounting.usual_profile()),
        inputs: Vec::new(),
        rings: PerRing::default(),
        ring_wires: PerRing::default(),
        sector_wires: None,
        sectors: None,
        staples: Vec::new(),
        widths: PerBand::default(),
        overall: None,
        overall_around: Vec::new(),
        areas: PerBand::default(),
        adjustment: None,
    };
    lengths.read_taken(file);
    if let Some(wires) = file.wires {
        read_wires(wires, &mut construction, lengths);
    }
    if let Some(rings) = file.rings {
        for ring in RingWire::ALL {
            if let Some(entry) = rings.get(ring) {
                construction.rings[ring] = read_ring(ring, entry, &mut construction, lengths);
            }
        }
    }
    if let Some(widths) = file.widths {
        for (band, entry) in [
            (Band::Treble, widths.treble.as_ref()),
            (Band::Double, widths.double.as_ref()),
        ] {
            if let Some(entry) = entry {
                construction.widths[band] = read_width(band, entry, &mut construction, lengths);
                construction.complete_from_width(band);
            }
        }
    }
    if let Some((diameter, beside)) = file.overall {
        let evaluated = lengths.evaluate(diameter, beside, Ranges::OVERALL);
        construction.overall = evaluated.map(|evaluated| {
            let quantity = Quantity::Overall;
            let (mean, around) =
                add_measured(&mut construction, quantity, None, evaluated, diameter.span);
            construction.overall_around = around;
            mean
        });
    }
    if let Some(sectors) = file.sectors {
        let places = read_sectors(sectors, &mut construction, lengths);
        construction.sectors = Some(Box::new(places));
    }
    if let Some(staples) = file.staples {
        construction.staples = read_staples(staples, lengths);
    }
    check_order(&construction, lengths.problems);
    construction
}

/// Adds a length, or the lengths at each place where it was taken: their mean,
/// and each of them.
fn add_measured(
    construction: &mut Construction,
    quantity: Quantity,
    edge: Option<Edge>,
    mut evaluated: Evaluated,
    span: Span,
) -> (Linear, Vec<Around>) {
    let places = std::mem::take(&mut evaluated.places);
    let mut put = |evaluated, at, span| {
        let mut input = plain_input(quantity, evaluated, span);
        (input.edge, input.at) = (edge, at);
        Linear::input(add(construction, input), 1.0)
    };
    if places.is_empty() {
        return (put(evaluated, None, span), Vec::new());
    }
    let share = 1.0 / places.len() as f64;
    let mut around = Vec::with_capacity(places.len());
    for place in places {
        let length = put(place.evaluated, Some(place.at), place.span);
        around.push(Around {
            at: place.at,
            length,
        });
    }
    let add = |mean: Linear, own: &Around| mean.plus(share, &own.length);
    (around.iter().fold(Linear::default(), add), around)
}

fn read_wires(wires: &WiresFile, construction: &mut Construction, lengths: &mut Lengths<'_>) {
    let mut one = |quantity, entry: &WireEntry| -> Option<Linear> {
        let (evaluated, wire, span) = lengths.wire_entry(entry)?;
        let mut input = plain_input(quantity, evaluated, span);
        input.wire = Some(wire);
        Some(Linear::input(add(construction, input), 1.0))
    };
    let shared = wires
        .rings
        .as_ref()
        .and_then(|entry| one(Quantity::RingWires, entry));
    let sectors = wires
        .sectors
        .as_ref()
        .and_then(|entry| one(Quantity::SectorWires, entry));
    let own = RingWire::ALL.map(|ring| {
        let entry = wires.get(ring);
        let own = entry.map(|entry| one(Quantity::RingWire(ring), entry));
        (ring, own.unwrap_or_else(|| shared.clone()))
    });
    construction.sector_wires = sectors;
    for (ring, wire) in own {
        construction.ring_wires[ring] = wire;
    }
}

fn read_ring(
    ring: RingWire,
    entry: &RadiusEntry,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<RingPlace> {
    let (text, is_diameter) = match (&entry.radius, &entry.diameter) {
        (Some(radius), None) => (radius, false),
        (None, Some(diameter)) => (diameter, true),
        (Some(radius), Some(diameter)) => {
            lengths.problems.add(
                Problem::new(
                    Fault::OneOf,
                    diameter.span,
                    format!("the {ring} has both a radius and a diameter"),
                    "keep the one that was measured",
                )
                .and(radius.span, "the radius"),
            );
            return None;
        }
        (None, None) => {
            let offset = entry.offset.as_ref().map(|offset| offset.span);
            let instrument = entry.instrument.as_ref().map(|own| own.span);
            let edge = entry.edge.as_ref().map(|edge| edge.span);
            let uncertainty = entry.uncertainty.as_ref().map(|own| own.span);
            let of_offset = entry.offset_uncertainty.as_ref().map(|own| own.span);
            let known = edge.or(offset).or(instrument).or(uncertainty);
            let known = known.or(of_offset);
            // What could not be read may have been the radius; with nothing else in the
            // group, all of it was.
            let is_told = match known {
                Some(value) => lengths.problems.is_lost_beside(value),
                None => !lengths.problems.is_empty(),
            };
            if is_told {
                return None;
            }
            let span = known.unwrap_or_default();
            lengths.problems.add(Problem::new(
                Fault::OneOf,
                span,
                format!("the {ring} has neither a radius nor a diameter"),
                "add `radius:` or `diameter:`, or remove the wire's entry if it was not measured",
            ));
            return None;
        }
    };
    let beside = Beside {
        uncertainty: entry.uncertainty.as_ref(),
        instrument: entry.instrument.as_ref(),
        across: is_diameter,
    };
    if let (Some(stated), None) = (&entry.offset_uncertainty, &entry.offset) {
        without(lengths, stated.span, ("offset_uncertainty", "offset"));
    }
    let half = if is_diameter { 0.5 } else { 1.0 };
    let range = Ranges::RADIUS.scaled(1.0 / half);
    let evaluated = lengths.evaluate(text, beside, range);
    let offset = entry.offset.as_ref().and_then(|offset| {
        let stated = entry.offset_uncertainty.as_ref();
        read_offset(ring, offset, stated, construction, lengths)
    });
    let (evaluated, edge) = (evaluated?, entry.edge?.value);
    let quantity = Quantity::Ring(ring, is_diameter);
    let (length, around) = add_measured(construction, quantity, Some(edge), evaluated, text.span);
    if let Some(offset) = entry
        .offset
        .as_ref()
        .filter(|_| !is_diameter && !around.is_empty())
    {
        lengths.problems.add(
            Problem::new(
                Fault::OneOf,
                offset.span,
                format!("the {ring} has both an offset and radii at places"),
                "remove the offset: radii at places say where the ring lies",
            )
            .and(text.span, "the radii at places"),
        );
        return None;
    }
    let halved = |form: &Linear| Linear::default().plus(half, form);
    Some(RingPlace {
        radius: halved(&length),
        edge,
        around: around
            .into_iter()
            .map(|own| Around {
                at: own.at,
                length: halved(&own.length),
            })
            .collect(),
        across: is_diameter,
        offset,
    })
}

fn read_width(
    band: Band,
    entry: &WidthEntry,
    construction: &mut Construction,
    lengths: &mut Lengths<'_>,
) -> Option<DirectWidth> {
    let text = entry.width.as_ref()?;
    let beside = Beside {
        uncertainty: entry.uncertainty.as_ref(),
        instrument: entry.instrument.as_ref(),
        across: false,
    };
    let evaluated = lengths.evaluate(text, beside, Ranges::WIDTH);
    let (evaluated, edge) = (evaluated?, entry.edge?.value);
    let quantity = Quantity::Width(band);
    let (width, around) = add_measured(construction, quantity, Some(edge), evaluated, text.span);
    Some(DirectWidth {
        width,
        edge,
        around,
    })
}
