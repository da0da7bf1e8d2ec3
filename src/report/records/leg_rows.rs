//! A whole leg as rows for spreadsheets: one figure or one aim a row.

use serde::Serialize;

use super::leg::alike;
use super::rows::{Words, written};
use crate::comparison::{Certainty, LegOnBoard, WholeLegs};
use crate::play::Objective;
use crate::report::says::leg::wire_name;

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
    /// Of a translation: the match average on the first board.
    average: Option<f64>,
    /// Of what more of a wire does: the wire.
    wire: Option<Words>,
    unit: &'static str,
    value: f64,
    /// Where it lies with 95 % confidence.
    low: Option<f64>,
    high: Option<f64>,
}

impl LegRow {
    fn sure(self, certainty: &Certainty) -> Self {
        let interval = certainty.interval();
        Self {
            low: interval.map(|interval| interval.low),
            high: interval.map(|interval| interval.high),
            ..self
        }
    }
}

/// A row for each figure and each aim of the finish table, under their heads.
pub fn leg_rows(legs: &WholeLegs) -> String {
    let rows: Vec<LegRow> = legs
        .boards
        .iter()
        .enumerate()
        .flat_map(|(index, board)| of(legs, index, board))
        .collect();
    written(rows, true)
}

fn of(legs: &WholeLegs, index: usize, board: &LegOnBoard) -> Vec<LegRow> {
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
        average: None,
        wire: None,
        unit,
        value,
        low: None,
        high: None,
    };
    let darts = row("expected darts", "darts", board.expected_darts);
    let visits = row("expected visits", "visits", board.expected_visits);
    let (darts, visits) = match legs.leg.objective {
        Objective::Visits => (darts, visits.sure(&board.expected_certainty)),
        _ => (darts.sure(&board.expected_certainty), visits),
    };
    let perfect = LegRow {
        bed: Some(Words::of(board.perfect.bed.to_string())),
        ..row(
            "perfect leg, played for",
            "probability",
            board.perfect.chance,
        )
        .sure(&board.perfect_certainty)
    };
    let mut rows = vec![
        row("scoring average", "points", board.scoring_average)
            .sure(&board.scoring_average_certainty),
        row("match average", "points", board.match_average).sure(&board.match_average_certainty),
        darts,
        visits,
        row("darts at a double", "darts", board.darts_at_double)
            .sure(&board.darts_at_double_certainty),
    ];
    rows.extend(board.checkout_rate.map(|rate| {
        row("checkout rate", "probability", rate).sure(&board.checkout_rate_certainty)
    }));
    rows.extend([
        perfect,
        row(
            "perfect leg, by the way",
            "probability",
            board.perfect_by_the_way,
        ),
    ]);
    rows.extend(board.filled.iter().map(|own| LegRow {
        bed: Some(Words::of(own.quantity.to_string())),
        ..row("nominal, not measured", "mm", own.value.as_mm())
    }));
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
    for effect in &board.wires {
        let figures = [
            ("0.1 mm more: treble harder", "%", effect.treble_percent),
            ("0.1 mm more: double harder", "%", effect.double_percent),
            (
                "0.1 mm more: scoring average",
                "points",
                effect.scoring_average,
            ),
            ("0.1 mm more: leg", unit, effect.expected),
        ];
        rows.extend(figures.map(|(figure, unit, value)| LegRow {
            wire: Some(Words::of(wire_name(effect.wire))),
            ..row(figure, unit, value)
        }));
    }
    rows.extend(translated(legs, index, row));
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

/// What match averages on the first board come to on this one.
fn translated(
    legs: &WholeLegs,
    index: usize,
    row: impl Fn(&'static str, &'static str, f64) -> LegRow,
) -> Vec<LegRow> {
    let mut rows = Vec::new();
    for from in legs.match_averages.iter().flat_map(|all| &all.rows) {
        let Some(worth) = from.boards.get(index) else {
            continue;
        };
        let figures = [
            Some(
                row("translated: match average", "points", worth.match_average)
                    .sure(&worth.certainty),
            ),
            Some(row(
                "translated: expected darts",
                "darts",
                worth.expected_darts,
            )),
            worth.checkout_rate.map(|rate| {
                row("translated: checkout rate", "probability", rate)
                    .sure(&worth.checkout_rate_certainty)
            }),
            Some(row(
                "translated: scoring average",
                "points",
                worth.scoring_average,
            )),
            worth
                .scoring_simply
                .map(|simply| row("translated: scoring average, simple rule", "points", simply)),
        ];
        rows.extend(figures.into_iter().flatten().map(|row| LegRow {
            average: Some(from.average),
            ..row
        }));
    }
    rows
}
