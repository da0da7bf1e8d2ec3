//! Which measured lengths a band's deviation comes from.

use super::nominal::NominalBand;
use super::propagate::FreeArea;
use crate::board::{Band, Construction, Edge, Input, InputId, Linear, Quantity, RingWire};
use crate::geometry::{Spider, free_area};
use crate::units::{Length, Percent};

/// What a band's deviation would change by, were one measured length alone
/// that of the nominal board.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Driver {
    /// The measured length.
    pub input: InputId,
    /// The same length on the nominal board.
    pub nominal: Length,
    /// The deviation less what it would be with the nominal length, every
    /// other length as measured, in percent of the nominal area. Shares need
    /// not add up to the deviation: an area is not linear in its lengths.
    pub share: Percent,
}

/// Replaces the measured lengths behind a band's free area by those of the
/// nominal board, one at a time, and works the area out anew.
pub(super) fn drivers(
    construction: &Construction,
    spider: &Spider,
    free: &FreeArea,
    band: Band,
    nominal: (&Construction, &NominalBand),
) -> Vec<Driver> {
    let (nominal_board, nominal_band) = nominal;
    let mut drivers: Vec<Driver> = free
        .inputs()
        .filter_map(|id| {
            let input = construction.input(id)?;
            let (length, other) = with_nominal(spider, free, band, nominal_board, (id, input))?;
            // Edges that would pass each other leave no area.
            let area = free_area(&other, band)?.as_mm2().max(0.0);
            let change = free.area.free.as_mm2() - area;
            Some(Driver {
                input: id,
                nominal: length,
                share: Percent::of(change / nominal_band.area.as_mm2()).ok()?,
            })
        })
        .collect();
    drivers.sort_by(|a, b| b.share.value().abs().total_cmp(&a.share.value().abs()));
    drivers
}

/// A length of the nominal board, and the spider with it in place of the
/// measured one; `None` if the nominal board has no such length.
fn with_nominal(
    spider: &Spider,
    free: &FreeArea,
    band: Band,
    nominal: &Construction,
    (id, input): (InputId, &Input),
) -> Option<(Length, Spider)> {
    let mut other = spider.clone();
    let mut found = None;
    for edge in &free.edges {
        let Some(&(_, factor)) = edge.form.terms().iter().find(|&&(own, _)| own == id) else {
            continue;
        };
        let Some(form) = counterpart(nominal, input, edge.ring) else {
            continue;
        };
        let length = nominal.value(&form);
        found = found.or(Some(length));
        let shift = (length - input.value) * factor;
        match edge.ring {
            Some(ring) => {
                let shape = &mut other.rings[ring];
                let facing = if ring == band.outer_wire() {
                    &mut shape.inside
                } else {
                    &mut shape.outside
                };
                *facing = facing.map(|radius| radius + shift);
            }
            None => {
                other.sectors = other.sectors.map(|sectors| sectors.widened(shift));
            }
        }
    }
    Some((found?, other))
}

/// The length on the nominal board that a measured length corresponds to;
/// `ring` is the wire whose edge it helps to place.
fn counterpart(nominal: &Construction, input: &Input, ring: Option<RingWire>) -> Option<Linear> {
    let edge = input.edge.unwrap_or(Edge::Apex);
    match input.quantity {
        Quantity::Ring(ring, is_diameter) => {
            let radius = nominal.edge_radius(ring, edge)?;
            let factor = if is_diameter { 2.0 } else { 1.0 };
            Some(Linear::default().plus(factor, &radius))
        }
        Quantity::RingWire(ring) => nominal.ring_wires[ring].clone(),
        Quantity::RingWires => nominal.ring_wires[ring?].clone(),
        Quantity::SectorWires | Quantity::SectorWire(_) => nominal.sector_wires.clone(),
        Quantity::Width(band) => nominal.width_from_radii(band, edge),
        // The nominal board's rings are centred and its wires straight.
        Quantity::Overall
        | Quantity::Offset(..)
        | Quantity::SectorOffset(_)
        | Quantity::Turn(_) => None,
    }
}
