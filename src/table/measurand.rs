//! The quantities that a limit can be set on.

use std::fmt;

use schemars::JsonSchema;
use serde::Deserialize;

/// A quantity of a board that a limit is set on. It is computed from whatever
/// lengths the board file recorded, at the edge that the limit asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, JsonSchema)]
pub enum Measurand {
    /// Diameter of the inner bull.
    #[serde(rename = "inner_bull.diameter")]
    InnerBullDiameter,
    /// Diameter of the outer bull.
    #[serde(rename = "outer_bull.diameter")]
    OuterBullDiameter,
    /// Width of the treble ring.
    #[serde(rename = "treble.width")]
    TrebleWidth,
    /// Width of the double ring.
    #[serde(rename = "double.width")]
    DoubleWidth,
    /// Radius of the outer treble wire.
    #[serde(rename = "treble.outer_radius")]
    TrebleOuterRadius,
    /// Radius of the outer double wire.
    #[serde(rename = "double.outer_radius")]
    DoubleOuterRadius,
    /// Diameter of the outer double wire.
    #[serde(rename = "double.outer_diameter")]
    DoubleOuterDiameter,
    /// Diameter of the whole board.
    #[serde(rename = "overall.diameter")]
    OverallDiameter,
    /// Thickness of the ring wires, each by itself.
    #[serde(rename = "ring_wires.gauge")]
    RingWiresGauge,
    /// Thickness of the sector wires.
    #[serde(rename = "sector_wires.gauge")]
    SectorWiresGauge,
    /// How the spider is held: takes `allowed` in place of a tolerance.
    #[serde(rename = "mounting")]
    Mounting,
}

impl Measurand {
    /// All, in the order in which a person goes round a board.
    pub const ALL: [Self; 11] = [
        Self::InnerBullDiameter,
        Self::OuterBullDiameter,
        Self::TrebleWidth,
        Self::TrebleOuterRadius,
        Self::DoubleWidth,
        Self::DoubleOuterRadius,
        Self::DoubleOuterDiameter,
        Self::OverallDiameter,
        Self::RingWiresGauge,
        Self::SectorWiresGauge,
        Self::Mounting,
    ];

    /// The word in files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::InnerBullDiameter => "inner_bull.diameter",
            Self::OuterBullDiameter => "outer_bull.diameter",
            Self::TrebleWidth => "treble.width",
            Self::DoubleWidth => "double.width",
            Self::TrebleOuterRadius => "treble.outer_radius",
            Self::DoubleOuterRadius => "double.outer_radius",
            Self::DoubleOuterDiameter => "double.outer_diameter",
            Self::OverallDiameter => "overall.diameter",
            Self::RingWiresGauge => "ring_wires.gauge",
            Self::SectorWiresGauge => "sector_wires.gauge",
            Self::Mounting => "mounting",
        }
    }

    /// The name in sentences.
    pub const fn name(self) -> &'static str {
        match self {
            Self::InnerBullDiameter => "inner bull diameter",
            Self::OuterBullDiameter => "outer bull diameter",
            Self::TrebleWidth => "treble width",
            Self::DoubleWidth => "double width",
            Self::TrebleOuterRadius => "outer treble wire radius",
            Self::DoubleOuterRadius => "outer double wire radius",
            Self::DoubleOuterDiameter => "outer double wire diameter",
            Self::OverallDiameter => "overall diameter",
            Self::RingWiresGauge => "ring wire thickness",
            Self::SectorWiresGauge => "sector wire thickness",
            Self::Mounting => "mounting",
        }
    }

    /// Whether a limit on it must say which edge of the wire it refers to.
    pub const fn needs_edge(self) -> bool {
        !matches!(
            self,
            Self::OverallDiameter | Self::RingWiresGauge | Self::SectorWiresGauge | Self::Mounting
        )
    }

    /// Whether its limits may be given as gauges.
    pub const fn is_gauge(self) -> bool {
        matches!(self, Self::RingWiresGauge | Self::SectorWiresGauge)
    }
}

impl fmt::Display for Measurand {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}
