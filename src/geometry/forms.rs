//! Every wire of a board in terms of measured lengths.

use super::{Outline, Point, RingShape, SectorShape, Spider, Staple};
use crate::board::{Construction, Edge, Linear, PerRing, RingWire, SectorPlaces, TURN_RADIUS};
use crate::units::{Angle, Length};

/// Radii that differ by less, in mm, are one: what rounding leaves of a mean.
const SAME: f64 = 1e-9;

/// A spider whose lengths are still to be filled in: for the recorded ones, for
/// those of a simulated board, or for one of them changed.
pub(crate) struct Forms<'c> {
    rings: PerRing<Ring<'c>>,
    /// The usual width of the sector wires.
    sectors: Option<&'c Linear>,
    places: Option<&'c SectorPlaces>,
    staples: Vec<Staple>,
}

#[derive(Default)]
struct Ring<'c> {
    inside: Option<Linear>,
    apex: Option<Linear>,
    outside: Option<Linear>,
    offset: Option<&'c [Linear; 2]>,
    /// The edge that the ring was taken to, and its radius at bearings.
    around: Option<(Edge, Vec<(Angle, Linear)>)>,
}

impl Spider {
    /// The spider of a construction, as far as it was recorded.
    pub fn of(construction: &Construction) -> Self {
        let inputs = construction.inputs.iter();
        let values: Vec<f64> = inputs.map(|input| input.value.as_mm()).collect();
        Forms::of(construction).spider(&values)
    }
}

impl<'c> Forms<'c> {
    pub(crate) fn of(construction: &'c Construction) -> Self {
        let radius = |ring, edge| Some(construction.edge_radius(ring, edge)?.in_order());
        Self {
            rings: PerRing::from_fn(|ring: RingWire| {
                let place = construction.rings[ring].as_ref();
                Ring {
                    inside: radius(ring, Edge::Inside),
                    apex: radius(ring, Edge::Apex),
                    outside: radius(ring, Edge::Outside),
                    offset: place.and_then(|place| place.offset.as_ref()),
                    around: place
                        .filter(|place| !place.around.is_empty())
                        .map(|place| (place.edge, place.all_round())),
                }
            }),
            sectors: construction.sector_wires.as_ref(),
            places: construction.sectors.as_deref(),
            staples: construction
                .staples
                .iter()
                .map(|staple| {
                    Staple::new(staple.ring, staple.at.angle(), staple.width, staple.length)
                })
                .collect(),
        }
    }

    /// The spider where the measured lengths have these values, in mm.
    pub(crate) fn spider(&self, values: &[f64]) -> Spider {
        let length = |form: &Linear| Length::mm(form.at(values));
        Spider {
            rings: PerRing::from_fn(|wire: RingWire| self.rings[wire].shape(values)),
            sectors: self.sectors.map(|width| {
                let mut shape = SectorShape::even(length(width));
                if let Some(places) = self.places {
                    if let Some(bearings) = places.bearings {
                        shape.bearings = bearings;
                    }
                    for (own, form) in shape.bearings.iter_mut().zip(&places.turns) {
                        let turn = form.as_ref().map_or(Length::ZERO, length);
                        // A recorded bearing stays as it is, to the last digit.
                        if turn != Length::ZERO {
                            let more = turn.as_mm() / TURN_RADIUS.as_mm();
                            *own = Angle::radians(own.as_radians() + more);
                        }
                    }
                    for (own, form) in shape.offsets.iter_mut().zip(&places.offsets) {
                        *own = form.as_ref().map_or(*own, length);
                    }
                    for (own, form) in shape.widths.iter_mut().zip(&places.widths) {
                        *own = form.as_ref().map_or(*own, length);
                    }
                }
                shape
            }),
            staples: self.staples.clone(),
        }
    }
}

impl Ring<'_> {
    fn shape(&self, values: &[f64]) -> RingShape {
        let length = |form: &Option<Linear>| Some(Length::mm(form.as_ref()?.at(values)));
        let mut shape = RingShape {
            centre: match self.offset {
                Some([x, y]) => Point::new(x.at(values), y.at(values)),
                None => Point::ORIGIN,
            },
            inside: length(&self.inside),
            apex: length(&self.apex),
            outside: length(&self.outside),
            outline: None,
        };
        if let Some((edge, around)) = &self.around
            && let Some(radius) = shape.radius(*edge)
        {
            let places: Vec<_> = around
                .iter()
                .map(|(bearing, form)| (*bearing, Length::mm(form.at(values))))
                .collect();
            // Equal radii are a circle, to the last digit.
            let uneven = |own: Length| (own - radius).as_mm().abs() > SAME;
            if places.iter().any(|&(_, own)| uneven(own)) {
                shape.outline = Outline::through(radius, &places).ok();
            }
        }
        shape
    }
}
