//! How a board differs from one whose rings are round and whose sectors are
//! equal.

use super::{Bearing, Linear, RingWire};
use crate::units::{Angle, Length};

/// A length that was taken at one place around the board.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Around {
    /// Where.
    pub at: Bearing,
    /// The length, in terms of measured ones.
    pub length: Linear,
}

/// Where the twenty sector wires lie. Wire `k` is the anticlockwise border of
/// sector `k`, clockwise from the top.
#[derive(Clone, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct SectorPlaces {
    /// Their bearings, clockwise from the top; `None` if they were not taken.
    pub bearings: Option<[Angle; 20]>,
    /// How far each is turned from that, as far as the file says how well bearings are
    /// known; the errors of two wires are independent.
    pub turns: [Option<Linear>; 20],
    /// How far each passes to the clockwise side of the centre.
    pub offsets: [Option<Linear>; 20],
    /// Widths of single wires that differ from the others.
    pub widths: [Option<Linear>; 20],
}

/// A staple, where it is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct StaplePlace {
    /// The ring wire that it holds.
    pub ring: RingWire,
    /// Where.
    pub at: Bearing,
    /// Whether that is known, or assumed from how many there are.
    pub assumed: bool,
    /// Its width, along the wire.
    pub width: Length,
    /// Its length, across the wire.
    pub length: Length,
}

words! {
    /// Which way a ring's centre lies off the middle.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    pub enum Axis {
        /// To the right.
        Across = "across",
        /// Upwards.
        Up = "up",
    }

    /// The word in sentences.
    fn name;
}
