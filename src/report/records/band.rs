//! A band's areas, its deviation and what is behind it.

use schemars::JsonSchema;
use serde::Serialize;

use super::limit::{InputRecord, MissingRecord, UncertaintyRecord};
use super::place::PlaceRecord;
use super::words::{BandWordRecord, CheckRecord};
use crate::board::Board;
use crate::conformity::{BandFinding, BandOutcome, BoundsOrigin, ComparedBand, Driver, FreeArea};
use crate::units::{Area, Percent};

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct BandRecord {
    band: BandWordRecord,
    #[serde(skip_serializing_if = "Option::is_none")]
    verdict: Option<CheckRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    apex_to_apex_area: Option<f64>,
    /// Percent of the area out to the apexes that is metal.
    #[serde(skip_serializing_if = "Option::is_none")]
    metal_share: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    metal_share_standard_uncertainty: Option<f64>,
    /// Free area of one bed, the mean where beds differ.
    #[serde(skip_serializing_if = "Option::is_none")]
    mean_bed_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    nominal_free_area: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    deviation: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    deviation_uncertainty: Option<UncertaintyRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    lower: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    upper: Option<f64>,
    /// Whether `lower` and `upper` were derived from the limits on lengths.
    #[serde(skip_serializing_if = "Option::is_none")]
    bounds_derived: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bounds_at: Option<PlaceRecord>,
    #[serde(skip_serializing_if = "Option::is_none")]
    probability_of_conformity: Option<f64>,
    /// The deviation from the direct widths, where that leads to another
    /// verdict.
    #[serde(skip_serializing_if = "Option::is_none")]
    contradicted_by: Option<f64>,
    /// What the check lacks.
    missing: Vec<MissingRecord>,
    /// The measured lengths behind the deviation, largest share first.
    drivers: Vec<DriverRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DriverRecord {
    #[serde(flatten)]
    input: InputRecord,
    nominal: f64,
    /// Its part of the deviation, in percent of the nominal area.
    share: f64,
}

impl BandRecord {
    pub(super) fn of(finding: &BandFinding<'_>, board: &Board) -> Self {
        let mut record = Self {
            band: finding.band.into(),
            verdict: None,
            free_area: None,
            apex_to_apex_area: None,
            metal_share: None,
            metal_share_standard_uncertainty: None,
            mean_bed_area: None,
            nominal_free_area: None,
            deviation: None,
            deviation_uncertainty: None,
            lower: None,
            upper: None,
            bounds_derived: None,
            bounds_at: None,
            probability_of_conformity: None,
            contradicted_by: None,
            missing: Vec::new(),
            drivers: Vec::new(),
        };
        match &finding.outcome {
            BandOutcome::NotChecked(missing) => {
                record.verdict = Some(CheckRecord::NotChecked);
                record.missing = MissingRecord::all(missing);
            }
            BandOutcome::NoNominal(free) => record.areas(free, board),
            BandOutcome::Compared(compared) => record.compared(compared, board),
        }
        record
    }

    fn areas(&mut self, free: &FreeArea, board: &Board) {
        let area = &free.area;
        self.free_area = Some(area.free.as_mm2());
        self.apex_to_apex_area = area.apex_to_apex.map(Area::as_mm2);
        self.metal_share = area.metal_share().map(Percent::value);
        let metal_u = free.metal_uncertainty(&board.construction);
        self.metal_share_standard_uncertainty = metal_u.map(Percent::value);
        self.mean_bed_area = Some(area.mean_bed().as_mm2());
    }

    fn compared(&mut self, compared: &ComparedBand<'_>, board: &Board) {
        self.areas(&compared.free, board);
        self.verdict = compared.verdict.map(|verdict| Some(verdict).into());
        self.nominal_free_area = Some(compared.nominal.as_mm2());
        self.deviation = Some(compared.deviation.value());
        let u = compared.uncertainty;
        self.deviation_uncertainty =
            u.map(|u| UncertaintyRecord::of(u, &compared.contributions, board));
        self.probability_of_conformity = compared.probability;
        self.contradicted_by = compared.contradicted_by.map(Percent::value);
        if let Some(bounds) = compared.bounds {
            self.lower = bounds.lower.map(Percent::value);
            self.upper = bounds.upper.map(Percent::value);
            self.bounds_derived = Some(matches!(bounds.origin, BoundsOrigin::Derived));
            if let BoundsOrigin::Given(limit) = bounds.origin {
                let place = &limit.place;
                self.bounds_at = Some(PlaceRecord::in_document(&place.document, place.span));
            }
        }
        let driver = |driver: &Driver| {
            Some(DriverRecord {
                input: InputRecord::of(driver.input, board)?,
                nominal: driver.nominal.as_mm(),
                share: driver.share.value(),
            })
        };
        self.drivers = compared.drivers.iter().filter_map(driver).collect();
    }
}
