//! A whole leg as rows for spreadsheets: one figure or one aim a row.

use serde::Serialize;

use super::leg::alike;
use super::rows::{Words, written};
use crate::comparison::{LegOnBoard, WholeLegs};

/// A figure, or what is best in a position. The names of the fields are the heads of
/// the columns.
#[derive(Serialize)]
struct LegRow {
    board: Words,
    file: Words,
    figure: &'static str,
    /// Of an aim: what is left to score, darts in hand, where the visit began.
    left: Option<u32>,
    darts_in_hand: Option<usize>,
    begun_from: Option<u32>,
    begun_to: Option<u32>,
    /// The bed that is aimed at, and where that is.
    bed: Option<Words>,
    x_mm: Option<f64>,
    y_mm: Option<f64>,
    unit: &'static str,
    value: f64,
}

/// A row for each figure and each aim of the finish table, under their heads.
pub fn leg_rows(legs: &WholeLegs) -> String {
    let rows: Vec<LegRow> = legs
        .boards
        .iter()
        .flat_map(|board| of(legs, board))
        .collect();
    written(rows, true)
}

fn of(legs: &WholeLegs, board: &LegOnBoard) -> Vec<LegRow> {
    let row = |figure, unit, value| LegRow {
        board: Words::of(&board.label),
        file: Words::of(&board.file),
        figure,
        left: None,
        darts_in_hand: None,
        begun_from: None,
        begun_to: None,
        bed: None,
        x_mm: None,
        y_mm: None,
        unit,
        value,
    };
    let perfect = LegRow {
        bed: Some(Words::of(board.perfect.bed.to_string())),
        ..row(
            "perfect leg, played for",
            "probability",
            board.perfect.chance,
        )
    };
    let mut rows = vec![
        row("scoring average", "points", board.scoring_average),
        row("match average", "points", board.match_average),
        row("expected darts", "darts", board.expected_darts),
        row("expected visits", "visits", board.expected_visits),
        row("darts at a double", "darts", board.darts_at_double),
        row("checkout rate", "probability", board.checkout_rate),
        perfect,
        row(
            "perfect leg, by the way",
            "probability",
            board.perfect_by_the_way,
        ),
    ];
    if let Some(against) = &board.against {
        rows.push(row(
            "wins, throwing first",
            "probability",
            against.throwing_first,
        ));
        rows.push(row(
            "wins, throwing second",
            "probability",
            against.throwing_second,
        ));
    }
    let unit = legs.leg.objective.as_str();
    for finish in &board.finishes {
        rows.extend(alike(finish).into_iter().map(|(from, to, choice)| LegRow {
            left: Some(finish.left),
            darts_in_hand: Some(finish.darts),
            begun_from: Some(from),
            begun_to: Some(to),
            bed: Some(Words::of(choice.bed.to_string())),
            x_mm: Some(choice.aim.x),
            y_mm: Some(choice.aim.y),
            ..row("still expected", unit, choice.expected)
        }));
    }
    rows
}
