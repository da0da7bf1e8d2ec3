//! What several people read, and what that gives cause to doubt.

use schemars::JsonSchema;
use serde::Serialize;
use serde_with::skip_serializing_none;

use super::diagnostic::PlaceRecord;
use crate::board::{Board, Input, ReadingApart, Taken, Taking};
use crate::measurement::JudgedBy;
use crate::report::says::people;

/// What one person read of a length; lengths in mm.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct TakingRecord {
    by: String,
    /// Year-month-day.
    date: Option<String>,
    /// The instrument's name; left out where it is not known which it was.
    instrument: Option<String>,
    readings: Vec<f64>,
    /// Their mean, with the instrument's correction.
    mean: f64,
    /// The weight in the value of the length; the weights add up to 1.
    weight: f64,
    /// The standard deviation of these readings, where there are several.
    standard_deviation: Option<f64>,
    /// The standard deviation of a single reading by which they were weighted.
    repeatability: Option<f64>,
    /// Its degrees of freedom; left out where it is taken as known.
    repeatability_degrees_of_freedom: Option<f64>,
}

/// A length on which people disagree.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct DisputeRecord {
    quantity: String,
    people: Vec<TakingRecord>,
    chi_square: f64,
    degrees_of_freedom: f64,
    /// The probability of such differences if people agreed.
    probability: f64,
    /// The same, corrected for the number of lengths that were tested.
    corrected_probability: f64,
    /// The expanded uncertainty of the value, in mm.
    expanded_uncertainty: Option<f64>,
    /// How many times as large it is because people disagree.
    widened: Option<f64>,
    place: PlaceRecord,
}

/// A reading that stands apart from the others of its length; lengths in mm.
#[skip_serializing_none]
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(super) struct ReadingApartRecord {
    quantity: String,
    by: Option<String>,
    /// Which of the readings, beginning with 1.
    reading: usize,
    value: f64,
    /// How far it lies from the mean of the others.
    distance: f64,
    /// Whether the only other reading may be wrong as well.
    or_the_other: bool,
    /// The probability of such a distance by the scatter of all others, where
    /// it was judged by that.
    probability: Option<f64>,
    /// What instrument and touch explain from one reading to the next, where it
    /// was judged by that.
    explained: Option<f64>,
    /// The same in words.
    words: String,
    place: PlaceRecord,
}

impl TakingRecord {
    pub(super) fn all(taken: &Taken, board: &Board) -> Vec<Self> {
        let record = |taking| Self::of(taking, board);
        taken.takings.iter().map(record).collect()
    }

    fn of(taking: &Taking, board: &Board) -> Self {
        let repeatability = taking.repeatability.as_ref();
        let degrees = repeatability.map(|found| found.degrees_of_freedom);
        Self {
            by: taking.by.clone(),
            date: taking.date.map(|day| day.to_string()),
            instrument: people::instrument(board, taking).map(str::to_owned),
            readings: taking.series.readings().to_vec(),
            mean: taking.value.as_mm(),
            weight: taking.weight,
            standard_deviation: taking.series.deviation(),
            repeatability: repeatability.map(|found| found.deviation),
            repeatability_degrees_of_freedom: degrees.filter(|degrees| degrees.is_finite()),
        }
    }
}

impl DisputeRecord {
    pub(super) fn of(input: &Input, taken: &Taken, board: &Board) -> Option<Self> {
        let agreement = taken.agreement.as_ref()?;
        let components = taken.components.as_ref();
        Some(Self {
            quantity: input.quantity.to_string(),
            people: TakingRecord::all(taken, board),
            chi_square: agreement.chi_square,
            degrees_of_freedom: agreement.degrees_of_freedom,
            probability: agreement.probability,
            corrected_probability: agreement.corrected,
            expanded_uncertainty: components.map(|of| of.coverage.expanded),
            widened: taken.widened(),
            place: PlaceRecord::in_document(&board.document, input.span),
        })
    }
}

impl ReadingApartRecord {
    pub(super) fn of(apart: &ReadingApart, board: &Board) -> Option<Self> {
        let input = board.construction.input(apart.input)?;
        let found = &apart.found;
        let (probability, explained) = match found.by {
            JudgedBy::Scatter { probability, .. } => (Some(probability), None),
            JudgedBy::Instrument { explained } => (None, Some(explained)),
        };
        Some(Self {
            quantity: input.quantity.to_string(),
            by: apart.by.clone(),
            reading: found.index + 1,
            value: found.value,
            distance: found.distance,
            or_the_other: found.or_the_other,
            probability,
            explained,
            words: people::how_far(found),
            place: PlaceRecord::in_document(&board.document, apart.span),
        })
    }
}
