//! The machine-readable report, `ringrule/findings/1`.

use std::sync::LazyLock;

use schemars::JsonSchema;
use serde::Serialize;

use crate::board::{Band, Basis, Board, Contribution, InputId};
use crate::conformity::{
    Assessment, BandFinding, BandOutcome, BoundsOrigin, LimitFinding, Outcome, Simulation,
};
use crate::document::{InvalidFile, Passage, Shape};
use crate::report::escape;
use crate::report::records::diagnostic::{DiagnosticRecord, LevelRecord, RelatedRecord};
use crate::report::records::finding_records::{
    BandRecord, BesideRecord, BoardRecord, CheckVerdict, ContradictionRecord, ContributionRecord,
    DrawnBandRecord, DrawnLimitRecord, DriverRecord, FileRecord, InputRecord, InstrumentRecord,
    InvalidFileRecord, LimitRecord, RedeclaredRecord, SimulationRecord, SuspicionRecord,
    TableRecord, TallyRecord, UncertaintyRecord,
};
use crate::report::records::place::PlaceRecord;
use crate::table::{Demand, Table};
use crate::units::{Area, Length, Percent, Uncertainty};

/// The shape of the report, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<FindingsReport>("Findings on boards, from Ringrule"));
    &SHAPE
}

/// Findings on boards. Lengths are in mm, areas in mm², deviations in percent,
/// probabilities from 0 to 1. Keys without a value are left out; lists are there
/// even when empty.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct FindingsReport {
    /// `ringrule/findings/1`.
    format: String,
    /// The table that the boards were checked against.
    #[serde(skip_serializing_if = "Option::is_none")]
    table: Option<TableRecord>,
    /// The boards, in the order of the run.
    boards: Vec<BoardRecord>,
    /// Files that could not be used.
    refused: Vec<InvalidFileRecord>,
}

impl FindingsReport {
    /// A report that boards and invalid files are still to be added to.
    /// Without a table, one that could not be read is among the invalid files.
    pub fn new(table: Option<&Table>) -> Self {
        Self {
            format: "ringrule/findings/1".to_owned(),
            table: table.map(self::table),
            boards: Vec::new(),
            refused: Vec::new(),
        }
    }

    /// Adds a board.
    pub fn add(&mut self, assessment: &Assessment<'_>) {
        self.boards.push(board(assessment));
    }

    /// Adds a file that could not be used.
    pub fn refuse(&mut self, invalid_file: &InvalidFile) {
        self.refused.push(InvalidFileRecord {
            file: invalid_file.file.name().to_owned(),
            unlisted: invalid_file.unlisted,
            problems: invalid_file
                .problems
                .iter()
                .map(|problem| DiagnosticRecord {
                    code: problem.fault.code().to_owned(),
                    level: LevelRecord::Error,
                    message: problem.message.clone(),
                    remedy: Some(problem.remedy.clone()),
                    place: PlaceRecord::in_text(&invalid_file.file, problem.span),
                    related: problem
                        .related
                        .iter()
                        .map(|(span, label)| RelatedRecord {
                            label: label.clone(),
                            place: PlaceRecord::in_text(&invalid_file.file, *span),
                        })
                        .collect(),
                })
                .collect(),
        });
    }

    /// The report as one JSON document.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        let mut text = escape::json(&serde_json::to_string_pretty(self)?).into_owned();
        text.push('\n');
        Ok(text)
    }
}

fn table_place(place: &Passage) -> PlaceRecord {
    PlaceRecord::in_document(&place.document, place.span)
}

/// A table, with the digests of its files.
pub(in crate::report) fn table(table: &Table) -> TableRecord {
    let documents = table.documents.iter();
    TableRecord {
        title: table.title.clone(),
        source: table.source.clone(),
        files: documents
            .map(|document| FileRecord {
                file: document.source.name().to_owned(),
                sha256: document.source.sha256(),
            })
            .collect(),
        decision_rule: table.decision.to_string(),
    }
}

pub(in crate::report) fn board(assessment: &Assessment<'_>) -> BoardRecord {
    let board = assessment.board;
    let tally = assessment.tally();
    let inspection = board.inspection.as_ref();
    BoardRecord {
        file: board.document.source.name().to_owned(),
        sha256: board.document.source.sha256(),
        made: board.made,
        maker: board.maker.clone(),
        serial: board.serial.clone(),
        note: board.note.clone(),
        inspected_by: inspection.and_then(|inspection| inspection.by.clone()),
        inspected: inspection.and_then(|inspection| Some(inspection.date?.to_string())),
        instrument: board
            .instrument
            .as_ref()
            .map(|instrument| InstrumentRecord {
                name: instrument.name.clone(),
                resolution: instrument.resolution.map(Length::as_mm),
                max_error: instrument.max_error.map(Length::as_mm),
                calibrated: instrument.calibrated.map(|day| day.to_string()),
            }),
        id: board.id.clone(),
        name: board.name.clone(),
        mounting: board.construction.mounting.to_string(),
        profile: board.construction.profile.to_string(),
        verdict: assessment.verdict,
        checks: TallyRecord {
            conform: tally.conform,
            do_not_conform: tally.do_not_conform,
            inconclusive: tally.inconclusive,
            not_checked: tally.not_checked,
        },
        limits: assessment
            .limits
            .iter()
            .map(|finding| limit(finding, board))
            .collect(),
        bands: assessment
            .bands
            .iter()
            .map(|finding| band(finding, board))
            .collect(),
        suspected_edge: assessment
            .suspicion
            .as_ref()
            .map(|suspicion| SuspicionRecord {
                redeclared: suspicion
                    .redeclared
                    .iter()
                    .map(|step| RedeclaredRecord {
                        ring_wires: step
                            .rings
                            .iter()
                            .map(|ring| ring.key().to_owned())
                            .collect(),
                        declared: step.declared.to_string(),
                        fitting: step.fitting.to_string(),
                    })
                    .collect(),
                limits_met: suspicion.cured,
                limits_still_broken: suspicion.left,
            }),
        beside: assessment.against.as_ref().map(|against| BesideRecord {
            mounting: against.mounting.to_string(),
            bands: against
                .bands
                .iter()
                .map(|finding| band(finding, board))
                .collect(),
        }),
        monte_carlo: assessment
            .simulation
            .as_ref()
            .map(|simulation| monte_carlo(simulation, assessment)),
    }
}

fn monte_carlo(simulation: &Simulation, assessment: &Assessment<'_>) -> SimulationRecord {
    let bands = Band::ALL.map(|band| DrawnBandRecord {
        band: band.key().to_owned(),
        deviation: simulation.deviations[band].map(Into::into),
        metal_share: simulation.metal_shares[band].map(Into::into),
    });
    let limits = assessment.limits.iter().zip(&simulation.lengths);
    SimulationRecord {
        draws: simulation.draws,
        seed: simulation.seed,
        bands: bands.into(),
        limits: limits
            .filter_map(|(finding, drawn)| {
                Some(DrawnLimitRecord {
                    limit: finding.limit.name.clone(),
                    part: (!finding.part.is_empty()).then(|| finding.part.clone()),
                    value: (*drawn)?.into(),
                })
            })
            .collect(),
    }
}

fn inputs(ids: &[InputId], board: &Board) -> Vec<InputRecord> {
    ids.iter().filter_map(|&id| input(id, board)).collect()
}

fn input(id: InputId, board: &Board) -> Option<InputRecord> {
    let input = board.construction.input(id)?;
    Some(InputRecord {
        quantity: input.quantity.to_string(),
        value: input.value.as_mm(),
        edge: input.edge.map(|edge| edge.to_string()),
        standard_uncertainty: input.uncertainty.map(|u| u.standard),
        readings: match &input.basis {
            Basis::Readings { series, .. } => Some(series.readings().to_vec()),
            _ => None,
        },
        place: PlaceRecord::in_document(&board.document, input.span),
    })
}

fn uncertainty(
    uncertainty: Uncertainty,
    contributions: &[Contribution],
    board: &Board,
) -> UncertaintyRecord {
    let coverage = uncertainty.expanded();
    let degrees = uncertainty.degrees_of_freedom;
    UncertaintyRecord {
        standard: uncertainty.standard,
        degrees_of_freedom: degrees.is_finite().then_some(degrees),
        coverage_factor: coverage.factor,
        expanded: coverage.expanded,
        contributions: contributions
            .iter()
            .filter_map(|contribution| {
                Some(ContributionRecord {
                    quantity: board
                        .construction
                        .input(contribution.input)?
                        .quantity
                        .to_string(),
                    share: contribution.share.value(),
                })
            })
            .collect(),
    }
}

fn limit(finding: &LimitFinding<'_>, board: &Board) -> LimitRecord {
    let limit = finding.limit;
    let interval = match &limit.demand {
        Demand::Within(interval) => Some(interval),
        Demand::OneOf(_) => None,
    };
    let mut record = LimitRecord {
        limit: limit.name.clone(),
        measurand: limit.measurand.key().to_owned(),
        part: (!finding.part.is_empty()).then(|| finding.part.clone()),
        edge: limit.edge.map(|edge| edge.to_string()),
        verdict: finding.outcome.verdict().into(),
        value: None,
        mounting: None,
        uncertainty: None,
        nominal: limit.nominal.map(Length::as_mm),
        lower: interval.and_then(|interval| interval.lower.map(Length::as_mm)),
        upper: interval.and_then(|interval| interval.upper.map(Length::as_mm)),
        beyond: None,
        probability_of_conformity: None,
        contradicted_by: None,
        missing: Vec::new(),
        measured_at: Vec::new(),
        limit_at: table_place(&limit.place),
        source: limit.source.clone(),
    };
    match &finding.outcome {
        Outcome::Length(length) => {
            record.value = Some(length.value.as_mm());
            record.uncertainty = length
                .uncertainty
                .map(|u| uncertainty(u, &length.contributions, board));
            record.beyond = Some(length.excess.as_mm());
            record.probability_of_conformity = length.decided.probability;
            record.measured_at = inputs(&length.inputs, board);
            record.contradicted_by =
                length
                    .contradiction
                    .as_ref()
                    .map(|other| ContradictionRecord {
                        value: other.other.as_mm(),
                        allowed_difference: other.allowed.as_mm(),
                        measured_at: inputs(&other.inputs, board),
                    });
        }
        Outcome::Mounting { found, .. } => record.mounting = Some(found.to_string()),
        Outcome::NotChecked(missing) => record.missing.clone_from(missing),
    }
    record
}

fn band(finding: &BandFinding<'_>, board: &Board) -> BandRecord {
    let mut record = BandRecord {
        band: finding.band.key().to_owned(),
        verdict: None,
        free_area: None,
        crest_to_crest_area: None,
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
    let free = match &finding.outcome {
        BandOutcome::NotChecked(missing) => {
            record.verdict = Some(CheckVerdict::NotChecked);
            record.missing.clone_from(missing);
            return record;
        }
        BandOutcome::NoNominal(free) => free.as_ref(),
        BandOutcome::Compared(compared) => {
            record.verdict = compared.verdict.map(|verdict| Some(verdict).into());
            record.nominal_free_area = Some(compared.nominal.as_mm2());
            record.deviation = Some(compared.deviation.value());
            record.deviation_uncertainty = compared
                .uncertainty
                .map(|u| uncertainty(u, &compared.contributions, board));
            record.probability_of_conformity = compared.probability;
            record.contradicted_by = compared.contradicted_by.map(Percent::value);
            if let Some(bounds) = compared.bounds {
                record.lower = bounds.lower.map(Percent::value);
                record.upper = bounds.upper.map(Percent::value);
                record.bounds_derived = Some(matches!(bounds.origin, BoundsOrigin::Derived));
                if let BoundsOrigin::Given(limit) = bounds.origin {
                    record.bounds_at = Some(table_place(&limit.place));
                }
            }
            let drivers = compared.drivers.iter();
            record.drivers = drivers
                .filter_map(|driver| {
                    Some(DriverRecord {
                        input: input(driver.input, board)?,
                        nominal: driver.nominal.as_mm(),
                        share: driver.share.value(),
                    })
                })
                .collect();
            &compared.free
        }
    };
    let area = &free.area;
    record.free_area = Some(area.free.as_mm2());
    record.crest_to_crest_area = area.crest_to_crest.map(Area::as_mm2);
    record.metal_share = area.metal_share().map(Percent::value);
    let metal_u = free.metal_uncertainty(&board.construction);
    record.metal_share_standard_uncertainty = metal_u.map(Percent::value);
    record.mean_bed_area = Some(area.mean_bed().as_mm2());
    record
}
