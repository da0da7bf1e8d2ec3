//! One item from everybody who measured it.

use super::agreement::{Agreement, Measurement, Shared, shared_agreement};
use super::sheet::{Entry, EntryValue, Sheet};
use crate::document::InvalidFile;
use crate::units::{Instrument, Length, Series, Uncertainty, WireSize};

/// What to do when people disagree by more than their uncertainties.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OnDisagreement {
    /// Make no board file.
    #[default]
    Refuse,
    /// Multiply the uncertainty by the Birge ratio, and say so.
    Widen,
}

/// The value of a pooled item.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum PooledValue {
    /// A gauge that everybody named.
    Gauge(WireSize),
    /// A length.
    Length {
        /// The weighted value, in mm.
        value: f64,
        /// Its uncertainty, in mm; `None` if somebody's is not known.
        uncertainty: Option<Uncertainty>,
        /// What each person contributed.
        readings: Vec<Reading>,
        /// How well they agree, where that can be tested.
        agreement: Option<Agreement>,
        /// The factor by which the uncertainty was widened.
        widened: Option<f64>,
    },
}

/// One person's evaluation of an item.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Reading {
    /// Who.
    pub inspector: String,
    /// The readings.
    pub series: Series,
    /// Type A and type B together, in mm.
    pub uncertainty: Option<Uncertainty>,
    /// The part that another person's readings do not share, in mm: scatter
    /// and resolution.
    own: Option<Uncertainty>,
    /// The part from the instrument's permissible error, in mm.
    error: f64,
    /// Which instrument: readings with one instrument share its error.
    instrument: usize,
}

pub(super) fn value(
    entries: &[(&Sheet, &Entry)],
    instruments: &[Instrument],
    on: OnDisagreement,
) -> Result<PooledValue, Box<InvalidFile>> {
    let mut gauge: Option<WireSize> = None;
    let mut readings = Vec::new();
    for (sheet, entry) in entries {
        match &entry.value {
            EntryValue::Gauge(size) => {
                if gauge.is_some_and(|known| known != *size) {
                    return Err(Box::new(sheet.fault(
                        entry.span,
                        &format!("{size} was found here, another gauge in another sheet"),
                        "measure the wire's thickness instead",
                    )));
                }
                gauge = Some(*size);
            }
            EntryValue::Readings(series) => readings.push(reading(sheet, series, instruments)),
        }
        if gauge.is_some() && !readings.is_empty() {
            return Err(Box::new(sheet.fault(
                entry.span,
                "one sheet has a gauge here and another a thickness",
                "give the thickness in all of them, or the gauge in all",
            )));
        }
    }
    Ok(match gauge {
        Some(size) => PooledValue::Gauge(size),
        None => length(readings, on),
    })
}

fn reading(sheet: &Sheet, series: &Series, instruments: &[Instrument]) -> Reading {
    let step = sheet.instrument.resolution.map_or(0.0, Length::as_mm);
    let resolution = sheet.instrument.resolution_part();
    let error = sheet.instrument.error_part();
    let own = series
        .type_a()
        .into_iter()
        .chain(resolution.map(Uncertainty::finite));
    let own: Vec<_> = own.map(|u| (1.0, u)).collect();
    let all = own
        .iter()
        .copied()
        .chain(error.map(|u| (1.0, Uncertainty::finite(u))));
    let all: Vec<_> = all.collect();
    let combined = |parts: Vec<(f64, Uncertainty)>| {
        let u = Uncertainty::combined(parts);
        (u.standard() > 0.0).then_some(u)
    };
    Reading {
        inspector: sheet.inspector.clone(),
        series: series.clone().with_step(step),
        uncertainty: combined(all),
        own: combined(own),
        error: error.unwrap_or(0.0),
        instrument: shared(&sheet.instrument, instruments),
    }
}

/// Which instrument a sheet shares. An instrument without a name may be any of
/// the others, so as soon as one has none all are taken for one and the same:
/// the careful assumption.
fn shared(instrument: &Instrument, instruments: &[Instrument]) -> usize {
    if instruments.iter().any(|known| known.name.is_none()) {
        return 0;
    }
    let same = |known: &Instrument| known.name == instrument.name;
    instruments.iter().position(same).unwrap_or(0)
}

/// The weighted value. Scatter and resolution are each person's own; the error
/// of an instrument is common to all who used it.
fn length(readings: Vec<Reading>, on: OnDisagreement) -> PooledValue {
    let weights: Option<Vec<f64>> = readings
        .iter()
        .map(|reading| {
            reading
                .uncertainty
                .map(|u| 1.0 / (u.standard() * u.standard()))
        })
        .collect();
    let Some(weights) = weights else {
        // Somebody's uncertainty is not known: everybody counts alike, and no
        // uncertainty can be given.
        let sum: f64 = readings.iter().map(|reading| reading.series.mean()).sum();
        return PooledValue::Length {
            value: sum / readings.len().max(1) as f64,
            uncertainty: None,
            readings,
            agreement: None,
            widened: None,
        };
    };
    let whole: f64 = weights.iter().sum();
    let shares: Vec<f64> = weights.iter().map(|weight| weight / whole).collect();
    let pairs = || readings.iter().zip(&shares);
    let value = pairs()
        .map(|(reading, share)| share * reading.series.mean())
        .sum();
    let own = pairs().filter_map(|(reading, share)| Some((*share, reading.own?)));
    let last = readings
        .iter()
        .map(|reading| reading.instrument)
        .max()
        .unwrap_or(0);
    let common = (0..=last).map(|instrument| {
        let users = pairs().filter(|(reading, _)| reading.instrument == instrument);
        let error: f64 = users.map(|(reading, share)| share * reading.error).sum();
        (1.0, Uncertainty::finite(error))
    });
    let uncertainty = Uncertainty::combined(own.chain(common).collect::<Vec<_>>());
    let agreement = compared(&readings);
    let disputed = agreement.as_ref().filter(|agreement| !agreement.agree());
    let widened = disputed
        .map(|agreement| agreement.birge_ratio.max(1.0))
        .filter(|_| on == OnDisagreement::Widen);
    PooledValue::Length {
        value,
        uncertainty: Some(uncertainty.scaled(widened.unwrap_or(1.0))),
        agreement,
        readings,
        widened,
    }
}

/// Do they agree? Nothing can be said where somebody's uncertainty is unknown.
fn compared(readings: &[Reading]) -> Option<Agreement> {
    let results = readings.iter().map(|reading| {
        reading.uncertainty?;
        Some(Shared {
            own: Measurement::finite(
                reading.series.mean(),
                reading.own.map_or(0.0, Uncertainty::standard),
            ),
            error: reading.error,
            instrument: reading.instrument,
        })
    });
    shared_agreement(&results.collect::<Option<Vec<_>>>()?)
}
