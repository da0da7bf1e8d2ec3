//! The raw shape of a tolerance table. The doc comments here are what an editor
//! shows: they become the descriptions in `tolerances/table.schema.json`.

use schemars::JsonSchema;
use serde::Deserialize;

use super::forms;
use super::{DecisionScope, Extent, Measurand, Provenance};
use crate::board::{
    Band, Edge, LengthText, Mounting, Profile, RingWire, RingsFile, WidthsFile, WireText,
    WiresFile, number_or_text,
};
use crate::document::{Located, Named, PlainOr};
use crate::units::LengthUnit;

/// The name of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum TableFormat {
    /// The first version.
    #[serde(rename = "ringrule/table/1")]
    V1,
}

/// What a rulebook says about a dartboard's construction.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = forms::checks_something)]
pub struct TableFile {
    /// The format of this file: `ringrule/table/1`.
    #[schemars(required)]
    pub format: Option<Located<TableFormat>>,
    /// What reports call this table.
    #[schemars(required)]
    pub title: Option<Located<String>>,
    /// Where the numbers of this table come from, unless a limit says otherwise.
    #[schemars(required)]
    #[schemars(transform = forms::source)]
    pub source: Option<Located<SourceEntry>>,
    /// Another table, by a path relative to this file and within its folder
    /// tree. Its limits, nominal boards, band limits and decision rule hold
    /// unless this file gives one of the same name.
    pub extends: Option<Located<String>>,
    /// The unit of every bare number in this file: `mm` or `in`. Without it,
    /// every length states its own unit.
    pub units: Option<Located<LengthUnit>>,
    /// How a measured value and its uncertainty become a verdict. Left out, it
    /// is that of the extended table, or `simple`.
    pub decision: Option<Located<DecisionEntry>>,
    /// The expanded uncertainty (k = 2) of the thickness of a wire that a board
    /// file names by its gauge, or `none` if such a wire counts as exact. Left
    /// out, it is that of the extended table, or a house rule: 0.03 mm.
    #[schemars(transform = forms::gauge_uncertainty)]
    pub gauge_uncertainty: Option<Located<LengthText>>,
    /// The board that this table describes when every limit is met exactly, one
    /// for each mounting. Band areas are compared with it.
    pub nominal: Option<NominalFile>,
    /// How many limits stand in this file: a copy of it that was cut short is then refused.
    #[schemars(range(min = 0, max = 200))]
    pub number_of_limits: Option<Located<u16>>,
    /// The limits, each under a name of your choice. A limit of the same name
    /// in an extended table is replaced.
    pub limits: Option<Named<LimitEntry>>,
    /// How far the free area of each band may deviate from the nominal board's.
    /// A band left out has the range that boards within the limits can have.
    pub bands: Option<BandsFile>,
}

/// Where numbers come from.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct SourceEntry {
    /// The document, such as the rule book's title.
    pub document: Option<String>,
    /// Its edition or date.
    pub edition: Option<String>,
    /// The clause, section or page.
    pub clause: Option<String>,
    /// How far the numbers can be traced.
    pub provenance: Option<Provenance>,
}

/// A decision rule.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = forms::number_of_the_rule)]
pub struct DecisionEntry {
    /// Which rule.
    #[schemars(required)]
    pub rule: Option<Rule>,
    /// The probability that the `guarded` rule asks for, such as `95 %`.
    #[schemars(transform = forms::confidence)]
    pub confidence: Option<Located<PercentText>>,
    /// Whether the confidence is asked of every `check`, which holds if this is
    /// left out, or also of the `board` as a whole.
    pub of: Option<Located<DecisionScope>>,
    /// The largest expanded uncertainty (k = 2) with which the `simple` rule
    /// decides, as a share of the distance between the limits, or `any`; 20 %
    /// if left out.
    #[schemars(transform = forms::max_uncertainty)]
    pub max_uncertainty: Option<Located<PercentText>>,
    /// Who agreed that this rule is used.
    pub agreed_by: Option<String>,
}

/// The decision rules that there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Rule {
    /// A value conforms when it lies within its limits; the uncertainty is
    /// printed but does not count.
    Simple,
    /// A value conforms, or does not, only if the probability of that reaches
    /// the `confidence`; otherwise the verdict is inconclusive.
    Guarded,
}

/// The nominal boards.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct NominalFile {
    /// For boards whose spider is held by staples.
    pub staples: Option<Located<NominalEntry>>,
    /// For boards whose strips are let into the sisal.
    pub embedded: Option<Located<NominalEntry>>,
}

/// A nominal board, in the words of a board file.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct NominalEntry {
    /// The cross-section of the wires; left out, it follows from the mounting.
    pub profile: Option<Profile>,
    /// How thick the wires are.
    pub wires: Option<WiresFile>,
    /// The radius or diameter of each ring wire.
    pub rings: Option<RingsFile>,
    /// Widths of the treble and double ring; each stands in for the radius of
    /// its ring's inner wire.
    pub widths: Option<WidthsFile>,
    /// Where these numbers come from, in place of the table's source.
    pub source: Option<SourceEntry>,
}

/// One limit: a `nominal` value with a `tolerance`, or a `tolerance` with `min`
/// and `max`, or, for the mounting, what is `allowed`.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = forms::keys_of_the_measurand)]
pub struct LimitEntry {
    /// The quantity that is limited.
    #[schemars(required)]
    pub measurand: Option<Measurand>,
    /// The edge of the wire that the limit refers to. Of a width, `inside` is
    /// between the two wires, `apex` from apex to apex, `outside` over both.
    pub edge: Option<Located<Edge>>,
    /// Whether the limit speaks of the `mean` or of `every place` where the
    /// length was taken. Left out, of the mean: a house rule, where the rule
    /// book does not say.
    pub of: Option<Located<Extent>>,
    /// The ring wire that a limit on `ring.roundness` or `ring.offset` is for;
    /// left out, every ring wire.
    pub ring: Option<Located<RingWire>>,
    /// The band whose beds a limit on `bed.area` is for; left out, all.
    pub band: Option<Located<Band>>,
    /// Which boards the limit is for; left out, all.
    pub when: Option<WhenEntry>,
    /// The value that `tolerance` is counted from.
    #[schemars(transform = forms::bound)]
    pub nominal: Option<Located<WireText>>,
    /// How far a value may lie from `nominal`: one length for both sides, or
    /// `lower` and `upper`; or, without a nominal value, `min` and `max`.
    #[schemars(transform = forms::distance)]
    pub tolerance: Option<Located<PlainOr<LengthText, ToleranceGroup>>>,
    /// The mountings that are allowed, for the measurand `mounting`.
    pub allowed: Option<Located<Vec<Mounting>>>,
    /// Where this limit comes from, in place of the table's source.
    pub source: Option<SourceEntry>,
}

/// Which boards a limit is for.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct WhenEntry {
    /// Only boards mounted like this.
    pub mounting: Option<Mounting>,
    /// Only boards with this profile.
    pub profile: Option<Profile>,
}

/// A tolerance with two sides: `lower` and `upper` are distances from the
/// nominal value, `min` and `max` are values.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
#[schemars(transform = forms::distances_or_ends)]
pub struct ToleranceGroup {
    /// How far below the nominal value still conforms.
    #[schemars(transform = forms::distance)]
    pub lower: Option<Located<LengthText>>,
    /// How far above the nominal value still conforms.
    #[schemars(transform = forms::distance)]
    pub upper: Option<Located<LengthText>>,
    /// The least value that conforms; of a wire, the thinnest gauge.
    #[schemars(transform = forms::bound)]
    pub min: Option<Located<WireText>>,
    /// The greatest value that conforms; of a wire, the thickest gauge.
    #[schemars(transform = forms::bound)]
    pub max: Option<Located<WireText>>,
}

/// Limits on the free areas of bands.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct BandsFile {
    /// The inner bull, the 50.
    pub inner_bull: Option<BandEntry>,
    /// The outer bull, the 25.
    pub outer_bull: Option<BandEntry>,
    /// Between the outer bull and the treble ring.
    pub inner_single: Option<BandEntry>,
    /// The treble ring.
    pub treble: Option<BandEntry>,
    /// Between the treble and the double ring.
    pub outer_single: Option<BandEntry>,
    /// The double ring.
    pub double: Option<BandEntry>,
}

/// How far a band's free area may deviate.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct BandEntry {
    /// Deviation from the nominal free area: one percentage for both sides, or
    /// `lower` and `upper`.
    #[schemars(required)]
    pub area: Option<Located<PlainOr<PercentText, PercentGroup>>>,
    /// Where this limit comes from, in place of the table's source.
    pub source: Option<SourceEntry>,
}

/// A deviation with two sides, both counted from the nominal area.
#[derive(Clone, Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct PercentGroup {
    /// How far below the nominal area still conforms.
    #[schemars(required)]
    pub lower: Option<Located<PercentText>>,
    /// How far above the nominal area still conforms.
    #[schemars(required)]
    pub upper: Option<Located<PercentText>>,
}

/// A percentage with its sign: `3 %`.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(transparent)]
pub struct PercentText(pub LengthText);

number_or_text!(
    PercentText,
    forms::percent,
    "A percentage with its sign: `3 %`.",
    ["3 %", "2.5 %"]
);

impl NominalFile {
    /// The entry of each mounting.
    pub(super) fn entries(&self) -> [(Mounting, Option<&Located<NominalEntry>>); 2] {
        [
            (Mounting::Staples, self.staples.as_ref()),
            (Mounting::Embedded, self.embedded.as_ref()),
        ]
    }
}

impl BandsFile {
    /// The entry of each band.
    pub(super) fn entries(&self) -> [(crate::board::Band, Option<&BandEntry>); 6] {
        use crate::board::Band as B;
        [
            (B::InnerBull, self.inner_bull.as_ref()),
            (B::OuterBull, self.outer_bull.as_ref()),
            (B::InnerSingle, self.inner_single.as_ref()),
            (B::Treble, self.treble.as_ref()),
            (B::OuterSingle, self.outer_single.as_ref()),
            (B::Double, self.double.as_ref()),
        ]
    }
}
