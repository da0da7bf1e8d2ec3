//! A board and what was found on it, in every report on boards.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::band::BandRecord;
use super::limit::{LimitRecord, SourceRecord};
use super::people::{DisputeRecord, ReadingApartRecord};
use super::words::{
    BandWordRecord, EdgeRecord, MountingRecord, ProfileRecord, RingWireRecord, VerdictRecord,
};
use super::{DayRecord, Of};
use crate::board::{Band, MeasuringTemperature};
use crate::conformity::{Assessment, BandFinding, Drawn, Simulation, Suspicion, Tally};
use crate::table::{BuiltIn, Table};
use crate::units::{Expansion, Instrument, Uncertainty};

#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct TableRecord {
    /// What the table calls itself.
    title: String,
    /// Where its numbers come from unless a limit says otherwise.
    source: SourceRecord,
    /// Its file, then the files that it extends.
    files: Vec<FileRecord>,
    /// The decision rule in words.
    decision_rule: String,
}

/// A file, and the SHA-256 digest of its bytes in hexadecimal.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FileRecord {
    file: String,
    sha256: String,
    /// The version of Ringrule that a built-in table came with.
    #[serde(skip_serializing_if = "Option::is_none")]
    built_in: Option<&'static str>,
}

records! {
    /// A measuring instrument; lengths in mm.
    InstrumentRecord of Instrument {
        name: Option<String>,
        resolution: Option<f64>,
        max_error: Option<f64>,
        certificate: Option<String>,
        calibrated: Option<DayRecord>,
        due: Option<DayRecord>,
    }

    TallyRecord of Tally {
        conform: usize,
        do_not_conform: usize,
        inconclusive: usize,
        not_checked: usize,
    }
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(in crate::report) struct BoardRecord {
    pub(super) file: String,
    /// The SHA-256 digest of the file's bytes in hexadecimal.
    sha256: String,
    pub(super) id: String,
    /// What people call it, or else its venue and position.
    name: Option<String>,
    pub(super) venue: Option<String>,
    /// Where in the venue it hangs.
    pub(super) position: Option<String>,
    made: Option<u16>,
    maker: Option<String>,
    serial: Option<String>,
    note: Option<String>,
    pub(super) inspected_by: Option<String>,
    /// Year-month-day.
    pub(super) inspected: Option<String>,
    /// At which temperature it was measured.
    temperature: Option<TemperatureRecord>,
    instruments: Vec<InstrumentRecord>,
    mounting: MountingRecord,
    profile: ProfileRecord,
    /// That the board meets all limits that were checked, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    probability_of_conformity: Option<f64>,
    pub(super) verdict: VerdictRecord,
    /// Readings that stand apart from the others of their length.
    readings_apart: Vec<ReadingApartRecord>,
    /// Lengths on which people disagree.
    disputes: Vec<DisputeRecord>,
    /// How many checks came out which way.
    checks: TallyRecord,
    pub(super) limits: Vec<LimitRecord>,
    pub(super) bands: Vec<BandRecord>,
    /// Wires whose declared edge looks wrong.
    suspected_edge: Option<SuspicionRecord>,
    /// The bands against the nominal board of another mounting, where that was
    /// asked for: no verdicts.
    beside: Option<BesideRecord>,
    /// Uncertainties by Monte Carlo, where that was asked for.
    monte_carlo: Option<SimulationRecord>,
}

/// The temperature of measurement in °C, and how lengths expand, 1/K;
/// uncertainties are standard ones.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct TemperatureRecord {
    celsius: f64,
    /// In K; left out where it is not stated.
    standard_uncertainty: Option<f64>,
    /// The board's coefficient; left out where the file gives none, and lengths
    /// are those at the temperature of measurement.
    expansion: Option<f64>,
    expansion_standard_uncertainty: Option<f64>,
    /// That of the instruments.
    instrument_expansion: Option<f64>,
    instrument_expansion_standard_uncertainty: Option<f64>,
    /// What every measured length was multiplied by to give that at 20 °C.
    factor: f64,
}

impl From<&MeasuringTemperature> for TemperatureRecord {
    fn from(of: &MeasuringTemperature) -> Self {
        let stated = |u: Uncertainty| Some(u.standard()).filter(|u| *u > 0.0);
        let value = |of: Option<Expansion>| of.map(|of| of.per_kelvin);
        let known = |of: Option<Expansion>| of.and_then(|of| stated(of.uncertainty));
        Self {
            celsius: of.at.as_celsius(),
            standard_uncertainty: stated(of.uncertainty),
            expansion: value(of.expansion),
            expansion_standard_uncertainty: known(of.expansion),
            instrument_expansion: value(of.of_instruments),
            instrument_expansion_standard_uncertainty: known(of.of_instruments),
            factor: of.factor(),
        }
    }
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct BesideRecord {
    mounting: MountingRecord,
    bands: Vec<BandRecord>,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SuspicionRecord {
    /// The wires and the edges that would fit.
    redeclared: Vec<RedeclaredRecord>,
    limits_met: usize,
    limits_still_broken: usize,
    /// How many times more likely the measured lengths are at the edges that
    /// would fit than at those declared.
    likelihood_ratio: f64,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct RedeclaredRecord {
    ring_wires: Vec<RingWireRecord>,
    declared: EdgeRecord,
    fitting: EdgeRecord,
}

#[derive(Clone, Debug, Serialize, JsonSchema)]
struct SimulationRecord {
    draws: usize,
    seed: u64,
    /// Area deviations and metal shares of bands, in percent.
    bands: Vec<DrawnBandRecord>,
    /// Lengths of limits, in mm.
    limits: Vec<DrawnLimitRecord>,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DrawnBandRecord {
    band: BandWordRecord,
    deviation: Option<DrawnRecord>,
    metal_share: Option<DrawnRecord>,
}

#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DrawnLimitRecord {
    limit: String,
    part: Option<String>,
    value: DrawnRecord,
}

/// What draws came to; `low` to `high` hold the middle 95.45 %.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct DrawnRecord {
    mean: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    standard_uncertainty: Option<f64>,
    low: f64,
    high: f64,
}

impl From<&Table> for TableRecord {
    /// With the digests of its files.
    fn from(table: &Table) -> Self {
        let documents = table.documents.iter();
        Self {
            title: table.title.clone(),
            source: Of::of(&table.source),
            files: documents
                .map(|document| FileRecord {
                    file: document.source.name().to_owned(),
                    sha256: document.source.sha256(),
                    built_in: BuiltIn::of_source(document.source.name()).map(|_| BuiltIn::VERSION),
                })
                .collect(),
            decision_rule: table.decision.to_string(),
        }
    }
}

impl From<&Assessment<'_>> for BoardRecord {
    fn from(assessment: &Assessment<'_>) -> Self {
        let board = assessment.board;
        let inspection = board.inspection.as_ref();
        let limits = assessment.limits.iter();
        let bands = |bands: &[BandFinding<'_>]| -> Vec<BandRecord> {
            let record = |finding| BandRecord::of(finding, board);
            bands.iter().map(record).collect()
        };
        Self {
            file: board.document.source.name().to_owned(),
            sha256: board.document.source.sha256(),
            venue: board.venue.clone(),
            position: board.position.clone(),
            made: board.made,
            maker: board.maker.clone(),
            serial: board.serial.clone(),
            note: board.note.clone(),
            inspected_by: inspection.and_then(|inspection| inspection.by.clone()),
            inspected: inspection.and_then(|inspection| Some(inspection.date?.to_string())),
            temperature: board.temperature.as_ref().map(Into::into),
            instruments: Of::of(&board.instruments),
            id: board.id.clone(),
            name: board.hangs(),
            mounting: board.construction.mounting.into(),
            profile: board.construction.profile.into(),
            verdict: assessment.verdict.into(),
            readings_apart: board
                .apart
                .iter()
                .filter_map(|apart| ReadingApartRecord::of(apart, board))
                .collect(),
            disputes: board
                .disputes()
                .filter_map(|(input, taken)| DisputeRecord::of(input, taken, board))
                .collect(),
            probability_of_conformity: assessment.probability(),
            checks: Of::of(&assessment.tally()),
            limits: limits
                .map(|finding| LimitRecord::of(finding, board))
                .collect(),
            bands: bands(&assessment.bands),
            suspected_edge: assessment.suspicion.as_ref().map(Into::into),
            beside: assessment.against.as_ref().map(|against| BesideRecord {
                mounting: against.mounting.into(),
                bands: bands(&against.bands),
            }),
            monte_carlo: assessment
                .simulation
                .as_ref()
                .map(|simulation| SimulationRecord::of(simulation, assessment)),
        }
    }
}

impl From<&Suspicion> for SuspicionRecord {
    fn from(suspicion: &Suspicion) -> Self {
        let steps = suspicion.redeclared.iter();
        Self {
            redeclared: steps
                .map(|step| RedeclaredRecord {
                    ring_wires: step.rings.iter().map(|&ring| ring.into()).collect(),
                    declared: step.declared.into(),
                    fitting: step.fitting.into(),
                })
                .collect(),
            limits_met: suspicion.cured,
            limits_still_broken: suspicion.left,
            likelihood_ratio: suspicion.likelihood_ratio,
        }
    }
}

impl SimulationRecord {
    fn of(simulation: &Simulation, assessment: &Assessment<'_>) -> Self {
        let bands = Band::ALL.map(|band| DrawnBandRecord {
            band: band.into(),
            deviation: simulation.deviations[band].map(Into::into),
            metal_share: simulation.metal_shares[band].map(Into::into),
        });
        let limits = assessment.limits.iter().zip(&simulation.lengths);
        Self {
            draws: simulation.draws,
            seed: simulation.seed,
            bands: bands.into(),
            limits: limits
                .filter_map(|(finding, drawn)| {
                    Some(DrawnLimitRecord {
                        limit: finding.limit.name.clone(),
                        part: finding.part.map(crate::conformity::WirePart::name),
                        value: (*drawn)?.into(),
                    })
                })
                .collect(),
        }
    }
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
