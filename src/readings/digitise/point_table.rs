//! Points as somebody wrote them down.

use std::sync::Arc;

use jiff::civil::Date;

use super::Feature;
use crate::board::{Edge, Mounting, Profile};
use crate::document::{Located, Source, Span};
use crate::geometry::Point;
use crate::units::{Length, LengthUnit, Percent, WireSize};

/// A coordinate table, read and checked.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct PointTable {
    /// The file.
    pub source: Arc<Source>,
    /// The board's id.
    pub board: String,
    /// Where it hangs, or what people call it.
    pub name: Option<String>,
    /// How the spider is held.
    pub mounting: Mounting,
    /// The cross-section of the wires.
    pub profile: Profile,
    /// Who took the points.
    pub inspector: Option<String>,
    /// The day.
    pub date: Option<Date>,
    /// What they were taken with.
    pub instrument: Option<String>,
    /// The thickness of the ring wires.
    pub ring_wires: Option<WireSize>,
    /// The thickness of the sector wires.
    pub sector_wires: Option<WireSize>,
    /// The unit of the coordinates; `None` for pixels.
    pub unit: Option<LengthUnit>,
    /// What says how large a pixel is, other than a ruler in the picture.
    pub(super) stated_scale: Option<Located<StatedScale>>,
    /// How well the scale is known: expanded, k = 2.
    pub scale_uncertainty: Option<Percent>,
    /// What the points were taken on, in the order of the file.
    pub(super) features: Vec<Taken>,
    /// The head row, for what the whole table lacks.
    pub(super) head: Span,
}

/// A scale that a row states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum StatedScale {
    DotsPerInch(f64),
    Diameter(Feature, Length),
}

/// The points of one feature, in the table's unit, y upwards.
#[derive(Clone, Debug)]
pub(super) struct Taken {
    pub(super) feature: Feature,
    /// To which edge, and where that is said.
    pub(super) edge: Option<(Edge, Span)>,
    /// Where its first row begins.
    pub(super) span: Span,
    pub(super) points: Vec<Point>,
    /// Where each point stands.
    pub(super) places: Vec<Span>,
}
