//! The raw shape of a board file. The doc comments here are what an editor
//! shows: they become the descriptions in `specs/board.schema.json`.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

use super::InstrumentFile;
use super::TemperatureFile;
use super::areas_file::AreasFile;
use super::entries::{LengthEntry, UncertaintyEntry, WireEntry};
use super::forms;
use super::length_text::{LengthText, TemperatureText};
use super::shape_file::{SectorsFile, StaplesEntry, StaplesFile};
use super::snippets;
use super::{Edge, Mounting, Profile, RingWire};
use crate::document::{Located, Named, PlainOr};
use crate::units::LengthUnit;

/// The name of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[non_exhaustive]
pub enum BoardFormat {
    /// The first version.
    #[serde(rename = "ringrule/board/1")]
    V1,
}

/// A dartboard as measured: which radii, to which edge of which wire.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = snippets::board)]
pub struct BoardFile {
    /// The format of this file: `ringrule/board/1`.
    #[schemars(required)]
    pub format: Option<Located<BoardFormat>>,
    /// Which board this is.
    #[schemars(required)]
    pub board: Option<Identity>,
    /// How the spider is held: `staples` or `embedded`.
    #[schemars(required)]
    pub mounting: Option<Located<Mounting>>,
    /// The cross-section of the wires: `round` or `strip`. Left out, it follows
    /// from the mounting: staples hold round wire, embedded boards have strip.
    pub profile: Option<Located<Profile>>,
    /// The unit of every bare number in this file: `mm` or `in`.
    #[schemars(required)]
    pub units: Option<Located<LengthUnit>>,
    /// Who measured the board, and when.
    pub inspection: Option<InspectionFile>,
    /// At which temperature the lengths were measured. With a coefficient of
    /// expansion they are brought to 20 °C (ISO 1).
    pub temperature: Option<Located<PlainOr<TemperatureText, TemperatureFile>>>,
    /// What lengths were measured with that do not name an instrument: its
    /// description, or the name of one of `instruments`. Its resolution and
    /// permissible error give the uncertainty of lengths that state none, and add
    /// to that of readings.
    pub instrument: Option<Located<PlainOr<String, InstrumentFile>>>,
    /// Several instruments, each under the name that lengths give as their
    /// `instrument`.
    pub instruments: Option<Named<InstrumentFile>>,
    /// The uncertainty of every length that states none of its own, in place of
    /// the instrument's. A bare length is expanded with k = 2.
    #[schemars(transform = forms::uncertainty)]
    pub uncertainty: Option<UncertaintyEntry>,
    /// What a dart on metal does: `lost` (it scores nothing), `glances` (it falls
    /// to the bed on its side of the apex), or the share that is lost, such as
    /// `30 %`. Used by `compare` alone; no verdict depends on it.
    #[schemars(transform = forms::metal)]
    pub metal: Option<Located<String>>,
    /// How thick the wires are.
    pub wires: Option<WiresFile>,
    /// The radius or diameter of each ring wire.
    pub rings: Option<RingsFile>,
    /// Widths of bands taken directly with a calliper. They serve the limits on
    /// widths, and stand in for a radius that was not taken.
    pub widths: Option<WidthsFile>,
    /// The diameter of the whole board, over the number ring's bed.
    pub overall: Option<OverallEntry>,
    /// The sector wires one by one, where they do not divide the board evenly.
    pub sectors: Option<SectorsFile>,
    /// The staples that hold the ring wires.
    pub staples: Option<StaplesFile>,
    /// Free areas of beds, where somebody knows these and not the lengths. Used by
    /// `compare` alone, for bands that the rings do not give; no verdict depends on them.
    pub areas: Option<AreasFile>,
}

/// Which board this is, so that nobody can take it for another.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Identity {
    /// The inventory id, as marked on the board itself, unique in your collection.
    #[schemars(required)]
    #[schemars(transform = forms::something)]
    pub id: Option<Located<String>>,
    /// What people call it; left out, its venue and position.
    pub name: Option<String>,
    /// The house in which it hangs. Reports and `validate --show venues` group by it.
    pub venue: Option<String>,
    /// Where in the venue it hangs.
    pub position: Option<String>,
    /// The year in which it was made.
    #[schemars(range(min = 1850, max = 2200))]
    pub made: Option<u16>,
    /// Who made it.
    pub maker: Option<String>,
    /// The maker's serial number.
    pub serial: Option<String>,
    /// Anything that a reader of the report should know.
    pub note: Option<String>,
}

/// Who measured a board, and when.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InspectionFile {
    /// Who took the readings.
    pub by: Option<String>,
    /// The day on which they were taken, as `2026-11-14`.
    #[schemars(transform = forms::day)]
    pub date: Option<Located<String>>,
}

/// The thickness of the wires: diameter of round wire, thickness of strip.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = snippets::wires)]
pub struct WiresFile {
    /// Every ring wire that has no entry of its own.
    pub rings: Option<WireEntry>,
    /// The twenty sector wires.
    pub sectors: Option<WireEntry>,
    /// The wire between inner and outer bull, if it differs.
    pub inner_bull: Option<WireEntry>,
    /// The wire around the outer bull, if it differs.
    pub outer_bull: Option<WireEntry>,
    /// The inner wire of the treble ring, if it differs.
    pub treble_inner: Option<WireEntry>,
    /// The outer wire of the treble ring, if it differs.
    pub treble_outer: Option<WireEntry>,
    /// The inner wire of the double ring, if it differs.
    pub double_inner: Option<WireEntry>,
    /// The outer wire of the double ring, if it differs.
    pub double_outer: Option<WireEntry>,
}

/// The six ring wires, each with its radius or diameter and the edge that it
/// was taken to. Leave out what was not measured.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RingsFile {
    /// The wire between inner and outer bull.
    pub inner_bull: Option<RadiusEntry>,
    /// The wire around the outer bull.
    pub outer_bull: Option<RadiusEntry>,
    /// The inner wire of the treble ring.
    pub treble_inner: Option<RadiusEntry>,
    /// The outer wire of the treble ring.
    pub treble_outer: Option<RadiusEntry>,
    /// The inner wire of the double ring.
    pub double_inner: Option<RadiusEntry>,
    /// The outer wire of the double ring.
    pub double_outer: Option<RadiusEntry>,
}

/// A ring wire: either its `radius` from the centre of the bull or its
/// `diameter`, and the edge of the wire that it was taken to.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(transform = forms::radius_or_diameter)]
#[schemars(transform = snippets::ring)]
pub struct RadiusEntry {
    /// Distance from the centre of the bull to the stated edge of the wire.
    #[schemars(transform = forms::radius)]
    pub radius: Option<LengthEntry>,
    /// Distance across the board between the same edges, in place of `radius`.
    #[schemars(transform = forms::diameter)]
    pub diameter: Option<LengthEntry>,
    /// The side of the wire that the measurement touched.
    #[schemars(required)]
    pub edge: Option<Located<Edge>>,
    /// Where the ring's centre lies: to the right of the middle of the board,
    /// and above it (`[0.6, -0.3]`). Left out, the ring is taken to be centred.
    #[schemars(length(equal = 2))]
    #[schemars(transform = forms::offset)]
    pub offset: Option<Located<Vec<LengthText>>>,
    /// The uncertainty of both parts of the offset, in place of the file's.
    #[schemars(transform = forms::uncertainty)]
    pub offset_uncertainty: Option<UncertaintyEntry>,
    /// The uncertainty of this length, in place of the file's. Beside readings
    /// it is their type B part, in place of the instrument's.
    #[schemars(transform = forms::uncertainty)]
    pub uncertainty: Option<UncertaintyEntry>,
    /// The name of the instrument, where it is not the file's.
    pub instrument: Option<Located<String>>,
    /// Where the value came from, in words.
    pub from: Option<String>,
}

/// Band widths that were taken directly.
#[skip_serializing_none]
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WidthsFile {
    /// The width of the treble ring.
    pub treble: Option<WidthEntry>,
    /// The width of the double ring.
    pub double: Option<WidthEntry>,
}

/// A band's width and the edges that it was taken between.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WidthEntry {
    /// The width of the band.
    #[schemars(required)]
    #[schemars(transform = forms::width)]
    pub width: Option<LengthEntry>,
    /// `inside`: between the two wires, metal left out. `apex`: from apex to
    /// apex. `outside`: over both wires.
    #[schemars(required)]
    pub edge: Option<Located<Edge>>,
    /// The uncertainty of this length, in place of the file's. Beside readings
    /// it is their type B part, in place of the instrument's.
    #[schemars(transform = forms::uncertainty)]
    pub uncertainty: Option<UncertaintyEntry>,
    /// The name of the instrument, where it is not the file's.
    pub instrument: Option<Located<String>>,
    /// Where the value came from, in words.
    pub from: Option<String>,
}

/// The size of the whole board.
#[skip_serializing_none]
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OverallEntry {
    /// The diameter of the board.
    #[schemars(required)]
    #[schemars(transform = forms::overall)]
    pub diameter: Option<LengthEntry>,
    /// The uncertainty of this length, in place of the file's. Beside readings
    /// it is their type B part, in place of the instrument's.
    #[schemars(transform = forms::uncertainty)]
    pub uncertainty: Option<UncertaintyEntry>,
    /// The name of the instrument, where it is not the file's.
    pub instrument: Option<Located<String>>,
    /// Where the value came from, in words.
    pub from: Option<String>,
}

/// All have one optional entry for each ring wire.
macro_rules! by_ring {
    ($file:ident, $entry:ident) => {
        impl $file {
            /// One wire's entry.
            pub(super) const fn get(&self, ring: RingWire) -> Option<&$entry> {
                match ring {
                    RingWire::InnerBull => self.inner_bull.as_ref(),
                    RingWire::OuterBull => self.outer_bull.as_ref(),
                    RingWire::TrebleInner => self.treble_inner.as_ref(),
                    RingWire::TrebleOuter => self.treble_outer.as_ref(),
                    RingWire::DoubleInner => self.double_inner.as_ref(),
                    RingWire::DoubleOuter => self.double_outer.as_ref(),
                }
            }
        }
    };
    (written $file:ident, $entry:ident) => {
        by_ring!($file, $entry);

        impl $file {
            /// The place for one wire's entry.
            pub(super) const fn entry(&mut self, ring: RingWire) -> &mut Option<$entry> {
                match ring {
                    RingWire::InnerBull => &mut self.inner_bull,
                    RingWire::OuterBull => &mut self.outer_bull,
                    RingWire::TrebleInner => &mut self.treble_inner,
                    RingWire::TrebleOuter => &mut self.treble_outer,
                    RingWire::DoubleInner => &mut self.double_inner,
                    RingWire::DoubleOuter => &mut self.double_outer,
                }
            }
        }
    };
}

by_ring!(written RingsFile, RadiusEntry);
by_ring!(written WiresFile, WireEntry);
by_ring!(StaplesFile, StaplesEntry);
