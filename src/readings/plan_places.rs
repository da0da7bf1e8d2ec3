//! Where around the board lengths are taken of which a table asks more than the
//! mean.

use super::item::Item;
use crate::board::{Band, Bearing, Quantity, RingWire};
use crate::table::{Limit, Measurand};

/// The places, clockwise from the top: the sectors nearest to each eighth of a turn
/// that face each other in pairs. House rule. Four are the fewest with which
/// a limit on every place is met, but a ring that is oval between them looks round
/// on four; and a diameter at a place needs the radius on both sides.
const PLACES: [u8; 8] = [20, 4, 6, 2, 3, 16, 11, 12];

/// A place where a sheet asks for readings.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct PlannedPlace {
    /// Its number, from 1, clockwise from the top.
    pub number: usize,
    /// Where it is; of what is taken across the board, one of its two ends.
    pub at: Bearing,
}

/// Where to take an item: everywhere, or across from the first half of the places.
pub(super) fn places(item: Item) -> Vec<PlannedPlace> {
    let count = if item.is_across() {
        PLACES.len() / 2
    } else {
        PLACES.len()
    };
    let places = PLACES.into_iter().take(count).enumerate();
    let place = |(index, number)| {
        Some(PlannedPlace {
            number: index + 1,
            at: Bearing::of_number(number)?,
        })
    };
    places.filter_map(place).collect()
}

impl PlannedPlace {
    /// The place opposite.
    #[must_use]
    pub(crate) fn facing(self) -> Self {
        let half = PLACES.len() / 2;
        Self {
            number: (self.number + half - 1) % PLACES.len() + 1,
            at: self.at.opposite(),
        }
    }
}

/// The lengths that a limit on a ring's form follows from: radii at places. The
/// bull is too small for radii, and how round it is shows in its diameters. An
/// inner wire follows from the outer one, its thickness and the width between them.
pub(super) fn behind_a_form(limit: &Limit) -> Vec<Quantity> {
    let is_offset = match limit.measurand {
        Measurand::RingRoundness => false,
        Measurand::RingOffset => true,
        _ => return Vec::new(),
    };
    let rings = RingWire::ALL.into_iter().filter(|ring| match limit.ring {
        Some(only) => *ring == only,
        // Where the others lie is measured from the inner bull.
        None => !(is_offset && *ring == RingWire::InnerBull),
    });
    let lengths = rings.flat_map(|ring| match ring {
        RingWire::InnerBull | RingWire::OuterBull => vec![Quantity::Ring(ring, !is_offset)],
        RingWire::TrebleInner => between(Band::Treble),
        RingWire::DoubleInner => between(Band::Double),
        RingWire::TrebleOuter | RingWire::DoubleOuter => vec![Quantity::Ring(ring, false)],
    });
    lengths.collect()
}

fn between(band: Band) -> Vec<Quantity> {
    vec![
        Quantity::Width(band),
        Quantity::Ring(band.outer_wire(), false),
        Quantity::RingWires,
    ]
}
