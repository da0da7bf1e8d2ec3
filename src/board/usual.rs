//! The lengths that some board could have, and those of the usual one, by which
//! a slip is told from a deviation.
//!
//! Usual lengths are common practice, no source; the same numbers as the nominal
//! boards of `tolerances/wdf.yaml`. Nothing is judged by them: a rule only says
//! that a value would be usual if something were read otherwise.

use super::{Band, Construction, Edge, Input, Profile, Quantity, RingWire};
use crate::units::Length;

/// Lengths that some board could have, in mm, ends included.
#[derive(Clone, Copy)]
pub(crate) struct Range {
    pub(super) what: &'static str,
    pub(super) least: f64,
    pub(super) most: f64,
}

/// House rules: wide enough for every board ever sold, narrow enough for a
/// slipped decimal point in either direction to show.
pub(crate) struct Ranges;

impl Ranges {
    /// The lengths that a quantity can have.
    pub(crate) const fn of(quantity: Quantity) -> Range {
        match quantity {
            Quantity::Ring(_, is_diameter) => {
                Self::RADIUS.scaled(if is_diameter { 2.0 } else { 1.0 })
            }
            Quantity::Width(_) => Self::WIDTH,
            Quantity::Overall => Self::OVERALL,
            Quantity::RingWires
            | Quantity::RingWire(_)
            | Quantity::SectorWires
            | Quantity::SectorWire(_) => Self::WIRE,
            Quantity::Offset(..) | Quantity::SectorOffset(_) | Quantity::Turn(_) => Self::OFFSET,
        }
    }

    pub(crate) const RADIUS: Range = Range::new("ring radius", 2.0, 300.0);
    pub(crate) const WIDTH: Range = Range::new("band width", 1.0, 40.0);
    pub(crate) const WIRE: Range = Range::new("wire width", 0.05, 4.0);
    pub(crate) const OVERALL: Range = Range::new("overall diameter", 200.0, 800.0);
    pub(crate) const OFFSET: Range = Range::new("offset", -10.0, 10.0);
    pub(crate) const STAPLE_WIDTH: Range = Range::new("width of a staple", 0.2, 10.0);
    pub(crate) const STAPLE_LENGTH: Range = Range::new("length of a staple", 0.5, 30.0);
    /// Never zero: what is known exactly would have no probability. House rule: the least is
    /// a nanometre.
    pub(crate) const UNCERTAINTY: Range = Range::new("uncertainty", 1e-6, 5.0);
}

impl Range {
    const fn new(what: &'static str, least: f64, most: f64) -> Self {
        Self { what, least, most }
    }

    /// Whether a length lies within.
    pub(crate) fn contains(self, length: Length) -> bool {
        length.as_mm() >= self.least && length.as_mm() <= self.most
    }

    /// Its ends, in mm.
    #[cfg(feature = "workbook")]
    pub(crate) const fn ends(self) -> (f64, f64) {
        (self.least, self.most)
    }

    /// The range in words.
    pub(crate) fn words(self) -> String {
        format!(
            "expected {} to {} mm: check the unit and the decimal mark",
            self.least, self.most
        )
    }

    /// The range of `factor` times such a length.
    pub(crate) const fn scaled(self, factor: f64) -> Self {
        Self {
            what: self.what,
            least: self.least * factor,
            most: self.most * factor,
        }
    }
}

/// Inside radius of the inner bull wire, mm: a diameter of 12.7.
const INNER_BULL: f64 = 12.7 / 2.0;
/// Inside radius of the outer bull wire, mm: a diameter of 31.8.
const OUTER_BULL: f64 = 31.8 / 2.0;
/// Outside radius of the outer treble wire, mm.
const TREBLE_OUTER: f64 = 107.0;
/// Outside radius of the outer double wire, mm.
pub(crate) const DOUBLE_OUTER: f64 = 170.0;
/// Width of a ring between its round wires, mm.
const ROUND_WIDTH: f64 = 8.0;
/// Width of a ring from apex to apex of its strips, mm.
const STRIP_WIDTH: f64 = 9.6;
/// Diameter of the whole board, mm.
const OVERALL: f64 = 451.0;

/// The usual tolerance of radii and widths, mm. Common practice, no source.
pub(crate) const TOLERANCE: f64 = 0.2;

/// How far, as a share, a length may lie from the usual one and still be one
/// of its kind. House rule: beyond every board to rule and most others.
const SHARE: f64 = 0.1;

/// Thicknesses, in mm, that wires have. House rule: from the thinnest strip to
/// a little above 14 SWG.
const WIRES: (f64, f64) = (0.25, 2.2);

/// The thinnest round wire, mm. House rule: thinner than 20 SWG (0.914 mm).
pub(crate) const THINNEST_ROUND: f64 = 0.9;
/// The thickest strip, mm. House rule: thicker than any that is sold.
pub(crate) const THICKEST_STRIP: f64 = 1.2;

/// The usual radius of a ring wire at an edge, in mm. `None` where the wires
/// between it and the edge that is usually measured are not known.
pub(crate) fn radius(board: &Construction, ring: RingWire, edge: Edge) -> Option<f64> {
    let ring_of = |band: Band| (band.outer_wire(), board.profile);
    let (from, there) = match ring {
        RingWire::InnerBull => (Edge::Inside, INNER_BULL),
        RingWire::OuterBull => (Edge::Inside, OUTER_BULL),
        RingWire::TrebleOuter => (Edge::Outside, TREBLE_OUTER),
        RingWire::DoubleOuter => (Edge::Outside, DOUBLE_OUTER),
        RingWire::TrebleInner => inner(board, ring_of(Band::Treble))?,
        RingWire::DoubleInner => inner(board, ring_of(Band::Double))?,
    };
    let shift = from.apex_offset() - edge.apex_offset();
    if shift == 0.0 {
        return Some(there);
    }
    Some(there + shift * thickness(board, ring)?)
}

/// An inner ring wire, from the outer one and the usual width between them.
fn inner(board: &Construction, (outer, profile): (RingWire, Profile)) -> Option<(Edge, f64)> {
    Some(match profile {
        Profile::Round => (
            Edge::Outside,
            radius(board, outer, Edge::Inside)? - ROUND_WIDTH,
        ),
        Profile::Strip => (Edge::Apex, radius(board, outer, Edge::Apex)? - STRIP_WIDTH),
    })
}

fn thickness(board: &Construction, ring: RingWire) -> Option<f64> {
    let form = board.ring_wires[ring].as_ref()?;
    Some(board.value(form).as_mm())
}

/// The usual value, in mm, of a recorded radius, diameter, width or overall
/// diameter, at the edge that it was taken to. Wires have none.
pub(crate) fn value(board: &Construction, input: &Input) -> Option<f64> {
    match input.quantity {
        Quantity::Ring(ring, is_diameter) => {
            let factor = if is_diameter { 2.0 } else { 1.0 };
            Some(factor * radius(board, ring, input.edge?)?)
        }
        Quantity::Width(band) => {
            let (from, width) = match board.profile {
                Profile::Round => (Edge::Inside, ROUND_WIDTH),
                Profile::Strip => (Edge::Apex, STRIP_WIDTH),
            };
            let shift = from.apex_offset() - input.edge?.apex_offset();
            if shift == 0.0 {
                return Some(width);
            }
            let both = thickness(board, band.outer_wire())? + thickness(board, band.inner_wire()?)?;
            Some(width + shift * both)
        }
        Quantity::Overall => Some(OVERALL),
        _ => None,
    }
}

/// How a length that is far from usual would become usual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Misreading {
    /// The number is one of inches.
    Inches,
    /// The number is one of millimetres.
    Millimetres,
    /// The point belongs one place to the right.
    PointTooFarLeft,
    /// The point belongs one place to the left.
    PointTooFarRight,
    /// A diameter declared as a radius.
    Diameter,
    /// A radius declared as a diameter.
    Radius,
}

/// What a length was mistaken for; `None` if it is usual as it stands, or
/// would not be usual either way.
pub(crate) fn misreading(input: &Input) -> Option<Misreading> {
    use Misreading as M;
    if input.wire.is_some_and(|wire| wire.gauge.is_some()) {
        return None;
    }
    let plausible = |length: f64| {
        let (least, most) = range(input.quantity);
        length >= least && length <= most
    };
    let length = input.value.as_mm();
    if plausible(length) {
        return None;
    }
    let units = Length::inches(1.0).as_mm();
    let mut readings = vec![
        (M::Inches, units),
        (M::Millimetres, 1.0 / units),
        (M::PointTooFarLeft, 10.0),
        (M::PointTooFarRight, 0.1),
    ];
    match input.quantity {
        Quantity::Ring(_, false) => readings.insert(0, (M::Diameter, 0.5)),
        Quantity::Ring(_, true) => readings.insert(0, (M::Radius, 2.0)),
        _ => {}
    }
    let fitting = readings
        .into_iter()
        .find(|(_, factor)| plausible(length * factor));
    fitting.map(|(misreading, _)| misreading)
}

/// About where the apex of a ring wire lies, in mm, whatever its thickness.
pub(crate) const fn apex(ring: RingWire) -> f64 {
    match ring {
        // House rule: half a wire of 1.4 mm, between the gauges that are used.
        RingWire::InnerBull => INNER_BULL + 0.7,
        RingWire::OuterBull => OUTER_BULL + 0.7,
        RingWire::TrebleInner => TREBLE_OUTER - STRIP_WIDTH,
        RingWire::TrebleOuter => TREBLE_OUTER,
        RingWire::DoubleInner => DOUBLE_OUTER - STRIP_WIDTH,
        RingWire::DoubleOuter => DOUBLE_OUTER,
    }
}

/// Lengths, in mm, that are one of their kind, whatever the edge.
fn range(quantity: Quantity) -> (f64, f64) {
    let around = |usual: f64| (usual * (1.0 - SHARE), usual * (1.0 + SHARE));
    match quantity {
        Quantity::Ring(RingWire::InnerBull, is_diameter) => {
            // House rule: a wire more or less is a large share of so small a bull.
            let factor = if is_diameter { 2.0 } else { 1.0 };
            (4.5 * factor, 9.5 * factor)
        }
        Quantity::Ring(ring, false) => around(apex(ring)),
        Quantity::Ring(ring, true) => around(2.0 * apex(ring)),
        // House rule: from inside to inside of a narrow ring to over both wires
        // of a wide one.
        Quantity::Width(_) => (6.0, 13.0),
        Quantity::Overall => around(OVERALL),
        Quantity::RingWires
        | Quantity::RingWire(_)
        | Quantity::SectorWires
        | Quantity::SectorWire(_) => WIRES,
        // House rule: further off, and it shows from the line.
        Quantity::Offset(..) | Quantity::SectorOffset(_) | Quantity::Turn(_) => (-3.0, 3.0),
    }
}
