//! The tables of a production run.

use super::words::{decimals, key, name, stability, tolerance, withheld};
use crate::lot::{Extreme, Index, Lot, Series, Withheld};
use crate::report::page::{Cell, Column, ColumnKind, Grid, Row};

fn grid(caption: &str, heads: &[(&'static str, ColumnKind, f64)]) -> Grid {
    let columns = heads.iter();
    Grid {
        caption: caption.to_owned(),
        columns: columns
            .map(|&(head, kind, weight)| Column::new(head, kind, weight))
            .collect(),
        rows: Vec::new(),
    }
}

fn dash() -> String {
    "–".to_owned()
}

fn row(series: &Series<'_>, cells: Vec<String>) -> Row {
    Row::keyed(
        key(&series.subject),
        cells.into_iter().map(Cell::Text).collect(),
    )
}

/// Values and their spread.
pub(super) fn values(lot: &Lot<'_>) -> Grid {
    use ColumnKind::{Figures, Head};
    let mut grid = grid(
        "Every limited length, and the deviation of every band's area",
        &[
            ("measurand", Head, 2.6),
            ("conforms", Figures, 1.9),
            ("n", Figures, 0.6),
            ("mean", Figures, 1.0),
            ("s", Figures, 0.9),
            ("smallest", Figures, 1.0),
            ("largest", Figures, 1.0),
            ("outside, 95 %", Figures, 1.6),
        ],
    );
    for series in &lot.series {
        let places = decimals(&series.subject);
        let summary = series.summary.as_ref();
        let figure = |value: Option<f64>, more: usize| {
            value.map_or_else(dash, |value| rounded(value, places + more))
        };
        let extreme = |own: Option<Extreme>| figure(own.map(|own| own.value), 0);
        let outside = series.outside.map_or_else(dash, |own| {
            let (lower, upper) = (100.0 * own.interval.0, 100.0 * own.interval.1);
            format!("{} ({lower:.1} to {upper:.1} %)", own.count)
        });
        let spread = summary.filter(|_| series.count() > 1);
        grid.rows.push(row(
            series,
            vec![
                name(&series.subject),
                tolerance(series),
                series.count().to_string(),
                figure(summary.map(|own| own.mean), 1),
                figure(spread.map(|own| own.deviation), 2),
                extreme(summary.map(|own| own.smallest)),
                extreme(summary.map(|own| own.largest)),
                outside,
            ],
        ));
    }
    grid
}

/// Stability and capability.
pub(super) fn process(lot: &Lot<'_>) -> Grid {
    use ColumnKind::{Figures, Head, Words};
    let mut grid = grid(
        "Stability, and capability with the measurement taken out",
        &[
            ("measurand", Head, 2.2),
            ("charts", Words, 1.6),
            ("Cp, 95 %", Figures, 1.7),
            ("Cpk, 95 %", Figures, 1.7),
            ("as measured", Figures, 1.1),
            ("measurement s", Figures, 1.1),
        ],
    );
    for series in &lot.series {
        let noise = format!(
            "{:.*}",
            decimals(&series.subject) + 2,
            libm::sqrt(series.noise)
        );
        let noise = if series.count() > 0 { noise } else { dash() };
        let mut cells = vec![name(&series.subject)];
        match &series.capability {
            Ok(found) => {
                let cp = found.cp.map(|cp| format!("{:.2}", cp.measured));
                cells.extend([
                    stability(series).to_owned(),
                    found.cp.as_ref().map_or_else(dash, index),
                    index(&found.cpk),
                    format!("{}, {:.2}", cp.unwrap_or_else(dash), found.cpk.measured),
                ]);
            }
            Err(why) => {
                let state = stability(series);
                let charts = match why {
                    Withheld::NotStable => state.to_owned(),
                    why => format!("{state}: {}", withheld(series, *why)),
                };
                cells.extend([charts, dash(), dash(), dash()]);
            }
        }
        cells.push(noise);
        grid.rows.push(row(series, cells));
    }
    grid
}

/// A figure with so many decimals, nothing without a sign.
fn rounded(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let is_nothing = text.chars().all(|c| matches!(c, '-' | '0' | '.'));
    if is_nothing {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

fn index(index: &Index) -> String {
    let upper = index
        .upper
        .map_or_else(|| "no end".to_owned(), |upper| format!("{upper:.2}"));
    format!("{:.2} ({:.2} to {upper})", index.value, index.lower)
}
