//! Charts of a production run: single values, moving average, normal probability.

use super::frame::{Frame, HEIGHT, WIDTH};
use super::svg::Figure;
use crate::lot::{ChangeKind, Chart, Lot, Series, Signal, Tolerance, normal_scores};

/// What is said of a chart.
pub(in crate::report) struct Said {
    pub(in crate::report) title: String,
    pub(in crate::report) description: String,
    /// What stands above the upper end of its vertical axis.
    pub(in crate::report) unit: String,
}

/// Charts of one series stand side by side.
const GROUP: &str = "charts";

fn figure(said: Said, body: String) -> Figure {
    Figure {
        group: GROUP,
        width: WIDTH,
        height: HEIGHT,
        body,
        title: said.title,
        description: said.description,
    }
}

/// The place in the run of a value, from 1.
fn place(series: &Series<'_>, at: usize) -> f64 {
    series
        .places
        .get(at)
        .map_or(0.0, |place| *place as f64 + 1.0)
}

fn along(series: &Series<'_>, values: &[f64]) -> Vec<(f64, f64)> {
    let pairs = values.iter().enumerate();
    pairs
        .map(|(at, value)| (place(series, at), *value))
        .collect()
}

/// Every value, with the centre line, the limits of the chart and those of the table.
pub(in crate::report) fn individuals(
    lot: &Lot<'_>,
    series: &Series<'_>,
    chart: &Chart,
    said: Said,
) -> Figure {
    let (low, high) = (chart.centre - chart.limit, chart.centre + chart.limit);
    let (least, most) = match series.tolerance {
        Tolerance::Same { lower, upper } => (lower, upper),
        _ => (None, None),
    };
    // A limit of the table that is far away would flatten everything else.
    let near = |end: &f64| (end - chart.centre).abs() < 4.0 * chart.limit;
    let tolerance = || [least, most].into_iter().flatten().filter(near);
    let values = series.values.iter().copied();
    let frame = Frame::around(
        (1.0, lot.boards.len() as f64),
        values.chain([low, high]).chain(tolerance()),
    );
    let mut out = String::new();
    beginnings(&mut out, &frame, series, chart);
    frame.axes(&mut out, "place in the run", &said.unit);
    for end in tolerance() {
        frame.across(&mut out, end, "2 3", 2.2);
    }
    for end in [low, high] {
        frame.across(&mut out, end, "7 4", 1.0);
    }
    for end in tolerance() {
        frame.beside(&mut out, end, end < chart.centre, "table");
    }
    frame.across(&mut out, chart.centre, "", 0.8);
    frame.points(&mut out, &along(series, &series.values));
    for signal in &chart.signals {
        if let Signal::Beyond { at, .. } = *signal {
            let value = series.values.get(at).copied().unwrap_or_default();
            frame.outstanding(&mut out, place(series, at), value);
        }
    }
    figure(said, out)
}

/// The moving average with its limits.
pub(in crate::report) fn average(
    lot: &Lot<'_>,
    series: &Series<'_>,
    chart: &Chart,
    said: Said,
) -> Figure {
    let ends = [
        chart.centre - chart.average_limit,
        chart.centre + chart.average_limit,
    ];
    let values = chart.average.iter().copied();
    let frame = Frame::around((1.0, lot.boards.len() as f64), values.chain(ends));
    let mut out = String::new();
    beginnings(&mut out, &frame, series, chart);
    frame.axes(&mut out, "place in the run", &said.unit);
    for end in ends {
        frame.across(&mut out, end, "7 4", 1.0);
    }
    frame.across(&mut out, chart.centre, "", 0.8);
    frame.curve(&mut out, &along(series, &chart.average), 1.8);
    for signal in &chart.signals {
        if let Signal::Change { seen, .. } = *signal {
            let value = chart.average.get(seen).copied().unwrap_or_default();
            frame.outstanding(&mut out, place(series, seen), value);
        }
    }
    figure(said, out)
}

/// Where shifts, drifts and runs begin.
fn beginnings(out: &mut String, frame: &Frame, series: &Series<'_>, chart: &Chart) {
    for signal in &chart.signals {
        match *signal {
            Signal::Change { beginning, .. } => {
                let (from, to) = beginning.range;
                frame.stretch(out, place(series, from), place(series, to));
                let words = match beginning.kind {
                    ChangeKind::Drift => "drift",
                    ChangeKind::Shift => "shift",
                };
                let at = place(series, beginning.at);
                frame.upright(out, at, &format!("{words} from {at}"));
            }
            Signal::Run { first, last, .. } if !has_change(chart) => {
                let (from, to) = (place(series, first), place(series, last));
                frame.stretch(out, from, to);
                frame.upright(out, from, &format!("run from {from}"));
            }
            _ => {}
        }
    }
}

fn has_change(chart: &Chart) -> bool {
    let change = |signal: &Signal| matches!(signal, Signal::Change { .. });
    chart.signals.iter().any(change)
}

/// Values in rising order against what normal ones may be expected at: a straight
/// line if they are normal.
pub(in crate::report) fn probability(series: &Series<'_>, said: Said) -> Option<Figure> {
    let summary = series.summary?;
    let mut sorted = series.values.clone();
    sorted.sort_by(f64::total_cmp);
    let scores = normal_scores(sorted.len());
    let end = scores.last().copied()?.max(1.0) * 1.05;
    let line = |score: f64| summary.mean + score * summary.deviation;
    let values = sorted.iter().copied().chain([line(-end), line(end)]);
    let frame = Frame::around((-end, end), values);
    let mut out = String::new();
    frame.axes(&mut out, "normal score, standard deviations", &said.unit);
    frame.curve(&mut out, &[(-end, line(-end)), (end, line(end))], 0.9);
    let points: Vec<(f64, f64)> = scores.into_iter().zip(sorted).collect();
    frame.points(&mut out, &points);
    Some(figure(said, out))
}
