//! A limit, what was measured for it, and what is missing.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::Of;
use super::diagnostic::DiagnosticRecord;
use super::diagnostic::PlaceRecord;
use super::people::TakingRecord;
use super::words::{
    BandWordRecord, CheckRecord, EdgeRecord, MeasurandRecord, MountingRecord, ProfileRecord,
    ProvenanceRecord,
};
use crate::board::{Basis, Board, Contribution, InputId};
use crate::conformity::{LimitFinding, Missing, Outcome};
use crate::report::says::{judged, reasons};
use crate::table::{Citation, Demand};
use crate::units::{Length, Uncertainty};

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct LimitRecord {
    /// The limit's name in its table.
    limit: String,
    measurand: MeasurandRecord,
    /// Which wires, where the limit is for several.
    part: Option<String>,
    edge: Option<EdgeRecord>,
    verdict: CheckRecord,
    /// The measured length.
    value: Option<f64>,
    /// The mounting, where the limit is on that.
    mounting: Option<MountingRecord>,
    uncertainty: Option<UncertaintyRecord>,
    /// The value that the limit is set around.
    nominal: Option<f64>,
    lower: Option<f64>,
    upper: Option<f64>,
    /// How far the value lies beyond the limits: negative below, positive
    /// above, zero within.
    beyond: Option<f64>,
    probability_of_conformity: Option<f64>,
    /// The same length from other measurements, where it contradicts.
    contradicted_by: Option<ContradictionRecord>,
    /// What the check lacks.
    missing: Vec<MissingRecord>,
    measured_at: Vec<InputRecord>,
    limit_at: PlaceRecord,
    source: SourceRecord,
    /// What is to be said of it, unless it conforms.
    finding: Option<DiagnosticRecord>,
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
/// would do instead of those before it. `nominal-board`: the table has none for
/// the mounting. `nominal-profile`: it has another profile. `nominal-band`: its
/// wires leave the band no free area.
#[derive(Clone, Copy, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum MissingKindRecord {
    Measurement,
    Alternative,
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
    degrees_of_freedom: Option<f64>,
    coverage_factor: f64,
    expanded: f64,
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
            Demand::OneOf(_) => (None, None),
        };
        let mut record = Self {
            limit: limit.name.clone(),
            measurand: limit.measurand.into(),
            part: finding.part.map(|part| part.name().to_owned()),
            edge: limit.edge.map(Into::into),
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
    let record = |&id| InputRecord::of(id, board);
    ids.iter().filter_map(record).collect()
}

impl InputRecord {
    pub(super) fn of(id: InputId, board: &Board) -> Option<Self> {
        let input = board.construction.input(id)?;
        Some(Self {
            quantity: input.quantity.to_string(),
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
                quantity: input.quantity.to_string(),
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
