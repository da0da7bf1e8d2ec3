//! How sure the figures of a comparison are: intervals, and digits that follow them.

use super::words::{dash, label, route_name};
use crate::comparison::{Certainty, Comparison, Difference, Interval};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};

/// A figure with as many decimals as its interval leaves it, or as many as are usual where
/// nothing limits them.
pub(in crate::report) fn digits(value: Option<f64>, certainty: &Certainty, usual: usize) -> String {
    value.map_or_else(dash, |value| {
        let decimals = certainty.interval().map_or_else(
            || {
                if value.abs() >= 100.0 && usual > 1 {
                    0
                } else {
                    usual
                }
            },
            decimals,
        );
        format!("{value:.decimals$}")
    })
}

/// A figure and how far it may be off to either side; where the interval is lopsided, the
/// larger of both.
pub(in crate::report) fn plus_minus(
    value: Option<f64>,
    certainty: &Certainty,
    usual: usize,
) -> String {
    let figure = digits(value, certainty, usual);
    match (value, certainty.interval()) {
        (Some(value), Some(interval)) => {
            let decimals = decimals(interval);
            let off = (interval.high - value).max(value - interval.low);
            format!("{figure} ± {off:.decimals$}")
        }
        _ => figure,
    }
}

/// The ends of an interval.
pub(super) fn ends(interval: Interval) -> String {
    let decimals = decimals(interval);
    format!(
        "{:.decimals$} to {:.decimals$}",
        interval.low, interval.high
    )
}

/// Decimals that show two digits of half an interval's width; more than four nobody reads.
fn decimals(interval: Interval) -> usize {
    let half = interval.half_width();
    let shown = |least: &f64| half >= *least;
    let least = [9.95, 0.995, 0.0995, 0.009_95];
    least.iter().position(shown).unwrap_or(least.len())
}

/// The intervals of targets and routes, a row each; nothing where every figure is exact.
pub(super) fn table(comparison: &Comparison) -> Vec<Block> {
    let all = rows(comparison);
    if all
        .iter()
        .all(|row| row.figures.iter().all(|(_, of)| *of == Certainty::Exact))
    {
        return Vec::new();
    }
    let player = |certainty: &Certainty| match certainty {
        Certainty::Within { player, .. } => *player,
        _ => None,
    };
    let has_player = all.iter().any(|row| player(&row.figures[1].1).is_some());
    let figures = |head: &'static str| Column::new(head, ColumnKind::Figures, 1.4);
    let mut columns = vec![
        Column::new("target or route", ColumnKind::Head, 1.6),
        Column::new("board", ColumnKind::Words, 1.2),
        figures("area rule"),
        figures("as set"),
    ];
    if has_player {
        columns.extend([figures("boards alone"), figures("spread alone")]);
    }
    let rows = all.iter().map(|row| {
        let [area, spread] = &row.figures;
        let mut cells = vec![
            row.name.clone(),
            row.board.clone(),
            cell(area),
            cell(spread),
        ];
        if has_player {
            let boards = match spread.1 {
                Certainty::Within { boards, .. } => Some(boards),
                _ => None,
            };
            let parts = [boards, player(&spread.1)];
            cells.extend(parts.map(|part| part.map_or_else(dash, ends)));
        }
        Row::of(cells)
    });
    let grid = Grid {
        caption: "In brackets where the figure lies with 95 % confidence".to_owned(),
        columns,
        rows: rows.collect(),
    };
    let mut notes = NOTE.to_owned();
    if has_player {
        notes.push_str(" Boards alone, spread alone: as set, as if the other were known.");
    }
    if all.iter().any(|row| {
        row.figures
            .iter()
            .any(|(_, of)| *of == Certainty::NotStated)
    }) {
        let filled = comparison.boards.iter().any(|own| !own.filled.is_empty());
        notes.push_str(if filled {
            " Not stated: a length that it rests on has no uncertainty; what is nominal and was \
             not measured has none before it is measured."
        } else {
            " Not stated: a length that it rests on has no uncertainty; state one for the whole \
             file with `uncertainty`."
        });
    }
    vec![
        Block::heading(format!(
            "How sure it is what is harder than on {}",
            label(comparison, 0)
        )),
        Block::Grid(grid),
        Block::Note(notes),
    ]
}

const NOTE: &str = "Intervals follow, to first order, from the uncertainties that the files state \
                    for their lengths, errors in common counted as such, and, where it was \
                    estimated, from the player's spread. What metal does is not in them: the \
                    crossed figures above show it.";

/// A figure by area and by spread.
struct Sure {
    name: String,
    board: String,
    figures: [(Option<f64>, Certainty); 2],
}

fn rows(comparison: &Comparison) -> Vec<Sure> {
    let Some(one) = comparison.differences.first() else {
        return Vec::new();
    };
    let board = |of: &Difference| label(comparison, of.board).to_owned();
    let mut rows = Vec::new();
    // Every board has the same targets and routes in the same order.
    for index in 0..one.targets.len() {
        for difference in &comparison.differences {
            let Some(odds) = difference.targets.get(index) else {
                continue;
            };
            rows.push(Sure {
                name: odds.band.to_string(),
                board: board(difference),
                figures: [
                    (odds.harder_by_area, odds.by_area_certainty),
                    (odds.harder_by_spread.chosen, odds.by_spread_certainty),
                ],
            });
        }
    }
    for index in 0..one.routes.len() {
        for difference in &comparison.differences {
            let Some(odds) = difference.routes.get(index) else {
                continue;
            };
            rows.push(Sure {
                name: odds.name.map_or_else(|| odds.route.to_string(), route_name),
                board: board(difference),
                figures: [
                    (odds.harder_by_area, odds.by_area_certainty),
                    (odds.harder_by_spread.chosen, odds.by_spread_certainty),
                ],
            });
        }
    }
    rows
}

fn cell((value, certainty): &(Option<f64>, Certainty)) -> String {
    let figure = digits(*value, certainty, 3);
    match certainty {
        _ if value.is_none() => figure,
        Certainty::Within { all, .. } => format!("{figure} ({})", ends(*all)),
        Certainty::NotStated => format!("{figure} (not stated)"),
        Certainty::Exact => format!("{figure} (exact)"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn within(low: f64, high: f64) -> Certainty {
        let interval = Interval { low, high };
        Certainty::Within {
            all: interval,
            boards: interval,
            player: None,
        }
    }

    #[test]
    fn digits_follow_the_interval() {
        let cases = [
            (1.1867, within(1.170, 1.204), "1.187"),
            (15.46, within(12.3, 19.5), "15.5"),
            (88.57, within(87.8, 89.34), "88.57"),
            (1234.0, within(900.0, 1700.0), "1234"),
            (1.25, within(1.2499, 1.2501), "1.2500"),
            (1.1867, Certainty::Exact, "1.187"),
            (150.2, Certainty::NotStated, "150"),
        ];
        for (value, certainty, words) in cases {
            assert_eq!(digits(Some(value), &certainty, 3), words);
        }
        assert_eq!(
            plus_minus(Some(88.57), &within(87.8, 89.34), 1),
            "88.57 ± 0.77"
        );
        assert_eq!(
            plus_minus(Some(15.46), &within(12.3, 19.5), 1),
            "15.5 ± 4.0"
        );
        assert_eq!(plus_minus(Some(88.57), &Certainty::NotStated, 1), "88.6");
        assert_eq!(digits(None, &Certainty::Exact, 3), "–");
    }
}
