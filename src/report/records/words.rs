//! Words of the formats: enums, so that the schemas list what may be written.

use schemars::JsonSchema;
use serde::Serialize;

use super::Of;
use crate::board::{Band, DueState, Edge, Mounting, Profile, RingWire};
use crate::comparison::{AreaSource, Described, MetalFrom, RatioFrom, Sighting, ThrowsKind};
use crate::conformity::Verdict;
use crate::document::{FileKind, Level};
use crate::play::AimRule;
use crate::table::{Extent, Measurand, Provenance};

/// Words that stand for the variants of one of the engine's enums.
macro_rules! words {
    ($(
        $(#[$attribute:meta])*
        $record:ident of $engine:ty { $($(#[$word:meta])* $variant:ident),+ }
    )+) => {$(
        #[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
        $(#[$attribute])*
        pub(super) enum $record { $($(#[$word])* $variant),+ }

        impl From<$engine> for $record {
            fn from(word: $engine) -> Self {
                match word { $(<$engine>::$variant => Self::$variant),+ }
            }
        }

        impl Of<$engine> for $record {
            fn of(word: &$engine) -> Self {
                (*word).into()
            }
        }
    )+};
}

words! {
    #[serde(rename_all = "kebab-case")]
    VerdictRecord of Verdict { Conforms, Inconclusive, DoesNotConform }

    #[serde(rename_all = "kebab-case")]
    DueRecord of DueState { Valid, Due, Overdue }

    #[serde(rename_all = "snake_case")]
    BandWordRecord of Band { InnerBull, OuterBull, InnerSingle, Treble, OuterSingle, Double }

    #[serde(rename_all = "snake_case")]
    RingWireRecord of RingWire {
        InnerBull, OuterBull, TrebleInner, TrebleOuter, DoubleInner, DoubleOuter
    }

    #[serde(rename_all = "kebab-case")]
    EdgeRecord of Edge { Inside, Outside, Apex }

    #[serde(rename_all = "kebab-case")]
    MountingRecord of Mounting { Staples, Embedded }

    #[serde(rename_all = "kebab-case")]
    ProfileRecord of Profile { Round, Strip }

    /// Who said what metal does: nobody, the board's file, or whoever started
    /// the run.
    #[serde(rename_all = "kebab-case")]
    MetalFromRecord of MetalFrom { Default, File, Run }

    #[serde(rename_all = "kebab-case")]
    ThrowsKindRecord of ThrowsKind { Positions, Beds }

    /// Where an area comes from: the rings and wires around the band, or the file, which
    /// records it.
    #[serde(rename_all = "kebab-case")]
    AreaSourceRecord of AreaSource { Rings, Recorded }

    /// How a board is described: by its file, as a table's nominal board, by ratios to the
    /// first board, or not at all.
    #[serde(rename_all = "kebab-case")]
    DescribedRecord of Described { File, Nominal, Ratios, NotDescribed }

    /// Where a ratio comes from: the areas of both boards, or given, or 1 because others
    /// were given and this was not.
    #[serde(rename_all = "kebab-case")]
    RatioFromRecord of RatioFrom { Areas, Given, NotNamed }

    /// What the player does about a sighting error.
    #[serde(rename_all = "kebab-case")]
    SightingRecord of Sighting { Corrected, Kept }

    /// Where the player aims: at the middle of the bed, or where it is hit most
    /// often.
    #[serde(rename_all = "kebab-case")]
    AimRecord of AimRule { Middle, MostHits }

    /// What kind of file it is.
    #[serde(rename_all = "kebab-case")]
    FileKindRecord of FileKind { Board, Table, Sheet, Points, Event, Settings }

    /// How much a diagnostic counts: the levels of SARIF 2.1.0.
    #[serde(rename_all = "kebab-case")]
    LevelRecord of Level { Note, Warning, Error }

    /// How far a number can be traced.
    ProvenanceRecord of Provenance {
        #[serde(rename = "published")] Published,
        #[serde(rename = "from memory")] FromMemory,
        #[serde(rename = "common practice")] CommonPractice,
        #[serde(rename = "house rule")] HouseRule,
        #[serde(rename = "invented")] Invented
    }

    MeasurandRecord of Measurand {
        #[serde(rename = "inner_bull.diameter")] InnerBullDiameter,
        #[serde(rename = "outer_bull.diameter")] OuterBullDiameter,
        #[serde(rename = "treble.width")] TrebleWidth,
        #[serde(rename = "double.width")] DoubleWidth,
        #[serde(rename = "treble.outer_radius")] TrebleOuterRadius,
        #[serde(rename = "double.outer_radius")] DoubleOuterRadius,
        #[serde(rename = "double.outer_diameter")] DoubleOuterDiameter,
        #[serde(rename = "overall.diameter")] OverallDiameter,
        #[serde(rename = "ring_wires.gauge")] RingWiresGauge,
        #[serde(rename = "sector_wires.gauge")] SectorWiresGauge,
        #[serde(rename = "ring.roundness")] RingRoundness,
        #[serde(rename = "ring.offset")] RingOffset,
        #[serde(rename = "sector.angle")] SectorAngle,
        #[serde(rename = "bed.area")] BedArea,
        #[serde(rename = "mounting")] Mounting
    }

    ExtentRecord of Extent {
        #[serde(rename = "mean")] Mean,
        #[serde(rename = "every place")] EveryPlace
    }
}

/// What came of a check: a verdict, or that it could not be made.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum CheckRecord {
    Conforms,
    Inconclusive,
    DoesNotConform,
    NotChecked,
}

impl From<Option<Verdict>> for CheckRecord {
    fn from(verdict: Option<Verdict>) -> Self {
        match verdict {
            Some(Verdict::Conforms) => Self::Conforms,
            Some(Verdict::Inconclusive) => Self::Inconclusive,
            Some(Verdict::DoesNotConform) => Self::DoesNotConform,
            None => Self::NotChecked,
        }
    }
}
