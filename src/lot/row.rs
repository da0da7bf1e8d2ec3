//! The few numbers that are kept of one judged board.

use super::data::LotBoard;
use super::noise::independent_variance;
use crate::board::{Band, Linear};
use crate::conformity::{Assessment, BandOutcome, ComparedBand, Outcome, WirePart};
use crate::table::{Demand, Limit};
use crate::units::{Length, Percent};

/// What a production run keeps of one board; the board itself can go.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct BoardRow {
    /// Which board it is.
    pub board: LotBoard,
    /// Its values, in the order of the table.
    pub values: Vec<RowValue>,
}

/// One value of one board, or that there should be one.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct RowValue {
    pub(super) of: Of,
    /// In mm or percent; `None` of what the board did not record.
    pub value: Option<f64>,
    /// The variance of the measurement that is independent from board to board, in
    /// the square of the value's unit.
    pub noise: f64,
    /// Whether every length behind the value states an uncertainty.
    pub has_uncertainty: bool,
    /// The least and the greatest value that conform on this board.
    pub limits: (Option<f64>, Option<f64>),
}

/// What a value is of.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) enum Of {
    Limit(String, Option<WirePart>),
    Band(Band),
}

impl BoardRow {
    /// What matters of a judged board.
    pub fn of(assessment: &Assessment<'_>) -> Self {
        let board = assessment.board;
        let inspection = board.inspection.as_ref();
        let mut values = Vec::new();
        for finding in &assessment.limits {
            let of = |part| Of::Limit(finding.limit.name.clone(), part);
            match &finding.outcome {
                Outcome::Length(length) => {
                    let mm = |end: Option<Length>| end.map(Length::as_mm);
                    let limits = (mm(length.interval.lower), mm(length.interval.upper));
                    let value = length.value.as_mm();
                    values.push(taken(
                        of(finding.part),
                        value,
                        &length.form,
                        limits,
                        assessment,
                    ));
                }
                Outcome::NotChecked(_) if is_length(finding.limit) => {
                    values.push(RowValue::lacking(of(None)));
                }
                _ => {}
            }
        }
        for finding in &assessment.bands {
            match &finding.outcome {
                BandOutcome::Compared(band) => values.push(area(finding.band, band, assessment)),
                BandOutcome::NotComputable(_) | BandOutcome::NotChecked(_) => {
                    values.push(RowValue::lacking(Of::Band(finding.band)));
                }
                BandOutcome::NoNominal(_) => {}
            }
        }
        Self {
            board: LotBoard {
                id: board.id.clone(),
                file: board.document.source.name().to_owned(),
                made: board.made,
                inspected: inspection.and_then(|inspection| inspection.date),
            },
            values,
        }
    }
}

const fn is_length(limit: &Limit) -> bool {
    matches!(limit.demand, Demand::Within(_))
}

fn area(band: Band, compared: &ComparedBand<'_>, assessment: &Assessment<'_>) -> RowValue {
    let nominal = compared.nominal.as_mm2();
    let slopes = Linear::default().plus(100.0 / nominal, &compared.free.slopes());
    let bounds = compared.bounds;
    let lower = bounds.and_then(|own| own.lower).map(Percent::value);
    let upper = bounds.and_then(|own| own.upper).map(Percent::value);
    let value = compared.deviation.value();
    taken(Of::Band(band), value, &slopes, (lower, upper), assessment)
}

fn taken(
    of: Of,
    value: f64,
    form: &Linear,
    limits: (Option<f64>, Option<f64>),
    assessment: &Assessment<'_>,
) -> RowValue {
    let (noise, has_uncertainty) = independent_variance(form, &assessment.construction.inputs);
    RowValue {
        of,
        value: Some(value),
        noise,
        has_uncertainty,
        limits,
    }
}

impl RowValue {
    const fn lacking(of: Of) -> Self {
        Self {
            of,
            value: None,
            noise: 0.0,
            has_uncertainty: false,
            limits: (None, None),
        }
    }

    /// Whether the value is outside its limits as measured; a hair of what
    /// arithmetic leaves is not.
    pub(super) fn is_outside(&self) -> bool {
        let hair = |limit: f64| 1e-10 * limit.abs().max(1.0);
        let (Some(value), (lower, upper)) = (self.value, self.limits) else {
            return false;
        };
        lower.is_some_and(|lower| value < lower - hair(lower))
            || upper.is_some_and(|upper| value > upper + hair(upper))
    }
}
