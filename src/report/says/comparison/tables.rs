//! The tables of a comparison, with their remarks.

use super::sure::{self, digits, plus_minus};
use super::words::{dash, label, one_in, percent, route_name};
use crate::comparison::{
    BestAim, BoardAreas, Comparison, Crossed, Difference, LastDart, RouteOdds, StartLegs,
    TargetOdds,
};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};

/// The columns that every figure which depends on metal fills.
const SETTINGS: [&str; 3] = ["as set", "all lost", "all glance"];

/// What the boards are against the first: one table for each quantity, a row for each
/// board.
pub(super) fn differences(comparison: &Comparison) -> Vec<Block> {
    let than = label(comparison, 0);
    let mut blocks = vec![
        Block::heading("Free areas"),
        Block::Grid(areas(comparison)),
        note(
            "± is the expanded uncertainty (k = 2 where nothing else follows from few readings), \
             from both boards' measured lengths; a nominal board has none. Metal: its share \
             between the apexes of the wires. Bed: the mean bed.",
        ),
        Block::heading(format!("Times harder than on {than}")),
        Block::Grid(targets(comparison)),
        note(
            "Above 1 is harder, below 1 easier. As set, and hits: each board's own setting; no \
             other column follows it. All lost, all glance: one setting on both \
             boards. Crossed: every dart on metal is lost on one board and none on the other; \
             whatever share either board's metal loses, the ratio lies between. Hits: how many of a hundred darts at the target \
             hit it, metal as set.",
        ),
        Block::heading("Routes"),
        Block::Grid(routes(comparison)),
        note(&format!(
            "A route multiplies its targets. One in: how many tries for one success, metal as set. \
             Perfect leg: of the shortest legs, the easiest on {than}. {}.",
            capital(&named_routes(comparison))
        )),
    ];
    blocks.extend(sure::table(comparison));
    blocks.extend([
        Block::heading("Averages"),
        Block::Grid(own_averages(comparison)),
        Block::Grid(averages(comparison, false)),
        Block::Grid(averages(comparison, true)),
        note(&format!(
            "Spread rule: the same spread, each board's own best aim, scoring darts only: a match \
             average counts the darts at doubles too and is lower, as `ringrule leg` works out. \
             ±: 95 %, as set and by the simple rule. Simple \
             rule: every dart in the 20 bed or its treble, 60 + (average - 60)/ratio; it holds for \
             averages from 60 to 180 only. Its ratio: {}.",
            ratios(comparison)
        )),
    ]);
    blocks
}

/// With a capital to begin a sentence.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}

fn ratios(comparison: &Comparison) -> String {
    let ratio = |difference: &Difference| {
        let board = label(comparison, difference.board);
        format!("{board} {:.4}", difference.averages.simple_ratio)
    };
    let ratios: Vec<String> = comparison.differences.iter().map(ratio).collect();
    ratios.join(", ")
}

fn note(words: &str) -> Block {
    Block::Note(words.to_owned())
}

/// A column that names rows, one of boards, columns of figures, and no rows yet.
fn grid<T: Into<String>>(
    caption: impl Into<String>,
    head: impl Into<String>,
    figures: impl IntoIterator<Item = T>,
) -> Grid {
    let head = Column::new(head.into(), ColumnKind::Head, 2.0);
    let figures = figures.into_iter();
    let figures = figures.map(|figure| Column::new(figure.into(), ColumnKind::Figures, 1.0));
    Grid {
        caption: caption.into(),
        columns: [head, board_column()].into_iter().chain(figures).collect(),
        rows: Vec::new(),
    }
}

/// What a row says of a board.
fn board_column() -> Column {
    Column::new("board", ColumnKind::Words, 1.2)
}

fn areas(comparison: &Comparison) -> Grid {
    let first = label(comparison, 0);
    let mut grid = grid(
        format!(
            "Of each band: its area against that on {first}, its area and its mean bed in mm², and \
             the metal between its apexes"
        ),
        "band",
        ["difference", "area", "bed", "metal"],
    );
    let order = comparison
        .boards
        .first()
        .map_or(&[][..], |board| &board.bands);
    for band in order.iter().map(|areas| areas.band) {
        for (index, board) in comparison.boards.iter().enumerate() {
            let Some(own) = board.bands.iter().find(|areas| areas.band == band) else {
                continue;
            };
            let of = comparison.differences.iter().find(|it| it.board == index);
            let of = of.and_then(|it| it.bands.iter().find(|it| it.band == band));
            let bed = own.free_mm2 / own.beds_mm2.len().max(1) as f64;
            grid.rows.push(Row::of([
                band.to_string(),
                board.label.clone(),
                of.map_or_else(dash, |it| {
                    percent(it.difference_percent, it.expanded_uncertainty_percent)
                }),
                format!("{:.1}", own.free_mm2),
                format!("{bed:.1}"),
                format!("{:.1} %", own.metal_share_percent),
            ]));
        }
    }
    grid
}

fn targets(comparison: &Comparison) -> Grid {
    let first = label(comparison, 0);
    let mut grid = grid(
        "By the area rule, by the spread rule as metal is set and at both extremes",
        "target",
        ["area rule"]
            .into_iter()
            .chain(SETTINGS)
            .chain(["crossed", "hits"]),
    );
    let Some(one) = comparison.differences.first() else {
        return grid;
    };
    let hits = |share: f64| format!("{:.1} %", 100.0 * share);
    for on_first in &one.targets {
        let mut row = vec![on_first.band.to_string(), first.to_owned()];
        row.extend(std::iter::repeat_n(dash(), 2 + SETTINGS.len()));
        row.push(hits(on_first.probability_on_first.chosen));
        grid.rows.push(Row::of(row));
        for difference in &comparison.differences {
            let same = |odds: &&TargetOdds| odds.band == on_first.band;
            let Some(odds) = difference.targets.iter().find(same) else {
                continue;
            };
            let board = label(comparison, difference.board).to_owned();
            let by_area = digits(odds.harder_by_area, &odds.by_area_certainty, 3);
            let by_spread = |ratio| digits(ratio, &odds.by_spread_certainty, 3);
            let mut row = vec![odds.band.to_string(), board, by_area];
            row.extend(odds.harder_by_spread.into_array().map(by_spread));
            row.push(crossed(odds.harder_crossed, by_spread));
            row.push(hits(odds.probability.chosen));
            grid.rows.push(Row::of(row));
        }
    }
    grid
}

/// Both extremes of what crossed settings give, the smaller first.
fn crossed(of: Crossed<Option<f64>>, words: impl Fn(Option<f64>) -> String) -> String {
    let [a, b] = [of.first_glances, of.first_lost];
    let swapped = a.zip(b).is_some_and(|(a, b)| a > b);
    let [least, most] = if swapped { [b, a] } else { [a, b] };
    format!("{} to {}", words(least), words(most))
}

/// What a route is called in its table: by its name if it has one.
fn route_words(odds: &RouteOdds) -> String {
    odds.name.map_or_else(|| odds.route.to_string(), route_name)
}

/// What stands behind each name of a route, and how many darts that is.
fn named_routes(comparison: &Comparison) -> String {
    let routes = comparison.differences.first().map(|one| &one.routes);
    let routes = routes.into_iter().flatten().map(|odds| {
        let darts = match odds.darts {
            1 => "1 dart".to_owned(),
            darts => format!("{darts} darts"),
        };
        match odds.name {
            Some(name) => format!("{}: {} ({darts})", route_name(name), odds.route),
            None => format!("{}: {darts}", odds.route),
        }
    });
    let mut routes: Vec<String> = routes.collect();
    routes.dedup();
    routes.join("; ")
}

fn routes(comparison: &Comparison) -> Grid {
    let first = label(comparison, 0);
    let mut grid = grid(
        format!("How many times harder than on {first}, and tries for one success"),
        "route",
        ["area rule"]
            .into_iter()
            .chain(SETTINGS)
            .chain(["crossed", "one in"]),
    );
    let Some(one) = comparison.differences.first() else {
        return grid;
    };
    // Every board has the same routes in the same order.
    for (index, on_first) in one.routes.iter().enumerate() {
        let route = route_words(on_first);
        let mut row = vec![route.clone(), first.to_owned()];
        row.extend(std::iter::repeat_n(dash(), 2 + SETTINGS.len()));
        row.push(one_in(on_first.one_in_on_first.chosen));
        grid.rows.push(Row::of(row));
        for difference in &comparison.differences {
            let Some(odds) = difference.routes.get(index) else {
                continue;
            };
            let board = label(comparison, difference.board).to_owned();
            let by_area = digits(odds.harder_by_area, &odds.by_area_certainty, 3);
            let by_spread = |ratio| digits(ratio, &odds.by_spread_certainty, 3);
            let mut row = vec![route.clone(), board, by_area];
            row.extend(odds.harder_by_spread.into_array().map(by_spread));
            row.push(crossed(odds.harder_crossed, by_spread));
            row.push(one_in(odds.one_in.chosen));
            grid.rows.push(Row::of(row));
        }
    }
    grid
}

/// The player's own average on each board.
fn own_averages(comparison: &Comparison) -> Grid {
    let board = Column::new("board", ColumnKind::Head, 2.0);
    let figures = SETTINGS.map(|head| Column::new(head, ColumnKind::Figures, 1.0));
    let aims = Column::new("best aim as set", ColumnKind::Words, 2.4);
    let certainties = comparison.player_average_certainties.iter();
    let averages = comparison.player_averages.iter().zip(certainties);
    let boards = comparison.boards.iter().zip(averages);
    let rows = boards.zip(&comparison.player_aims);
    let rows = rows.map(|((board, (averages, sure)), aims)| {
        let [chosen, extremes @ ..] = averages.into_array().map(Some);
        let chosen = plus_minus(chosen, sure, 1);
        let extremes = extremes.map(|average| digits(average, sure, 1));
        let cells = [board.label.clone(), chosen].into_iter().chain(extremes);
        Row::of(cells.chain([best_aims(aims)]))
    });
    Grid {
        caption: "This player's own average: the spread as it is, scoring darts, each board's own \
                  best aim"
            .to_owned(),
        columns: [board].into_iter().chain(figures).chain([aims]).collect(),
        rows: rows.collect(),
    }
}

/// Aims that no other beats, by the bed whose middle is nearest and from the centre.
fn best_aims(aims: &[BestAim]) -> String {
    let words = aims.iter().map(|aim| {
        let [x, y] = [
            away(aim.x_mm, ["right", "left"]),
            away(aim.y_mm, ["up", "down"]),
        ];
        format!("{}, {x}, {y}", aim.bed)
    });
    words.collect::<Vec<_>>().join("; or ")
}

/// How far from the centre, on which side.
fn away(mm: f64, [more, less]: [&str; 2]) -> String {
    let side = if mm.round() < 0.0 { less } else { more };
    format!("{:.0} mm {side}", mm.abs())
}

/// What averages on the first board are worth on the others, or theirs on it.
fn averages(comparison: &Comparison, back: bool) -> Grid {
    let first = label(comparison, 0);
    let (caption, head) = if back {
        (
            format!("What an average on another board is worth on {first}"),
            "average".to_owned(),
        )
    } else {
        (
            format!("What an average on {first} is worth on another board"),
            format!("on {first}"),
        )
    };
    let mut grid = grid(
        caption,
        head,
        SETTINGS.into_iter().chain(["simple rule", "crossed"]),
    );
    let Some(one) = comparison.differences.first() else {
        return grid;
    };
    for index in 0..one.averages.rows.len() {
        for difference in &comparison.differences {
            let Some(average) = difference.averages.rows.get(index) else {
                continue;
            };
            let (worth, simply, apart) = if back {
                (
                    (average.to_first, average.to_first_certainty),
                    (average.to_first_simply, average.to_first_simply_certainty),
                    average.to_first_crossed,
                )
            } else {
                (
                    (average.from_first, average.from_first_certainty),
                    (
                        average.from_first_simply,
                        average.from_first_simply_certainty,
                    ),
                    average.from_first_crossed,
                )
            };
            let (worth, sure) = worth;
            let [chosen, extremes @ ..] = worth.into_array();
            let other = |average| digits(average, &sure, 1);
            let board = label(comparison, difference.board).to_owned();
            let mut row = vec![format!("{:.1}", average.average), board];
            row.push(plus_minus(chosen, &sure, 1));
            row.extend(extremes.map(other));
            row.push(plus_minus(simply.0, &simply.1, 1));
            row.push(crossed(apart, other));
            grid.rows.push(Row::of(row));
        }
    }
    grid
}

/// The shortest legs of each start total.
pub(super) fn legs(legs: &[StartLegs], boards: &[BoardAreas]) -> Vec<Block> {
    let figures = |head| Column::new(head, ColumnKind::Figures, 1.0);
    let words = |head| Column::new(head, ColumnKind::Words, 2.0);
    let mut grid = Grid {
        caption: "Double out, with the easiest of them on each board".to_owned(),
        columns: vec![
            Column::new("start", ColumnKind::Head, 1.0),
            figures("darts"),
            figures("ways"),
            words("board"),
            words("easiest leg"),
            figures("equally easy"),
            figures("one in"),
        ],
        rows: Vec::new(),
    };
    let mut notes = vec![note(
        "Easiest: for the player above, metal as set. Of legs that are equally easy the one is \
         named whose scores, the largest first, are largest.",
    )];
    for leg in legs {
        for easiest in &leg.easiest {
            let board = boards.get(easiest.board);
            let none = || "none: a target that is needed is never hit".to_owned();
            grid.rows.push(Row::of([
                leg.start.to_string(),
                leg.darts.to_string(),
                leg.ways.to_string(),
                board.map(|board| board.label.clone()).unwrap_or_default(),
                easiest
                    .route
                    .as_ref()
                    .map_or_else(none, ToString::to_string),
                easiest.equal.to_string(),
                one_in(easiest.one_in),
            ]));
        }
        let last = |last: &LastDart| format!("{} {}", last.target, last.ways);
        let split: Vec<String> = leg.by_last.iter().map(last).collect();
        notes.push(note(&format!(
            "{} by last dart: {}.",
            leg.start,
            split.join(", ")
        )));
    }
    let mut blocks = vec![Block::heading("Shortest legs"), Block::Grid(grid)];
    blocks.extend(notes);
    blocks
}
