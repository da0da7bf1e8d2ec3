//! The quantities that a limit can be set on.

use schemars::JsonSchema;
use serde::Deserialize;

words! {
    /// A quantity of a board that a limit is set on. It is computed from whatever
    /// lengths the board file recorded, at the edge that the limit asks for.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, JsonSchema)]
    #[non_exhaustive]
    pub enum Measurand {
        /// Diameter of the inner bull.
        #[serde(rename = "inner_bull.diameter")]
        InnerBullDiameter = "inner_bull.diameter" / "inner bull diameter",
        /// Diameter of the outer bull.
        #[serde(rename = "outer_bull.diameter")]
        OuterBullDiameter = "outer_bull.diameter" / "outer bull diameter",
        /// Width of the treble ring.
        #[serde(rename = "treble.width")]
        TrebleWidth = "treble.width" / "treble width",
        /// Radius of the outer treble wire.
        #[serde(rename = "treble.outer_radius")]
        TrebleOuterRadius = "treble.outer_radius" / "outer treble wire radius",
        /// Width of the double ring.
        #[serde(rename = "double.width")]
        DoubleWidth = "double.width" / "double width",
        /// Radius of the outer double wire.
        #[serde(rename = "double.outer_radius")]
        DoubleOuterRadius = "double.outer_radius" / "outer double wire radius",
        /// Diameter of the outer double wire.
        #[serde(rename = "double.outer_diameter")]
        DoubleOuterDiameter = "double.outer_diameter" / "outer double wire diameter",
        /// Diameter of the whole board.
        #[serde(rename = "overall.diameter")]
        OverallDiameter = "overall.diameter" / "overall diameter",
        /// Thickness of the ring wires, each by itself.
        #[serde(rename = "ring_wires.gauge")]
        RingWiresGauge = "ring_wires.gauge" / "ring wire thickness",
        /// Thickness of the sector wires.
        #[serde(rename = "sector_wires.gauge")]
        SectorWiresGauge = "sector_wires.gauge" / "sector wire thickness",
        /// How far a ring is out of round: its greatest less its least radius about
        /// its own centre.
        #[serde(rename = "ring.roundness")]
        RingRoundness = "ring.roundness" / "out-of-roundness",
        /// How far a ring's centre lies off that of the inner bull.
        #[serde(rename = "ring.offset")]
        RingOffset = "ring.offset" / "offset from the bull",
        /// The width of every sector, in degrees between its wires.
        #[serde(rename = "sector.angle")]
        SectorAngle = "sector.angle" / "sector angle",
        /// The free area of every bed against the nominal board's: takes a
        /// percentage as its tolerance.
        #[serde(rename = "bed.area")]
        BedArea = "bed.area" / "bed area",
        /// How the spider is held: takes `allowed` in place of a tolerance.
        #[serde(rename = "mounting")]
        Mounting = "mounting" / "mounting",
    }

    /// The word in files.
    fn key;
    /// The name in sentences.
    fn name;
    impl Display = name;
}

impl Measurand {
    /// Whether a limit on it must say which edge of the wire it refers to.
    pub const fn needs_edge(self) -> bool {
        matches!(
            self,
            Self::InnerBullDiameter
                | Self::OuterBullDiameter
                | Self::TrebleWidth
                | Self::TrebleOuterRadius
                | Self::DoubleWidth
                | Self::DoubleOuterRadius
                | Self::DoubleOuterDiameter
        )
    }

    /// Whether it is a length that differs from place to place, so that a limit
    /// may speak of every place.
    pub const fn has_places(self) -> bool {
        self.needs_edge() || matches!(self, Self::OverallDiameter | Self::SectorWiresGauge)
    }

    /// Whether a limit may name the one ring that it is for.
    pub const fn is_of_a_ring(self) -> bool {
        matches!(self, Self::RingRoundness | Self::RingOffset)
    }

    /// Whether its limits may be given as gauges.
    pub const fn is_gauge(self) -> bool {
        matches!(self, Self::RingWiresGauge | Self::SectorWiresGauge)
    }
}
