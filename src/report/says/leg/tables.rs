//! The tables of a leg: a row for each board, so that a dozen can be read.

use super::words::{percent, rate};
use crate::comparison::{LegOnBoard, WholeLegs};
use crate::play::{LegDifference, Objective, chance_in_legs, legs_for_chance};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};
use crate::report::says::comparison::sure::plus_minus;
use crate::report::says::comparison::words::dash;
use crate::report::says::comparison::words::one_in;

/// Differences that are listed; more are counted. House rule: what costs most is what a
/// player would notice.
const LISTED: usize = 20;

fn grid(caption: &str, head: &'static str, figures: &[&'static str]) -> Grid {
    let figures = figures.iter();
    let figures = figures.map(|figure| Column::new(*figure, ColumnKind::Figures, 1.0));
    Grid {
        caption: caption.to_owned(),
        columns: [Column::new(head, ColumnKind::Head, 1.4)]
            .into_iter()
            .chain(figures)
            .collect(),
        rows: Vec::new(),
    }
}

fn each(legs: &WholeLegs, mut grid: Grid, row: impl Fn(&LegOnBoard) -> Vec<String>) -> Grid {
    grid.rows = legs
        .boards
        .iter()
        .map(|board| Row::of(row(board)))
        .collect();
    grid
}

/// What the leg comes to on each board.
pub(super) fn figures(legs: &WholeLegs) -> Grid {
    let grid = grid(
        "Expected, over many legs",
        "board",
        &[
            "darts",
            "visits",
            "match average",
            "scoring average",
            "darts at a double",
            "of them win",
        ],
    );
    each(legs, grid, |board| {
        vec![
            board.label.clone(),
            if legs.leg.objective == Objective::Darts {
                plus_minus(Some(board.expected_darts), &board.expected_certainty, 3)
            } else {
                format!("{:.3}", board.expected_darts)
            },
            if legs.leg.objective == Objective::Visits {
                plus_minus(Some(board.expected_visits), &board.expected_certainty, 3)
            } else {
                format!("{:.3}", board.expected_visits)
            },
            plus_minus(Some(board.match_average), &board.match_average_certainty, 2),
            plus_minus(
                Some(board.scoring_average),
                &board.scoring_average_certainty,
                2,
            ),
            plus_minus(
                Some(board.darts_at_double),
                &board.darts_at_double_certainty,
                2,
            ),
            rate(board.checkout_rate, &board.checkout_rate_certainty),
        ]
    })
}

/// How long the leg takes.
pub(super) fn lengths(legs: &WholeLegs) -> Grid {
    let grid = grid(
        "Darts within which a leg is won",
        "board",
        &[
            "one in ten",
            "one in four",
            "half",
            "three in four",
            "nine in ten",
        ],
    );
    each(legs, grid, |board| {
        let within = [0.1, 0.25, 0.5, 0.75, 0.9].map(|share| {
            let darts = board.distribution.quantile(share);
            darts.map_or_else(|| "–".to_owned(), |darts| darts.to_string())
        });
        [board.label.clone()].into_iter().chain(within).collect()
    })
}

/// The perfect leg.
pub(super) fn perfect(legs: &WholeLegs) -> Grid {
    let grid = grid(
        "One leg in so many is won in the fewest darts that it can take",
        "board",
        &[
            "darts",
            "played for",
            "95 %",
            "in 1000 legs",
            "even chance after",
            "by the way",
        ],
    );
    let tries = |chance: f64| one_in(Some(1.0 / chance).filter(|tries| tries.is_finite()));
    each(legs, grid, |board| {
        let between = board.perfect_certainty.interval().map_or_else(dash, |of| {
            format!("{} to {}", tries(of.high), tries(of.low))
        });
        vec![
            board.label.clone(),
            board.perfect.darts.to_string(),
            tries(board.perfect.chance),
            between,
            percent(chance_in_legs(board.perfect.chance, 1000.0)),
            one_in(Some(legs_for_chance(board.perfect.chance, 0.5)).filter(|n| n.is_finite())),
            tries(board.perfect_by_the_way),
        ]
    })
}

/// The chances against the other player.
pub(super) fn against(legs: &WholeLegs) -> Grid {
    let grid = grid(
        "Legs won against the other player",
        "board",
        &["throwing first", "throwing second"],
    );
    each(legs, grid, |board| {
        let chances = board
            .against
            .map(|against| [against.throwing_first, against.throwing_second]);
        let chances = chances.into_iter().flatten().map(percent);
        [board.label.clone()].into_iter().chain(chances).collect()
    })
}

/// Where a board wants other aims than the first, what costs most first.
pub(super) fn differences(legs: &WholeLegs, board: &LegOnBoard) -> Vec<Block> {
    let first = legs.boards.first().map_or("", |first| first.label.as_str());
    let found = alike(&board.differences);
    let heading = format!("Where {} and {first} want different aims", board.label);
    if found.is_empty() {
        let words = "nowhere that costs more than a ten-thousandth of a dart".to_owned();
        return vec![Block::heading(heading), Block::Text(words)];
    }
    let words = |head: String| Column::new(head, ColumnKind::Words, 1.4);
    let figures = |head: String| Column::new(head, ColumnKind::Figures, 0.9);
    let mut grid = Grid {
        caption:
            "Costs: of taking the other board's aim for one dart, at most; beginnings: at how \
                  many totals such a visit may have begun"
                .to_owned(),
        columns: vec![
            Column::new("left", ColumnKind::Head, 0.6),
            figures("darts in hand".to_owned()),
            figures("beginnings".to_owned()),
            words(format!("on {first}")),
            words(format!("on {}", board.label)),
            figures(format!("costs on {first}")),
            figures(format!("costs on {}", board.label)),
        ],
        rows: Vec::new(),
    };
    for (difference, beginnings) in found.iter().take(LISTED) {
        let [one, other] = &difference.choices;
        let loss = |of: usize| {
            let loss = difference.losses.and_then(|losses| losses.get(of).copied());
            loss.map_or_else(|| "–".to_owned(), |loss| format!("{loss:.4}"))
        };
        grid.rows.push(Row::of([
            difference.left.to_string(),
            difference.darts.to_string(),
            beginnings.to_string(),
            one.bed.to_string(),
            other.bed.to_string(),
            loss(0),
            loss(1),
        ]));
    }
    let mut blocks = vec![Block::heading(heading), Block::Grid(grid)];
    let more = found.len().saturating_sub(LISTED);
    if more > 0 {
        blocks.push(Block::Note(format!(
            "And {more} more positions, which cost less: the JSON lists them all."
        )));
    }
    blocks
}

/// Differences that differ in where the visit began alone, as one: the costliest of them,
/// and how many they are; what costs most first.
fn alike(differences: &[LegDifference]) -> Vec<(&LegDifference, usize)> {
    let cost = |found: &LegDifference| found.losses.map_or(0.0, |[a, b]| a.max(b));
    let key = |found: &LegDifference| (found.left, found.darts, found.choices.map(|c| c.bed));
    let mut groups: Vec<(&LegDifference, usize)> = Vec::new();
    for found in differences {
        match groups
            .iter_mut()
            .find(|(known, _)| key(known) == key(found))
        {
            Some((worst, count)) => {
                *count += 1;
                if cost(found) > cost(worst) {
                    *worst = found;
                }
            }
            None => groups.push((found, 1)),
        }
    }
    groups.sort_by(|(a, _), (b, _)| cost(b).total_cmp(&cost(a)));
    groups
}
