//! One row for each measurand of a production run, as CSV: tidy data, with numbers
//! as numbers and the unit of each in a column of its own.

use serde::Serialize;

use super::rows::{Words, written};
use crate::lot::{Lot, Series, Tolerance};
use crate::report::says::lot::words;

/// A measurand. The names of the fields are the heads of the columns.
#[derive(Serialize)]
struct SeriesRow {
    /// The limit's name in its table, or a band's with `.area`.
    check: Words,
    name: Words,
    unit: &'static str,
    lower: Option<f64>,
    upper: Option<f64>,
    n: usize,
    lacking: usize,
    mean: Option<f64>,
    standard_deviation: Option<f64>,
    smallest: Option<f64>,
    largest: Option<f64>,
    outside: Option<usize>,
    share_outside: Option<f64>,
    share_outside_lower: Option<f64>,
    share_outside_upper: Option<f64>,
    stability: &'static str,
    chart_centre: Option<f64>,
    chart_lower: Option<f64>,
    chart_upper: Option<f64>,
    average_lower: Option<f64>,
    average_upper: Option<f64>,
    /// The first board that a chart names.
    begins: Option<Words>,
    signals: Option<Words>,
    anderson_darling: Option<f64>,
    measurement_deviation: f64,
    process_deviation: Option<f64>,
    cp: Option<f64>,
    cp_lower: Option<f64>,
    cp_upper: Option<f64>,
    cp_as_measured: Option<f64>,
    cpk: Option<f64>,
    cpk_lower: Option<f64>,
    cpk_upper: Option<f64>,
    cpk_as_measured: Option<f64>,
    withheld: Option<Words>,
}

/// A row for each measurand under the heads of the columns.
pub fn lot_rows(lot: &Lot<'_>) -> String {
    let rows = lot.series.iter().map(|series| SeriesRow::of(lot, series));
    written(rows, true)
}

impl SeriesRow {
    fn of(lot: &Lot<'_>, series: &Series<'_>) -> Self {
        let (lower, upper) = match series.tolerance {
            Tolerance::Same { lower, upper } => (lower, upper),
            _ => (None, None),
        };
        let summary = series.summary.as_ref();
        let spread = summary.filter(|_| series.count() > 1);
        let chart = series.chart.as_ref().ok();
        let signals = words::signals(lot, series).join("; ");
        let first = chart.and_then(|chart| chart.signals.first());
        let begins = first.and_then(|signal| series.places.get(signal.begins()));
        let begins = begins.and_then(|place| lot.boards.get(*place));
        let capability = series.capability.as_ref().ok();
        let cp = capability.and_then(|own| own.cp);
        let cpk = capability.map(|own| own.cpk);
        let outside = series.outside;
        Self {
            check: Words::of(words::key(&series.subject)),
            name: Words::of(words::name(&series.subject)),
            unit: words::unit(&series.subject),
            lower,
            upper,
            n: series.count(),
            lacking: series.lacking,
            mean: summary.map(|own| own.mean),
            standard_deviation: spread.map(|own| own.deviation),
            smallest: summary.map(|own| own.smallest.value),
            largest: summary.map(|own| own.largest.value),
            outside: outside.map(|own| own.count),
            share_outside: outside.map(|own| own.share),
            share_outside_lower: outside.map(|own| own.interval.0),
            share_outside_upper: outside.map(|own| own.interval.1),
            stability: words::stability(series),
            chart_centre: chart.map(|own| own.centre),
            chart_lower: chart.map(|own| own.centre - own.limit),
            chart_upper: chart.map(|own| own.centre + own.limit),
            average_lower: chart.map(|own| own.centre - own.average_limit),
            average_upper: chart.map(|own| own.centre + own.average_limit),
            begins: begins.map(|board| Words::of(&board.id)),
            signals: (!signals.is_empty()).then(|| Words::of(signals)),
            anderson_darling: series.normality.map(|own| own.statistic),
            measurement_deviation: libm::sqrt(series.noise),
            process_deviation: capability.map(|own| own.deviation),
            cp: cp.map(|own| own.value),
            cp_lower: cp.map(|own| own.lower),
            cp_upper: cp.and_then(|own| own.upper),
            cp_as_measured: cp.map(|own| own.measured),
            cpk: cpk.map(|own| own.value),
            cpk_lower: cpk.map(|own| own.lower),
            cpk_upper: cpk.and_then(|own| own.upper),
            cpk_as_measured: cpk.map(|own| own.measured),
            withheld: series
                .capability
                .err()
                .map(|why| Words::of(words::withheld(series, why))),
        }
    }
}
