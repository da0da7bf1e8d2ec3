//! The structure of the machine-readable report. The doc comments here become
//! the descriptions in its schema.

use schemars::JsonSchema;
use serde::Serialize;

use crate::conformity::{Drawn, Verdict};
use crate::table::Citation;

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TableRecord {
    /// What the table calls itself.
    pub(super) title: String,
    /// Where its numbers come from unless a limit says otherwise.
    pub(super) source: Citation,
    /// Its file, then the files that it extends.
    pub(super) files: Vec<FileRecord>,
    /// The decision rule in words.
    pub(super) decision_rule: String,
}

/// A file, and the SHA-256 digest of its bytes in hexadecimal.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct FileRecord {
    pub(super) file: String,
    pub(super) sha256: String,
}

/// A measuring instrument; lengths in mm.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct InstrumentRecord {
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) resolution: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) max_error: Option<f64>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) calibrated: Option<String>,
}

/// A place in a file. Lines and columns count from 1, columns in code points;
/// `start` and `end` are bytes; `pointer` is a JSON Pointer (RFC 6901).
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct PlaceRecord {
    pub(super) file: String,
    pub(super) line: usize,
    pub(super) column: usize,
    pub(super) start: usize,
    pub(super) end: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) pointer: Option<String>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BoardRecord {
    pub(super) file: String,
    /// The SHA-256 digest of the file's bytes in hexadecimal.
    pub(super) sha256: String,
    pub(super) id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) made: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) maker: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) serial: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) note: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) inspected_by: Option<String>,
    /// Year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) inspected: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) instrument: Option<InstrumentRecord>,
    pub(super) mounting: String,
    pub(super) profile: String,
    pub(super) verdict: Verdict,
    /// How many checks came out which way.
    pub(super) checks: TallyRecord,
    pub(super) limits: Vec<LimitRecord>,
    pub(super) bands: Vec<BandRecord>,
    /// Wires whose declared edge looks wrong.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) suspected_edge: Option<SuspicionRecord>,
    /// The bands beside the nominal board of another mounting, where that was
    /// asked for: no verdicts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) beside: Option<BesideRecord>,
    /// Uncertainties by Monte Carlo, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) monte_carlo: Option<SimulationRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BesideRecord {
    pub(super) mounting: String,
    pub(super) bands: Vec<BandRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct SimulationRecord {
    pub(super) draws: usize,
    pub(super) seed: u64,
    /// Area deviations and metal shares of bands, in percent.
    pub(super) bands: Vec<DrawnBandRecord>,
    /// Lengths of limits, in mm.
    pub(super) limits: Vec<DrawnLimitRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct DrawnBandRecord {
    pub(super) band: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) deviation: Option<DrawnRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) metal_share: Option<DrawnRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct DrawnLimitRecord {
    pub(super) limit: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) part: Option<String>,
    pub(super) value: DrawnRecord,
}

/// What draws came to; `low` to `high` hold the middle 95.45 %.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct DrawnRecord {
    pub(super) mean: f64,
    pub(super) standard_uncertainty: f64,
    pub(super) low: f64,
    pub(super) high: f64,
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
pub(super) struct TallyRecord {
    pub(super) conform: usize,
    pub(super) do_not_conform: usize,
    pub(super) inconclusive: usize,
    pub(super) not_checked: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum CheckVerdict {
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
pub(super) struct LimitRecord {
    /// The limit's name in its table.
    pub(super) limit: String,
    pub(super) measurand: String,
    /// Which part, where the measurand speaks of several.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) part: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) edge: Option<String>,
    pub(super) verdict: CheckVerdict,
    /// The measured length, or the mounting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) mounting: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) uncertainty: Option<UncertaintyRecord>,
    /// The value that the limit is set around.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) nominal: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) lower: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) upper: Option<f64>,
    /// How far the value lies beyond the limits: negative below, positive
    /// above, zero within.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) beyond: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) probability_of_conformity: Option<f64>,
    /// The same length from other measurements, where it contradicts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) contradicted_by: Option<ContradictionRecord>,
    /// What would have to be measured.
    pub(super) missing: Vec<String>,
    pub(super) measured_at: Vec<InputRecord>,
    pub(super) limit_at: PlaceRecord,
    pub(super) source: Citation,
}

/// An uncertainty, in the unit of its value.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct UncertaintyRecord {
    pub(super) standard: f64,
    /// Effective degrees of freedom; left out where they are infinite.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) degrees_of_freedom: Option<f64>,
    pub(super) coverage_factor: f64,
    pub(super) expanded: f64,
    /// Which measured lengths the variance comes from, in percent of it.
    pub(super) contributions: Vec<ContributionRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ContributionRecord {
    pub(super) quantity: String,
    pub(super) share: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ContradictionRecord {
    pub(super) value: f64,
    pub(super) allowed_difference: f64,
    pub(super) measured_at: Vec<InputRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct InputRecord {
    pub(super) quantity: String,
    pub(super) value: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) edge: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) standard_uncertainty: Option<f64>,
    /// The readings that the value is the mean of, in mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) readings: Option<Vec<f64>>,
    pub(super) place: PlaceRecord,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BandRecord {
    pub(super) band: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) verdict: Option<CheckVerdict>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) crest_to_crest_area: Option<f64>,
    /// Percent of the area out to the crests that is metal.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) metal_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) metal_share_standard_uncertainty: Option<f64>,
    /// Free area of one bed, the mean where beds differ.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) mean_bed_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) nominal_free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) deviation: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) deviation_uncertainty: Option<UncertaintyRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) lower: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) upper: Option<f64>,
    /// Whether `lower` and `upper` were derived from the limits on lengths.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) bounds_derived: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) bounds_at: Option<PlaceRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) probability_of_conformity: Option<f64>,
    /// The deviation from the direct widths, where that leads to another
    /// verdict.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) contradicted_by: Option<f64>,
    /// What would have to be measured.
    pub(super) missing: Vec<String>,
    /// The measured lengths behind the deviation, largest share first.
    pub(super) drivers: Vec<DriverRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct DriverRecord {
    #[serde(flatten)]
    pub(super) input: InputRecord,
    pub(super) nominal: f64,
    /// Its part of the deviation, in percent of the nominal area.
    pub(super) share: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct SuspicionRecord {
    /// The wires and the edges that would fit.
    pub(super) redeclared: Vec<RedeclaredRecord>,
    pub(super) limits_met: usize,
    pub(super) limits_still_broken: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct RedeclaredRecord {
    pub(super) ring_wires: Vec<String>,
    pub(super) declared: String,
    pub(super) fitting: String,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct RefusalRecord {
    pub(super) file: String,
    pub(super) problems: Vec<ProblemRecord>,
    /// How many more problems there are than are listed.
    pub(super) unlisted: usize,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ProblemRecord {
    pub(super) code: String,
    pub(super) message: String,
    pub(super) remedy: String,
    pub(super) place: PlaceRecord,
}
