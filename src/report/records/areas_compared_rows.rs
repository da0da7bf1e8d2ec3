//! A comparison by areas as rows for spreadsheets: one figure a row.

use super::figure_row::{FigureRow, beside};
use super::rows::{Words, written};
use crate::comparison::{AreaBoard, AreaComparison, AreaDifference, AreaSource, Figure};
use crate::report::says::comparison::words::route_name;

/// A row for each area, ratio and average of a comparison by areas, under their heads. A
/// figure for which something is missing has no value.
pub fn areas_compared_rows(comparison: &AreaComparison) -> String {
    let mut rows: Vec<FigureRow> = comparison.boards.iter().flat_map(of_board).collect();
    let first = comparison.boards.first().map(|board| board.label.as_str());
    for difference in &comparison.differences {
        if let Some(board) = comparison.boards.get(difference.board) {
            rows.extend(of_difference(difference, board, first));
        }
    }
    written(rows, true)
}

fn row(board: &AreaBoard, figure: &'static str, of: &str, unit: &'static str) -> FigureRow {
    FigureRow {
        board: Words::of(&board.label),
        file: Words::of(board.file.as_deref().unwrap_or_default()),
        figure,
        of: Words::of(of),
        by: "area",
        unit,
        ..FigureRow::default()
    }
}

/// The same with its value, and how sure that is.
fn known(row: FigureRow, figure: Option<Figure>) -> FigureRow {
    let Some(Figure { value, certainty }) = figure else {
        return row;
    };
    let value = Some(value);
    FigureRow { value, ..row }.sure(&certainty)
}

fn of_board(board: &AreaBoard) -> Vec<FigureRow> {
    let beds = board.beds.iter().map(|bed| {
        let figure = match bed.source {
            AreaSource::Rings => "free area of a bed",
            AreaSource::Recorded => "free area of a bed, as recorded",
        };
        FigureRow {
            value: Some(bed.bed_mm2),
            expanded_uncertainty: bed.expanded_uncertainty_mm2,
            ..row(board, figure, bed.band.name(), "mm²")
        }
    });
    let file = board.file.as_deref().unwrap_or_default();
    let beside = beside(&board.label, file, &board.beside, &board.filled);
    beds.chain(beside).collect()
}

fn of_difference(
    difference: &AreaDifference,
    board: &AreaBoard,
    first: Option<&str>,
) -> Vec<FigureRow> {
    let figure = |name, of: &str, unit, figure| {
        let against = first.map(Words::of);
        let row = row(board, name, of, unit);
        known(FigureRow { against, ..row }, figure)
    };
    let targets = difference.targets.iter();
    let targets = targets.map(|own| figure("times harder", own.band.name(), "", own.harder));
    let mut rows: Vec<FigureRow> = targets.collect();
    rows.extend(difference.routes.iter().map(|own| {
        let name = own.name.map(route_name);
        let name = name.unwrap_or_else(|| own.route.to_string());
        figure("times harder", &name, "", own.harder)
    }));
    let averages = difference
        .averages
        .iter()
        .flat_map(|averages| &averages.rows);
    for own in averages {
        let name = own.average.to_string();
        let worth = "an average on the other board is here";
        rows.push(figure(worth, &name, "points", own.from_first));
        let back = "an average here is on the other board";
        rows.push(figure(back, &name, "points", own.to_first));
    }
    rows
}
