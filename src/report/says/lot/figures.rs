//! The charts of a production run with their words.

use super::words::{name, signals, unit, valued};
use crate::lot::{Chart, Lot, Series};
use crate::report::draw::control::{self, Said};
use crate::report::page::Block;

/// The charts of every measurand that has any, those that give a signal first.
pub(super) fn blocks(lot: &Lot<'_>) -> Vec<Block> {
    let (unstable, stable): (Vec<&Series<'_>>, Vec<&Series<'_>>) =
        lot.series.iter().partition(|series| series.is_unstable());
    let all = unstable.into_iter().chain(stable);
    let mut blocks: Vec<Block> = all.flat_map(|series| one(lot, series)).collect();
    if !blocks.is_empty() {
        blocks.insert(
            0,
            Block::Text(
                "The charts. Dashed: limits of the chart. Dotted: limits of the table, where they are near. \
                 Shaded: where a change may have begun, or a run. Diamond: a board beyond the \
                 limits, or where the average leaves them."
                    .to_owned(),
            ),
        );
    }
    blocks
}

fn one(lot: &Lot<'_>, series: &Series<'_>) -> Vec<Block> {
    let Ok(chart) = &series.chart else {
        return Vec::new();
    };
    let name = name(&series.subject);
    let unit = unit(&series.subject).to_owned();
    let said = |what: &str, description: String| Said {
        title: format!("{name}: {what}"),
        description,
        unit: unit.clone(),
    };
    let limits = |half: f64| {
        let value = |value: f64| valued(&series.subject, value, 1);
        let (low, high) = (chart.centre - half, chart.centre + half);
        format!(
            "Mean {}, limits {} and {}.",
            value(chart.centre),
            value(low),
            value(high)
        )
    };
    let individuals = said(
        "single values",
        limits(chart.limit) + &found(lot, series, chart),
    );
    let average = said("moving average", limits(chart.average_limit));
    let mut blocks = vec![
        Block::heading(name.clone()),
        Block::Figure(control::individuals(lot, series, chart, individuals)),
        Block::Figure(control::average(lot, series, chart, average)),
    ];
    let looks = match series.normality {
        Some(_) if series.is_unstable() => {
            "The process is not stable, and what is not one process need not be normal."
        }
        Some(own) if own.is_doubtful() => "The values do not look normal.",
        Some(_) => "Normal values lie along the line; these are in keeping with it.",
        None => "Too few values, or too coarsely recorded, to say whether they are normal.",
    };
    let plot = said("normal probability plot", looks.to_owned());
    blocks.extend(control::probability(series, plot).map(Block::Figure));
    blocks
}

fn found(lot: &Lot<'_>, series: &Series<'_>, chart: &Chart) -> String {
    if chart.signals.is_empty() {
        return " No signal.".to_owned();
    }
    let said = signals(lot, series).into_iter();
    said.map(|said| format!(" Signal: {said}.")).collect()
}
