//! A comparison as rows for spreadsheets: one figure a row.

use super::figure_row::{FigureRow, METAL_ALL_GLANCING, METAL_ALL_LOST, METAL_AS_SET, beside};
use super::rows::{Words, written};
use crate::comparison::{ByMetal, Comparison, Crossed};
use crate::report::says::comparison::words::route_name;

/// A row for each area, odds and average of a comparison, under their heads. A
/// figure that no number can give, such as the odds of what is next to impossible,
/// has none.
pub fn comparison_rows(comparison: &Comparison) -> String {
    let mut rows = of_boards(comparison);
    rows.extend(of_aims(comparison));
    rows.extend(of_differences(comparison));
    written(rows, true)
}

/// What is said of each board by itself.
fn of_boards(comparison: &Comparison) -> Vec<FigureRow> {
    let mut rows = Vec::new();
    for board in &comparison.boards {
        for band in &board.bands {
            rows.push(FigureRow {
                board: Words::of(&board.label),
                file: Words::of(&board.file),
                figure: "free area",
                of: Words::of(band.band.name()),
                by: "area",
                unit: "mm²",
                value: Some(band.free_mm2),
                expanded_uncertainty: band.expanded_uncertainty_mm2,
                ..FigureRow::default()
            });
        }
    }
    rows.extend(
        comparison
            .boards
            .iter()
            .flat_map(|board| beside(&board.label, &board.file, &board.beside, &board.filled)),
    );
    let certainties = comparison.player_average_certainties.iter();
    let averages = comparison.player_averages.iter().zip(certainties);
    for (board, (averages, certainty)) in comparison.boards.iter().zip(averages) {
        rows.extend(by_metal(averages).map(|(by, value)| {
            FigureRow {
                board: Words::of(&board.label),
                file: Words::of(&board.file),
                figure: "the player's own average",
                of: Words::of(""),
                by,
                unit: "points",
                value: Some(*value),
                expanded_uncertainty: None,
                ..FigureRow::default()
            }
            .sure(certainty)
        }));
    }
    rows
}

/// Where the player scores most on each board: the best aim, in two rows.
fn of_aims(comparison: &Comparison) -> Vec<FigureRow> {
    let aims = comparison.boards.iter().zip(&comparison.player_aims);
    let aims = aims.flat_map(|(board, aims)| aims.iter().map(move |aim| (board, aim)));
    let rows = aims.flat_map(|(board, aim)| {
        let row = |figure, value| FigureRow {
            board: Words::of(&board.label),
            file: Words::of(&board.file),
            figure,
            of: Words::of(aim.bed.to_string()),
            by: METAL_AS_SET,
            unit: "mm",
            value: Some(value),
            ..FigureRow::default()
        };
        [
            row("best aim, right of the centre", aim.x_mm),
            row("best aim, above the centre", aim.y_mm),
        ]
    });
    rows.collect()
}

/// What is said of each board against the first.
fn of_differences(comparison: &Comparison) -> Vec<FigureRow> {
    let mut rows = Vec::new();
    let first = comparison.boards.first().map(|board| &board.label);
    for difference in &comparison.differences {
        let Some(board) = comparison.boards.get(difference.board) else {
            continue;
        };
        let row = |figure, of: &str, by, unit, value: Option<f64>| FigureRow {
            board: Words::of(&board.label),
            file: Words::of(&board.file),
            against: first.map(Words::of),
            figure,
            of: Words::of(of),
            by,
            unit,
            value,
            ..FigureRow::default()
        };
        for band in &difference.bands {
            let value = Some(band.difference_percent);
            rows.push(FigureRow {
                expanded_uncertainty: band.expanded_uncertainty_percent,
                ..row("area difference", band.band.name(), "area", "%", value)
            });
        }
        for target in &difference.targets {
            let name = target.band.name();
            let by_area = row("times harder", name, "area", "", target.harder_by_area);
            rows.push(by_area.sure(&target.by_area_certainty));
            let harder = by_metal(&target.harder_by_spread);
            let harder = harder.map(|(by, value)| row("times harder", name, by, "", *value));
            rows.extend(harder.map(|row| row.sure(&target.by_spread_certainty)));
            let apart = crossed(&target.harder_crossed);
            rows.extend(apart.map(|(by, value)| row("times harder", name, by, "", value)));
            let here = by_metal(&target.probability);
            rows.extend(here.map(|(by, value)| row("probability", name, by, "", Some(*value))));
        }
        for route in &difference.routes {
            let name = route.name.map(route_name);
            let name = name.unwrap_or_else(|| route.route.to_string());
            let by_area = row("times harder", &name, "area", "", route.harder_by_area);
            rows.push(by_area.sure(&route.by_area_certainty));
            let harder = by_metal(&route.harder_by_spread);
            let harder = harder.map(|(by, value)| row("times harder", &name, by, "", *value));
            rows.extend(harder.map(|row| row.sure(&route.by_spread_certainty)));
            let apart = crossed(&route.harder_crossed);
            rows.extend(apart.map(|(by, value)| row("times harder", &name, by, "", value)));
            let one_in = by_metal(&route.one_in);
            rows.extend(one_in.map(|(by, value)| row("one try in", &name, by, "", *value)));
        }
        for average in &difference.averages.rows {
            let name = average.average.to_string();
            let worth = "an average on the other board is here";
            let back = "an average here is on the other board";
            let here = by_metal(&average.from_first);
            let here = here.map(|(by, value)| row(worth, &name, by, "points", *value));
            rows.extend(here.map(|row| row.sure(&average.from_first_certainty)));
            let apart = crossed(&average.from_first_crossed);
            rows.extend(apart.map(|(by, value)| row(worth, &name, by, "points", value)));
            let simply = row(worth, &name, "area", "points", average.from_first_simply);
            rows.push(simply.sure(&average.from_first_simply_certainty));
            let there = by_metal(&average.to_first);
            let there = there.map(|(by, value)| row(back, &name, by, "points", *value));
            rows.extend(there.map(|row| row.sure(&average.to_first_certainty)));
            let apart = crossed(&average.to_first_crossed);
            rows.extend(apart.map(|(by, value)| row(back, &name, by, "points", value)));
            let simply = row(back, &name, "area", "points", average.to_first_simply);
            rows.push(simply.sure(&average.to_first_simply_certainty));
        }
    }
    rows
}

fn by_metal<T>(of: &ByMetal<T>) -> [(&'static str, &T); 3] {
    [
        (METAL_AS_SET, &of.chosen),
        (METAL_ALL_LOST, &of.lost),
        (METAL_ALL_GLANCING, &of.glances),
    ]
}

fn crossed(of: &Crossed<Option<f64>>) -> [(&'static str, Option<f64>); 2] {
    [
        (
            "spread, metal glancing on the other board, lost here",
            of.first_glances,
        ),
        (
            "spread, metal lost on the other board, glancing here",
            of.first_lost,
        ),
    ]
}
