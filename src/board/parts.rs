//! The parts of a board by name.

use std::ops::{Index, IndexMut};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The sectors clockwise from the top. Common practice, no source: the order
/// on every standard board.
pub const SECTOR_ORDER: [u8; 20] = [
    20, 1, 18, 4, 13, 6, 10, 15, 2, 17, 3, 19, 7, 16, 8, 11, 14, 9, 12, 5,
];

words! {
    /// One of the six circular wires.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema)]
    #[serde(rename_all = "snake_case")]
    pub enum RingWire {
        /// Between the inner bull and the outer bull.
        InnerBull = "inner_bull" / "inner bull wire",
        /// Around the outer bull.
        OuterBull = "outer_bull" / "outer bull wire",
        /// The inner wire of the treble ring.
        TrebleInner = "treble_inner" / "inner treble wire",
        /// The outer wire of the treble ring.
        TrebleOuter = "treble_outer" / "outer treble wire",
        /// The inner wire of the double ring.
        DoubleInner = "double_inner" / "inner double wire",
        /// The outer wire of the double ring.
        DoubleOuter = "double_outer" / "outer double wire",
    }

    /// The key in files.
    fn key;
    /// The name in sentences.
    fn name;
    impl Display = name;
}

words! {
    /// One of the six bands between ring wires.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema)]
    #[serde(rename_all = "snake_case")]
    pub enum Band {
        /// The inner bull, the 50.
        InnerBull = "inner_bull" / "inner bull",
        /// The outer bull, the 25.
        OuterBull = "outer_bull" / "outer bull",
        /// Between the outer bull and the treble ring.
        InnerSingle = "inner_single" / "inner single",
        /// The treble ring.
        Treble = "treble" / "treble",
        /// Between the treble and the double ring.
        OuterSingle = "outer_single" / "outer single",
        /// The double ring.
        Double = "double" / "double",
    }

    /// The key in files.
    fn key;
    /// The name in sentences.
    fn name;
    impl Display = name;
}

impl Band {
    /// The wire on the bull's side; the inner bull has none.
    pub const fn inner_wire(self) -> Option<RingWire> {
        match self {
            Self::InnerBull => None,
            Self::OuterBull => Some(RingWire::InnerBull),
            Self::InnerSingle => Some(RingWire::OuterBull),
            Self::Treble => Some(RingWire::TrebleInner),
            Self::OuterSingle => Some(RingWire::TrebleOuter),
            Self::Double => Some(RingWire::DoubleInner),
        }
    }

    /// The wire on the far side.
    pub const fn outer_wire(self) -> RingWire {
        match self {
            Self::InnerBull => RingWire::InnerBull,
            Self::OuterBull => RingWire::OuterBull,
            Self::InnerSingle => RingWire::TrebleInner,
            Self::Treble => RingWire::TrebleOuter,
            Self::OuterSingle => RingWire::DoubleInner,
            Self::Double => RingWire::DoubleOuter,
        }
    }

    /// Whether the sector wires divide the band into twenty beds.
    pub const fn has_sectors(self) -> bool {
        !matches!(self, Self::InnerBull | Self::OuterBull)
    }

    /// How many beds the band has.
    pub const fn beds(self) -> usize {
        if self.has_sectors() { 20 } else { 1 }
    }
}

words! {
    /// Which side of a wire a length was taken to.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize, JsonSchema)]
    #[serde(rename_all = "snake_case")]
    pub enum Edge {
        /// The side towards the bull; of a band's width, the two facing sides.
        Inside = "inside",
        /// The side away from the bull; of a band's width, over both wires.
        Outside = "outside",
        /// The apex or centreline of the wire; of a width, apex to apex.
        Apex = "apex",
    }

    /// The word in files.
    fn key;
    impl Display = key;
}

impl Edge {
    /// Where a band's width taken at this edge of the outer wire touches the
    /// inner wire: "inside to inside" is from the inner wire's outside.
    #[must_use]
    pub const fn facing(self) -> Self {
        match self {
            Self::Inside => Self::Outside,
            Self::Outside => Self::Inside,
            Self::Apex => Self::Apex,
        }
    }

    /// What to add to a radius taken to this edge to get to the apex, in
    /// widths of the wire.
    pub const fn apex_offset(self) -> f64 {
        match self {
            Self::Inside => 0.5,
            Self::Outside => -0.5,
            Self::Apex => 0.0,
        }
    }
}

words! {
    /// How the spider is held.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize, JsonSchema)]
    #[serde(rename_all = "snake_case")]
    pub enum Mounting {
        /// A wire spider held to the face by staples.
        Staples = "staples",
        /// Strips let into the sisal.
        Embedded = "embedded",
    }

    /// The word in files.
    fn key;
    impl Display = key;
}

impl Mounting {
    /// The profile that a board of this mounting has unless its file says
    /// otherwise. Common practice, no source.
    pub const fn usual_profile(self) -> Profile {
        match self {
            Self::Staples => Profile::Round,
            Self::Embedded => Profile::Strip,
        }
    }
}

words! {
    /// The cross-section of the wires.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, Serialize, JsonSchema)]
    #[serde(rename_all = "snake_case")]
    pub enum Profile {
        /// Drawn round wire.
        Round = "round" / "round wire",
        /// Thin flat strip standing on edge.
        Strip = "strip" / "strip",
    }

    /// The word in files.
    fn key;
    /// With the noun that it describes.
    fn name;
    impl Display = key;
}

/// One value for each of a closed set of parts.
macro_rules! per_part {
    ($name:ident, $part:ty, $doc:literal) => {
        #[doc = $doc]
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name<T>([T; 6]);

        impl<T> $name<T> {
            /// From a rule that gives each part its value.
            pub fn from_fn(mut rule: impl FnMut($part) -> T) -> Self {
                Self(<$part>::ALL.map(&mut rule))
            }

            /// Each part with its value, from the bull outwards.
            pub fn iter(&self) -> impl Iterator<Item = ($part, &T)> {
                <$part>::ALL.into_iter().zip(&self.0)
            }
        }

        impl<T> Index<$part> for $name<T> {
            type Output = T;
            // The array has as many entries as the enum has variants.
            #[allow(clippy::indexing_slicing)]
            fn index(&self, part: $part) -> &T {
                &self.0[part as usize]
            }
        }

        impl<T> IndexMut<$part> for $name<T> {
            #[allow(clippy::indexing_slicing)]
            fn index_mut(&mut self, part: $part) -> &mut T {
                &mut self.0[part as usize]
            }
        }
    };
}

per_part!(PerRing, RingWire, "One value for each ring wire.");
per_part!(PerBand, Band, "One value for each band.");
