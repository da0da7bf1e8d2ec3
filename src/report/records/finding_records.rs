//! The structure of the machine-readable report. The doc comments here become
//! the descriptions in its schema.

use schemars::JsonSchema;
use serde::Serialize;

use super::diagnostic::DiagnosticRecord;
use super::place::PlaceRecord;
use crate::conformity::{Drawn, Verdict};
use crate::table::Citation;

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct TableRecord {
    /// What the table calls itself.
    pub(in crate::report) title: String,
    /// Where its numbers come from unless a limit says otherwise.
    pub(in crate::report) source: Citation,
    /// Its file, then the files that it extends.
    pub(in crate::report) files: Vec<FileRecord>,
    /// The decision rule in words.
    pub(in crate::report) decision_rule: String,
}

/// A file, and the SHA-256 digest of its bytes in hexadecimal.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct FileRecord {
    pub(in crate::report) file: String,
    pub(in crate::report) sha256: String,
}

/// A measuring instrument; lengths in mm.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct InstrumentRecord {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) resolution: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) max_error: Option<f64>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) calibrated: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct BoardRecord {
    pub(in crate::report) file: String,
    /// The SHA-256 digest of the file's bytes in hexadecimal.
    pub(in crate::report) sha256: String,
    pub(in crate::report) id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) made: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) maker: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) serial: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) note: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) inspected_by: Option<String>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) inspected: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) instrument: Option<InstrumentRecord>,
    pub(in crate::report) mounting: String,
    pub(in crate::report) profile: String,
    pub(in crate::report) verdict: Verdict,
    /// How many checks came out which way.
    pub(in crate::report) checks: TallyRecord,
    pub(in crate::report) limits: Vec<LimitRecord>,
    pub(in crate::report) bands: Vec<BandRecord>,
    /// Wires whose declared edge looks wrong.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) suspected_edge: Option<SuspicionRecord>,
    /// The bands beside the nominal board of another mounting, where that was
    /// asked for: no verdicts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) beside: Option<BesideRecord>,
    /// Uncertainties by Monte Carlo, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) monte_carlo: Option<SimulationRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct BesideRecord {
    pub(in crate::report) mounting: String,
    pub(in crate::report) bands: Vec<BandRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct SimulationRecord {
    pub(in crate::report) draws: usize,
    pub(in crate::report) seed: u64,
    /// Area deviations and metal shares of bands, in percent.
    pub(in crate::report) bands: Vec<DrawnBandRecord>,
    /// Lengths of limits, in mm.
    pub(in crate::report) limits: Vec<DrawnLimitRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DrawnBandRecord {
    pub(in crate::report) band: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) deviation: Option<DrawnRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) metal_share: Option<DrawnRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DrawnLimitRecord {
    pub(in crate::report) limit: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) part: Option<String>,
    pub(in crate::report) value: DrawnRecord,
}

/// What draws came to; `low` to `high` hold the middle 95.45 %.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DrawnRecord {
    pub(in crate::report) mean: f64,
    pub(in crate::report) standard_uncertainty: f64,
    pub(in crate::report) low: f64,
    pub(in crate::report) high: f64,
}

impl From<Drawn> for DrawnRecord {
    fn from(drawn: Drawn) -> Self {
        Self {
            mean: drawn.mean,
            standard_uncertainty: drawn.standard_uncertainty,
            low: drawn.interval.0,
            high: drawn.interval.1,
        }
    }
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct TallyRecord {
    pub(in crate::report) conform: usize,
    pub(in crate::report) do_not_conform: usize,
    pub(in crate::report) inconclusive: usize,
    pub(in crate::report) not_checked: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(in crate::report) enum CheckVerdict {
    Conforms,
    Inconclusive,
    DoesNotConform,
    NotChecked,
}

impl From<Option<Verdict>> for CheckVerdict {
    fn from(verdict: Option<Verdict>) -> Self {
        match verdict {
            Some(Verdict::Conforms) => Self::Conforms,
            Some(Verdict::Inconclusive) => Self::Inconclusive,
            Some(Verdict::DoesNotConform) => Self::DoesNotConform,
            None => Self::NotChecked,
        }
    }
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct LimitRecord {
    /// The limit's name in its table.
    pub(in crate::report) limit: String,
    pub(in crate::report) measurand: String,
    /// Which part, where the measurand speaks of several.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) part: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) edge: Option<String>,
    pub(in crate::report) verdict: CheckVerdict,
    /// The measured length, or the mounting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) mounting: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) uncertainty: Option<UncertaintyRecord>,
    /// The value that the limit is set around.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) nominal: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) lower: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) upper: Option<f64>,
    /// How far the value lies beyond the limits: negative below, positive
    /// above, zero within.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) beyond: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) probability_of_conformity: Option<f64>,
    /// The same length from other measurements, where it contradicts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) contradicted_by: Option<ContradictionRecord>,
    /// What would have to be measured.
    pub(in crate::report) missing: Vec<String>,
    pub(in crate::report) measured_at: Vec<InputRecord>,
    pub(in crate::report) limit_at: PlaceRecord,
    pub(in crate::report) source: Citation,
}

/// An uncertainty, in the unit of its value.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct UncertaintyRecord {
    pub(in crate::report) standard: f64,
    /// Effective degrees of freedom; left out where they are infinite.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) degrees_of_freedom: Option<f64>,
    pub(in crate::report) coverage_factor: f64,
    pub(in crate::report) expanded: f64,
    /// Which measured lengths the variance comes from, in percent of it.
    pub(in crate::report) contributions: Vec<ContributionRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct ContributionRecord {
    pub(in crate::report) quantity: String,
    pub(in crate::report) share: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct ContradictionRecord {
    pub(in crate::report) value: f64,
    pub(in crate::report) allowed_difference: f64,
    pub(in crate::report) measured_at: Vec<InputRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct InputRecord {
    pub(in crate::report) quantity: String,
    pub(in crate::report) value: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) edge: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) standard_uncertainty: Option<f64>,
    /// The readings that the value is the mean of, in mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) readings: Option<Vec<f64>>,
    pub(in crate::report) place: PlaceRecord,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct BandRecord {
    pub(in crate::report) band: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) verdict: Option<CheckVerdict>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) crest_to_crest_area: Option<f64>,
    /// Percent of the area out to the crests that is metal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) metal_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) metal_share_standard_uncertainty: Option<f64>,
    /// Free area of one bed, the mean where beds differ.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) mean_bed_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) nominal_free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) deviation: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) deviation_uncertainty: Option<UncertaintyRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) lower: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) upper: Option<f64>,
    /// Whether `lower` and `upper` were derived from the limits on lengths.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) bounds_derived: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) bounds_at: Option<PlaceRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) probability_of_conformity: Option<f64>,
    /// The deviation from the direct widths, where that leads to another
    /// verdict.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::report) contradicted_by: Option<f64>,
    /// What would have to be measured.
    pub(in crate::report) missing: Vec<String>,
    /// The measured lengths behind the deviation, largest share first.
    pub(in crate::report) drivers: Vec<DriverRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct DriverRecord {
    #[serde(flatten)]
    pub(in crate::report) input: InputRecord,
    pub(in crate::report) nominal: f64,
    /// Its part of the deviation, in percent of the nominal area.
    pub(in crate::report) share: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct SuspicionRecord {
    /// The wires and the edges that would fit.
    pub(in crate::report) redeclared: Vec<RedeclaredRecord>,
    pub(in crate::report) limits_met: usize,
    pub(in crate::report) limits_still_broken: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct RedeclaredRecord {
    pub(in crate::report) ring_wires: Vec<String>,
    pub(in crate::report) declared: String,
    pub(in crate::report) fitting: String,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct InvalidFileRecord {
    pub(in crate::report) file: String,
    pub(in crate::report) problems: Vec<DiagnosticRecord>,
    /// How many more problems there are than are listed.
    pub(in crate::report) unlisted: usize,
}
