//! From gathered values to what there is to say of them.

use std::collections::BTreeMap;

use super::capability::{Withheld, capability};
use super::charts::{KINDS, Limits, NotCharted, chart, chartable};
use super::data::{Series, Subject, Tolerance};
use super::ewma::{WEIGHT, ewma_limit};
use super::normality::Normality;
use super::process::Process;
use super::runs::shortest_odd_run;
use super::spread::{outside, summary};
use super::summary::{Outside, Summary};

/// The values of one series in the order of the run, with what was counted of them.
pub(super) struct Gathered<'t> {
    pub(super) subject: Subject<'t>,
    pub(super) tolerance: Tolerance,
    pub(super) values: Vec<f64>,
    pub(super) places: Vec<usize>,
    pub(super) lacking: usize,
    pub(super) outside: usize,
    pub(super) unstated: usize,
    /// The mean variance of the measurement that is independent from board to board.
    pub(super) noise: f64,
}

/// Every series, with the charts that share `false_alarm`, and how many these are.
pub(super) fn study(all: Vec<Gathered<'_>>, false_alarm: f64) -> (Vec<Series<'_>>, usize) {
    let looked: Vec<_> = all
        .into_iter()
        .map(|own| {
            let summary = summary(&own.values, &own.places);
            let step = summary.and_then(|summary| summary.step);
            let ready = chartable(&own.values, step);
            (own, summary, ready)
        })
        .collect();
    let charts = KINDS * looked.iter().filter(|(.., ready)| ready.is_ok()).count();
    let alarm = false_alarm / (charts as f64).max(1.0);
    let mut known: BTreeMap<usize, Limits> = BTreeMap::new();
    let mut limits = |count: usize| {
        *known.entry(count).or_insert_with(|| Limits {
            alarm,
            average: ewma_limit(WEIGHT, alarm, count),
            run: shortest_odd_run(alarm, count),
        })
    };
    let series = looked
        .into_iter()
        .map(|(own, summary, ready)| {
            let limits = ready.map(|()| limits(own.values.len()));
            series(own, summary, limits)
        })
        .collect();
    (series, charts)
}

fn series(
    own: Gathered<'_>,
    summary: Option<Summary>,
    limits: Result<Limits, NotCharted>,
) -> Series<'_> {
    let chart = limits.map(|limits| chart(&own.values, &own.places, limits));
    let stable = match &chart {
        Err(_) => Err(Withheld::NotCharted),
        Ok(chart) if !chart.signals.is_empty() => Err(Withheld::NotStable),
        Ok(_) => Ok(()),
    };
    let capability = match (own.tolerance, summary) {
        (Tolerance::None, _) => Err(Withheld::NoLimits),
        (Tolerance::Differs, _) => Err(Withheld::LimitsDiffer),
        (Tolerance::Same { .. }, None) => Err(Withheld::NotCharted),
        (Tolerance::Same { lower, upper }, Some(summary)) => {
            let process = Process {
                count: own.values.len(),
                mean: summary.mean,
                deviation: summary.deviation,
                noise: own.noise,
            };
            let found = capability(&process, lower, upper);
            match found {
                Err(Withheld::PointLimit) => Err(Withheld::PointLimit),
                found => stable.and(found),
            }
        }
    };
    let normality = summary.and_then(|summary| Normality::of(&own.values, summary.step));
    let normality = normality.filter(|_| chart.is_ok());
    let counted: Option<Outside> = outside(own.outside, own.values.len());
    Series {
        subject: own.subject,
        tolerance: own.tolerance,
        outside: counted.filter(|_| own.tolerance != Tolerance::None),
        values: own.values,
        places: own.places,
        lacking: own.lacking,
        unstated: own.unstated,
        noise: own.noise,
        summary,
        chart,
        normality,
        capability,
    }
}
