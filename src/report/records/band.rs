//! A band's areas, its deviation and what is behind it.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::Of;
use super::diagnostic::DiagnosticRecord;
use super::diagnostic::PlaceRecord;
use super::limit::{InputRecord, MissingRecord, UncertaintyRecord};
use super::words::{BandWordRecord, CheckRecord};
use crate::board::Board;
use crate::conformity::{BandFinding, BandOutcome, BoundsOrigin, Margin, Margins};
use crate::geometry::Bed;
use crate::report::says::judged;
use crate::units::{Area, Percent};

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BandRecord {
    band: BandWordRecord,
    pub(super) verdict: Option<CheckRecord>,
    free_area: Option<f64>,
    apex_to_apex_area: Option<f64>,
    /// Percent of the area out to the apexes that is metal.
    metal_share: Option<f64>,
    metal_share_standard_uncertainty: Option<f64>,
    /// Free area of one bed, the mean where beds differ.
    mean_bed_area: Option<f64>,
    /// The free area of each bed, clockwise from the top, where beds differ.
    bed_areas: Option<Vec<f64>>,
    /// How far each deviates from the nominal bed, in percent.
    bed_deviations: Option<Vec<f64>>,
    nominal_free_area: Option<f64>,
    pub(super) deviation: Option<f64>,
    pub(super) deviation_uncertainty: Option<UncertaintyRecord>,
    pub(super) lower: Option<f64>,
    pub(super) upper: Option<f64>,
    /// Whether `lower` and `upper` were derived from the limits on lengths.
    bounds_derived: Option<bool>,
    bounds_at: Option<PlaceRecord>,
    /// Where the bounds move with wires that no limit is about: the
    /// uncertainty of the deviation less the lower bound, which decides.
    lower_margin_uncertainty: Option<UncertaintyRecord>,
    /// The same of the deviation less the upper bound.
    upper_margin_uncertainty: Option<UncertaintyRecord>,
    pub(super) probability_of_conformity: Option<f64>,
    /// The deviation from the direct widths, where that leads to another
    /// verdict.
    contradicted_by: Option<f64>,
    /// What the check lacks.
    missing: Vec<MissingRecord>,
    /// The measured lengths behind the deviation, the largest change first.
    /// Their shares need not add up to the deviation.
    drivers: Vec<DriverRecord>,
    /// What is to be said of it, unless it conforms or nothing limits it.
    pub(super) finding: Option<DiagnosticRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DriverRecord {
    #[serde(flatten)]
    input: InputRecord,
    nominal: f64,
    /// What of the deviation would vanish if this length alone were nominal,
    /// in percent of the nominal area.
    share: f64,
}

impl BandRecord {
    pub(super) fn of(finding: &BandFinding<'_>, board: &Board) -> Self {
        let (free, compared, missing) = match &finding.outcome {
            BandOutcome::NotComputable(missing) | BandOutcome::NotChecked(missing) => {
                (None, None, MissingRecord::all(missing))
            }
            BandOutcome::NoNominal(free) => (Some(&**free), None, Vec::new()),
            BandOutcome::Compared(compared) => (Some(&compared.free), Some(compared), Vec::new()),
        };
        let bounds = compared.and_then(|compared| compared.bounds);
        let given = bounds.and_then(|bounds| match bounds.origin {
            BoundsOrigin::Given(limit) => Some(&limit.place),
            BoundsOrigin::Derived => None,
        });
        let verdict = match &finding.outcome {
            BandOutcome::Compared(compared) => compared.verdict.map(|verdict| Some(verdict).into()),
            BandOutcome::NotChecked(_) => Some(CheckRecord::NotChecked),
            BandOutcome::NoNominal(_) | BandOutcome::NotComputable(_) => None,
        };
        let margins = compared.and_then(|compared| compared.margins.as_deref());
        let margin = |side: fn(&Margins) -> &Margin| {
            let margin = side(margins?);
            let u = margin.uncertainty?;
            Some(UncertaintyRecord::of(u, &margin.contributions, board))
        };
        let metal_u = free.and_then(|free| free.metal_uncertainty(&board.construction));
        let drivers = compared.iter().flat_map(|compared| &compared.drivers);
        Self {
            band: finding.band.into(),
            verdict,
            free_area: free.map(|free| free.area.free.as_mm2()),
            apex_to_apex_area: free.and_then(|free| free.area.apex_to_apex.map(Area::as_mm2)),
            metal_share: free.and_then(|free| free.area.metal_share().map(Percent::value)),
            metal_share_standard_uncertainty: metal_u.map(Percent::value),
            mean_bed_area: free.map(|free| free.area.mean_bed().as_mm2()),
            bed_areas: free.filter(|free| free.is_uneven()).map(|free| {
                let beds = free.area.beds.iter();
                beds.map(|bed| bed.free.as_mm2()).collect()
            }),
            bed_deviations: compared.filter(|band| band.free.is_uneven()).map(|band| {
                let beds = Bed::of_band(finding.band);
                let deviation = |bed| band.bed_deviation(bed).map(Percent::value);
                beds.filter_map(deviation).collect()
            }),
            nominal_free_area: compared.map(|compared| compared.nominal.as_mm2()),
            deviation: compared.map(|compared| compared.deviation.value()),
            deviation_uncertainty: compared.and_then(|compared| {
                let u = compared.uncertainty?;
                Some(UncertaintyRecord::of(u, &compared.contributions, board))
            }),
            lower: bounds.and_then(|bounds| bounds.lower.map(Percent::value)),
            upper: bounds.and_then(|bounds| bounds.upper.map(Percent::value)),
            bounds_derived: bounds.map(|_| given.is_none()),
            bounds_at: given.map(|at| PlaceRecord::in_document(&at.document, at.span)),
            lower_margin_uncertainty: margin(|margins| &margins.lower),
            upper_margin_uncertainty: margin(|margins| &margins.upper),
            probability_of_conformity: compared.and_then(|compared| compared.probability),
            contradicted_by: compared.and_then(|c| c.contradicted_by.map(Percent::value)),
            missing,
            drivers: drivers
                .filter_map(|driver| {
                    Some(DriverRecord {
                        input: InputRecord::of(driver.input, board)?,
                        nominal: driver.nominal.as_mm(),
                        share: driver.share.value(),
                    })
                })
                .collect(),
            finding: Of::of(&judged::band(finding, board)),
        }
    }
}
