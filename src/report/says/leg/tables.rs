//! The tables of a leg: a row for each board, so that a dozen can be read.

use super::words::percent;
use crate::comparison::{LegOnBoard, WholeLegs};
use crate::play::{FinishRow, LegDifference};
use crate::report::page::{Block, Cell, Column, ColumnKind, Grid, Row};
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
            format!("{:.3}", board.expected_darts),
            format!("{:.3}", board.expected_visits),
            format!("{:.2}", board.match_average),
            format!("{:.2}", board.scoring_average),
            format!("{:.2}", board.darts_at_double),
            percent(board.checkout_rate),
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
        &["darts", "played for", "by the way"],
    );
    let tries = |chance: f64| one_in(Some(1.0 / chance).filter(|tries| tries.is_finite()));
    each(legs, grid, |board| {
        vec![
            board.label.clone(),
            board.perfect.darts.to_string(),
            tries(board.perfect.chance),
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

/// What is best for every total and every dart in hand, from the highest down.
pub(super) fn finishes(legs: &WholeLegs, board: &LegOnBoard) -> Grid {
    let words = |head: &'static str| Column::new(head, ColumnKind::Words, 1.5);
    let further = match legs.leg.objective {
        crate::play::Objective::Visits => "visits further",
        _ => "darts further",
    };
    let mut grid = Grid {
        caption: "Where to aim, by what is left and how many darts are in hand".to_owned(),
        columns: vec![
            Column::new("left", ColumnKind::Head, 0.5),
            words("three darts"),
            words("two darts"),
            words("one dart"),
            Column::new(further, ColumnKind::Figures, 0.8),
        ],
        rows: Vec::new(),
    };
    let highest = board.finishes.iter().map(|row| row.left).max().unwrap_or(0);
    for left in (2..=highest).rev() {
        let of = |darts: usize| {
            let mut rows = board.finishes.iter();
            rows.find(|row| row.left == left && row.darts == darts)
        };
        let begins = of(3).and_then(|row| row.choices.first());
        let further = begins.map_or_else(
            || "–".to_owned(),
            |chosen| format!("{:.3}", chosen.choice.expected),
        );
        let cells = [aims(of(3)), aims(of(2)), aims(of(1)), further];
        let cells = [left.to_string()].into_iter().chain(cells).map(Cell::Text);
        grid.rows.push(Row::keyed(String::new(), cells.collect()));
    }
    grid
}

/// The beds that are aimed at, the one that most visits want first.
fn aims(row: Option<&FinishRow>) -> String {
    let beds = row.map(FinishRow::by_bed).unwrap_or_default();
    let beds: Vec<String> = beds.iter().map(|(bed, _)| bed.to_string()).collect();
    if beds.is_empty() {
        "–".to_owned()
    } else {
        beds.join(", ")
    }
}
