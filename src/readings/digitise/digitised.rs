//! A board made of points.

use super::{Feature, Scale};
use crate::board::{Board, BoardFile, Edge};
use crate::geometry::Point;
use crate::points::{CircleFit, SeenLine};
use crate::units::{Angle, Area, Length, Uncertainty};

/// A board made of points: mm, x to the right and y upwards from the origin, the
/// middle of the 20 at the top.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Digitised {
    /// The board as its new file describes it.
    pub board: Board,
    /// The new file.
    pub file: BoardFile,
    /// How long a unit of the table is.
    pub scale: Scale,
    /// A mark of the ruler that lies too far from where the others have it, and by how
    /// much; by so much that it can only be a slip, no board is made.
    pub outlying_mark: Option<OutlyingPoint>,
    /// What the origin is.
    pub origin: Origin,
    /// The covariance of the origin's x and y, before the board was turned.
    pub origin_covariance: [[Area; 2]; 2],
    /// By how much the board was turned anticlockwise to bring the 20 to the
    /// top; `None` where no sector wire says where that is.
    pub turn: Option<Angle>,
    /// Round features, in the order of the table.
    pub circles: Vec<DigitisedCircle>,
    /// Sector wires, clockwise from the one between 5 and 20.
    pub wires: Vec<DigitisedWire>,
}

/// What the origin is.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Origin {
    /// Where the lines of so many sector wires meet by least squares.
    SectorWires(usize),
    /// The centre of this round feature.
    Centre(Feature),
}

/// A round feature.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct DigitisedCircle {
    /// Which.
    pub feature: Feature,
    /// The edge that the points were taken to.
    pub edge: Option<Edge>,
    /// The circle through the points.
    pub fit: CircleFit,
    /// The standard uncertainty of the radius with that of the scale, in mm.
    pub radius_uncertainty: Uncertainty,
    /// The points.
    pub points: Vec<Point>,
    /// One that lies too far out to belong to the others.
    pub outlying: Option<OutlyingPoint>,
}

impl DigitisedCircle {
    /// The standard uncertainty of the centre's x and y, in mm, the larger of the
    /// two, from an origin of this covariance.
    pub fn offset_uncertainty(&self, origin: &[[Area; 2]; 2]) -> Uncertainty {
        let [[xx, ..], [_, yy, _], _] = self.fit.covariance;
        let [[ox, _], [_, oy]] = *origin;
        let larger = |a: Area, b: Area| a.as_mm2().max(b.as_mm2());
        let standard = libm::sqrt(larger(xx, yy) + larger(ox, oy));
        Uncertainty::with_degrees(standard, self.fit.degrees_of_freedom())
    }
}

/// A sector wire.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct DigitisedWire {
    /// The sector that it bounds on the anticlockwise side, clockwise from the
    /// 20, which is 0.
    pub sector: usize,
    /// Its line, as it is seen from the origin.
    pub line: SeenLine,
    /// The points.
    pub points: Vec<Point>,
    /// One that lies too far out to belong to the others.
    pub outlying: Option<OutlyingPoint>,
}

/// A point that lies too far out to belong to the others. It counts all the
/// same: whoever took it knows better.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct OutlyingPoint {
    /// The line of the table, from 1.
    pub line: usize,
    /// By how much it lies outside the circle, or on the clockwise side of the
    /// wire.
    pub residual: Length,
}
