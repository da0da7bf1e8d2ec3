//! A limit, what was measured for it, and what is missing.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::Of;
use super::diagnostic::DiagnosticRecord;
use super::diagnostic::PlaceRecord;
use super::people::TakingRecord;
use super::words::{
    BandWordRecord, CheckRecord, EdgeRecord, ExtentRecord, MeasurandRecord, MountingRecord,
    ProfileRecord, ProvenanceRecord,
};
use crate::board::{Axis, Basis, Board, Contribution, InputId, Quantity};
use crate::conformity::{Amount, LimitFinding, Missing, Outcome, PlaceFinding};
use crate::report::says::{judged, reasons};
use crate::table::{Citation, Demand};
use crate::units::{Length, Uncertainty};

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct LimitRecord {
    /// The limit's name in its table.
    pub(super) limit: String,
    pub(super) measurand: MeasurandRecord,
    /// Which wires, where the limit is for several.
    pub(super) part: Option<String>,
    edge: Option<EdgeRecord>,
    pub(super) verdict: CheckRecord,
    /// Whether the limit speaks of the mean or of every place.
    of: ExtentRecord,
    /// Where around the board the value was taken, or the bed that it is of: the
    /// worst of those that the limit speaks of.
    pub(super) at: Option<String>,
    /// The measured length; of a sector its angle in degrees, of a bed its
    /// deviation in percent.
    pub(super) value: Option<f64>,
    /// The mounting, where the limit is on that.
    mounting: Option<MountingRecord>,
    pub(super) uncertainty: Option<UncertaintyRecord>,
    /// The value that the limit is set around.
    pub(super) nominal: Option<f64>,
    pub(super) lower: Option<f64>,
    pub(super) upper: Option<f64>,
    /// How far the value lies beyond the limits: negative below, positive
    /// above, zero within.
    pub(super) beyond: Option<f64>,
    pub(super) probability_of_conformity: Option<f64>,
    /// The same length from other measurements, where it contradicts.
    contradicted_by: Option<ContradictionRecord>,
    /// Every place that the limit speaks of.
    places: Option<Vec<AroundRecord>>,
    /// How many sectors or beds do not conform.
    failing: Option<usize>,
    /// What the check lacks.
    missing: Vec<MissingRecord>,
    measured_at: Vec<InputRecord>,
    limit_at: PlaceRecord,
    source: SourceRecord,
    /// What is to be said of it, unless it conforms.
    pub(super) finding: Option<DiagnosticRecord>,
}

/// A length at one place around the board.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct AroundRecord {
    /// A sector's number, or degrees clockwise from the top.
    at: String,
    value: f64,
    standard_uncertainty: Option<f64>,
    probability_of_conformity: Option<f64>,
    verdict: CheckRecord,
}

impl AroundRecord {
    fn of(place: &PlaceFinding) -> Self {
        Self {
            at: place.at.to_string(),
            value: place.value.as_mm(),
            standard_uncertainty: place.uncertainty.map(Uncertainty::standard),
            probability_of_conformity: place.decided.probability,
            verdict: Some(place.decided.verdict).into(),
        }
    }
}

records! {
    /// Where a number comes from.
    SourceRecord of Citation {
        /// The document, such as a rule book's title.
        document: String,
        /// Its edition or date.
        edition: Option<String>,
        /// The clause, section or page.
        clause: Option<String>,
        provenance: ProvenanceRecord,
    }
}

/// One thing that a check lacks.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct MissingRecord {
    kind: MissingKindRecord,
    /// The length, as `measured_at` names lengths.
    quantity: Option<String>,
    mounting: Option<MountingRecord>,
    /// The board's profile.
    profile: Option<ProfileRecord>,
    band: Option<BandWordRecord>,
    /// The same in words.
    words: String,
}

/// `measurement`: a length that the file does not give. `alternative`: one that
/// would do instead of those before it. `places`: readings that say where they
/// were taken. `nominal-board`: the table has none for
/// the mounting. `nominal-profile`: it has another profile. `nominal-band`: its
/// wires leave the band no free area.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum MissingKindRecord {
    Measurement,
    Alternative,
    Places,
    NominalBoard,
    NominalProfile,
    NominalBand,
}

/// An uncertainty, in the unit of its value.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct UncertaintyRecord {
    standard: f64,
    /// Effective degrees of freedom; left out where they are infinite.
    pub(super) degrees_of_freedom: Option<f64>,
    pub(super) coverage_factor: f64,
    pub(super) expanded: f64,
    /// Which measured lengths the variance comes from, in percent of it.
    contributions: Vec<ContributionRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ContributionRecord {
    quantity: String,
    share: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ContradictionRecord {
    value: f64,
    allowed_difference: f64,
    measured_at: Vec<InputRecord>,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct InputRecord {
    quantity: String,
    /// Where around the board it was taken, if the file says.
    at: Option<String>,
    value: f64,
    edge: Option<EdgeRecord>,
    standard_uncertainty: Option<f64>,
    /// The readings that the value is the mean of, in mm.
    readings: Option<Vec<f64>>,
    /// What each of several people read, where it is their weighted mean.
    taken: Option<Vec<TakingRecord>>,
    place: PlaceRecord,
}

impl LimitRecord {
    pub(super) fn of(finding: &LimitFinding<'_>, board: &Board) -> Self {
        let limit = finding.limit;
        let (lower, upper) = match &limit.demand {
            Demand::Within(interval) => (interval.lower, interval.upper),
            Demand::OneOf(_) | Demand::Turned { .. } | Demand::Beds { .. } => (None, None),
        };
        let mut record = Self {
            limit: limit.name.clone(),
            measurand: limit.measurand.into(),
            part: finding.part.map(crate::conformity::WirePart::name),
            edge: limit.edge.map(Into::into),
            of: limit.of.into(),
            at: None,
            verdict: finding.outcome.verdict().into(),
            value: None,
            mounting: None,
            uncertainty: None,
            nominal: limit.nominal.map(Length::as_mm),
            lower: lower.map(Length::as_mm),
            upper: upper.map(Length::as_mm),
            beyond: None,
            probability_of_conformity: None,
            contradicted_by: None,
            places: None,
            failing: None,
            missing: Vec::new(),
            measured_at: Vec::new(),
            limit_at: PlaceRecord::in_document(&limit.place.document, limit.place.span),
            source: Of::of(&limit.source),
            finding: Of::of(&judged::limit(finding, board)),
        };
        match &finding.outcome {
            Outcome::Length(length) => {
                let u = length.uncertainty;
                record.value = Some(length.value.as_mm());
                record.uncertainty =
                    u.map(|u| UncertaintyRecord::of(u, &length.contributions, board));
                record.at = length.at.map(|at| at.to_string());
                record.places = (!length.places.is_empty())
                    .then(|| length.places.iter().map(AroundRecord::of).collect());
                record.beyond = Some(length.excess.as_mm());
                record.probability_of_conformity = length.decided.probability;
                record.measured_at = inputs(&length.inputs, board);
                let other = length.contradiction.as_ref();
                record.contradicted_by = other.map(|other| ContradictionRecord {
                    value: other.other.as_mm(),
                    allowed_difference: other.allowed.as_mm(),
                    measured_at: inputs(&other.inputs, board),
                });
            }
            Outcome::Bed(found) => {
                record.at = Some(found.bed.to_string());
                record.value = Some(found.value.number());
                record.lower = found.lower.map(Amount::number);
                record.upper = found.upper.map(Amount::number);
                record.failing = Some(found.failing());
                record.uncertainty = found
                    .uncertainty
                    .map(|u| UncertaintyRecord::of(u, &[], board));
                record.probability_of_conformity = found.decided.probability;
                record.measured_at = inputs(&found.inputs(), board);
            }
            Outcome::Mounting { found, .. } => record.mounting = Some((*found).into()),
            Outcome::NotChecked(missing) => record.missing = MissingRecord::all(missing),
        }
        record
    }
}

impl MissingRecord {
    pub(super) fn all(missing: &[Missing]) -> Vec<Self> {
        missing.iter().copied().map(Self::from).collect()
    }
}

impl From<Missing> for MissingRecord {
    fn from(missing: Missing) -> Self {
        let mut record = Self {
            kind: MissingKindRecord::Measurement,
            quantity: None,
            mounting: None,
            profile: None,
            band: None,
            words: reasons::lacks(missing),
        };
        match missing {
            Missing::Measured(quantity) => record.quantity = Some(quantity.to_string()),
            Missing::Instead(quantity) => {
                record.kind = MissingKindRecord::Alternative;
                record.quantity = Some(quantity.to_string());
            }
            Missing::Places(quantity) => {
                record.kind = MissingKindRecord::Places;
                record.quantity = Some(quantity.to_string());
            }
            Missing::Offset(ring) => {
                record.quantity = Some(Quantity::Offset(ring, Axis::Across).to_string());
            }
            Missing::Bearings => record.quantity = Some("sector bearings".to_owned()),
            Missing::NominalBoard(mounting) => {
                record.kind = MissingKindRecord::NominalBoard;
                record.mounting = Some(mounting.into());
            }
            Missing::NominalProfile {
                mounting, board, ..
            } => {
                record.kind = MissingKindRecord::NominalProfile;
                record.mounting = Some(mounting.into());
                record.profile = Some(board.into());
            }
            Missing::NominalBand(band) => {
                record.kind = MissingKindRecord::NominalBand;
                record.band = Some(band.into());
            }
        }
        record
    }
}

fn inputs(ids: &[InputId], board: &Board) -> Vec<InputRecord> {
    // A turn of a wire was not measured: it is how well a bearing is known.
    let is_length = |&&id: &&InputId| {
        let input = board.construction.input(id);
        !input.is_some_and(|input| matches!(input.quantity, Quantity::Turn(_)))
    };
    let lengths = ids.iter().filter(is_length);
    lengths
        .filter_map(|&id| InputRecord::of(id, board))
        .collect()
}

impl InputRecord {
    pub(super) fn of(id: InputId, board: &Board) -> Option<Self> {
        let input = board.construction.input(id)?;
        Some(Self {
            quantity: input.quantity.to_string(),
            at: input.at.map(|at| at.to_string()),
            value: input.value.as_mm(),
            edge: input.edge.map(Into::into),
            standard_uncertainty: input.uncertainty.map(Uncertainty::standard),
            readings: match &input.basis {
                Basis::Readings { series, .. } => Some(series.readings().to_vec()),
                _ => None,
            },
            taken: input.taken().map(|taken| TakingRecord::all(taken, board)),
            place: PlaceRecord::in_document(&board.document, input.span),
        })
    }
}

impl UncertaintyRecord {
    pub(super) fn of(u: Uncertainty, contributions: &[Contribution], board: &Board) -> Self {
        let coverage = u.expanded();
        let degrees = u.degrees_of_freedom();
        let record = |contribution: &Contribution| {
            let input = board.construction.input(contribution.input)?;
            Some(ContributionRecord {
                quantity: input.name(),
                share: contribution.share.value(),
            })
        };
        Self {
            standard: u.standard(),
            degrees_of_freedom: degrees.is_finite().then_some(degrees),
            coverage_factor: coverage.factor,
            expanded: coverage.expanded,
            contributions: contributions.iter().filter_map(record).collect(),
        }
    }
}
