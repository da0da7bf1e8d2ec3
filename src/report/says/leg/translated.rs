//! Match averages between boards, as tables.

use super::words::rate;
use crate::comparison::{MatchAverages, MatchRow, MatchWorth, WholeLegs};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};
use crate::report::says::comparison::sure::plus_minus;
use crate::report::says::comparison::words::dash;

pub(super) fn blocks(legs: &WholeLegs) -> Vec<Block> {
    let Some(all) = &legs.match_averages else {
        return Vec::new();
    };
    let labels: Vec<&str> = legs.boards.iter().map(|b| b.label.as_str()).collect();
    let Some((first, others)) = labels.split_first() else {
        return Vec::new();
    };
    let mut blocks = vec![
        Block::heading(format!("Match averages on {first}, on the other boards")),
        Block::Grid(conversion(all, first, others)),
    ];
    blocks.extend(
        labels
            .iter()
            .enumerate()
            .map(|(board, label)| Block::Grid(details(all, first, label, board))),
    );
    blocks.push(Block::Note(NOTE.to_owned()));
    blocks
}

const NOTE: &str = "The player of a match average is the spread, the same in every direction, whose \
                    best play of this leg comes to it on the first board; the same spread plays the \
                    same leg on the other boards. ±: 95 %, from the lengths of both boards; for the \
                    average of an infinite number of legs, metal as set. Scoring average: of that \
                    spread, scoring darts alone. Simple rule: the first board's scoring average, \
                    every dart taken for one in the 20 bed or its treble, by free areas alone; from \
                    60 to 180.";

/// A column for each of the other boards.
fn conversion(all: &MatchAverages, first: &str, others: &[&str]) -> Grid {
    let boards = others.iter();
    let boards = boards.map(|label| Column::new(format!("on {label}"), ColumnKind::Figures, 1.0));
    let row = |row: &MatchRow| {
        let cells = (1..=others.len()).map(|board| {
            row.boards.get(board).map_or_else(dash, |worth| {
                plus_minus(Some(worth.match_average), &worth.certainty, 2)
            })
        });
        Row::of([format!("{:.1}", row.average)].into_iter().chain(cells))
    };
    Grid {
        caption: "A match average, and what it is worth".to_owned(),
        columns: [Column::new(format!("on {first}"), ColumnKind::Head, 1.0)]
            .into_iter()
            .chain(boards)
            .collect(),
        rows: all.rows.iter().map(row).collect(),
    }
}

/// What stands behind it on one board.
fn details(all: &MatchAverages, first: &str, label: &str, board: usize) -> Grid {
    let figures = [
        "match average",
        "darts a leg",
        "doubles hit",
        "scoring average",
        "simple rule",
    ];
    let figures = figures.map(|head| Column::new(head, ColumnKind::Figures, 1.0));
    let row = |row: &MatchRow| {
        let worth = row.boards.get(board);
        let cell = |words: &dyn Fn(&MatchWorth) -> String| worth.map_or_else(dash, words);
        let simply = |worth: &MatchWorth| {
            let simply = worth.scoring_simply.filter(|_| board > 0);
            simply.map_or_else(dash, |simply| format!("{simply:.2}"))
        };
        Row::of([
            format!("{:.1}", row.average),
            cell(&|worth| format!("{:.2}", worth.match_average)),
            cell(&|worth| format!("{:.2}", worth.expected_darts)),
            cell(&|worth| rate(worth.checkout_rate, &worth.checkout_rate_certainty)),
            cell(&|worth| format!("{:.2}", worth.scoring_average)),
            cell(&simply),
        ])
    };
    Grid {
        caption: format!("The same players on {label}"),
        columns: [Column::new(format!("on {first}"), ColumnKind::Head, 1.0)]
            .into_iter()
            .chain(figures)
            .collect(),
        rows: all.rows.iter().map(row).collect(),
    }
}
