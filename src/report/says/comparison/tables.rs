//! The tables of a comparison, with their remarks.

use super::words::{one_in, percent, ratio, route_name, tenth};
use crate::comparison::{
    AverageTable, BoardAreas, ByMetal, Comparison, Difference, LastDart, RouteOdds, StartLegs,
};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};

/// The columns that every figure which depends on metal fills.
const SETTINGS: [&str; 3] = ["as set", "all lost", "all glance"];

/// What one board is against the first.
pub(super) fn difference(comparison: &Comparison, difference: &Difference) -> Vec<Block> {
    let boards = &comparison.boards;
    let (Some(first), Some(board)) = (boards.first(), boards.get(difference.board)) else {
        return Vec::new();
    };
    let (name, than) = (board.label.as_str(), first.label.as_str());
    let [forth, back] = averages(&difference.averages, name, than);
    vec![
        Block::heading(format!("Free areas of {name} against {than}")),
        Block::Grid(areas(difference, board, first)),
        note(
            "± is the expanded uncertainty (k = 2 where nothing else follows from few readings), \
             from both boards' measured lengths; a nominal board has none. Metal: its share \
             between the apexes of the wires. Bed: the mean bed.",
        ),
        Block::heading(format!("Times harder on {name} than on {than}")),
        Block::Grid(targets(difference, name, than)),
        note(
            "Above 1 is harder, below 1 easier. Hits: how many of a hundred darts at the target \
             hit it, metal as set.",
        ),
        Block::heading(format!("Routes on {name} and on {than}")),
        Block::Grid(routes(&difference.routes, name, than)),
        note(&format!(
            "A route multiplies its targets. One in: how many tries for one success, metal as set. \
             Perfect leg: of the shortest legs, the easiest on {than}."
        )),
        Block::heading(format!("Averages on {name} and on {than}")),
        Block::Grid(forth),
        Block::Grid(back),
        note(
            "Spread rule: the same spread, each board's own best aim, scoring darts only. Simple \
             rule: every dart in the 20 bed or its treble, 60 + (average - 60)/ratio; it holds for \
             averages from 60 to 180 only.",
        ),
    ]
}

fn note(words: &str) -> Block {
    Block::Note(words.to_owned())
}

/// A column that names rows, columns of figures, and no rows yet.
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
        columns: [head].into_iter().chain(figures).collect(),
        rows: Vec::new(),
    }
}

/// The columns of the area rule and, for each setting of metal, the spread rule.
fn rules() -> impl Iterator<Item = String> {
    let spread = SETTINGS.map(|setting| format!("spread rule, {setting}"));
    ["area rule".to_owned()].into_iter().chain(spread)
}

fn areas(difference: &Difference, board: &BoardAreas, first: &BoardAreas) -> Grid {
    let (name, than) = (&board.label, &first.label);
    let mut grid = grid(
        "Of each band: its area, the metal between its apexes, and its mean bed",
        "band",
        [
            format!("{than}, mm²"),
            format!("{than}, metal"),
            format!("{name}, mm²"),
            format!("{name}, metal"),
            "difference".to_owned(),
            format!("{than}, bed"),
            format!("{name}, bed"),
        ],
    );
    for band in &difference.bands {
        let of = |board: &BoardAreas| board.bands.iter().find(|b| b.band == band.band).cloned();
        let (Some(own), Some(other)) = (of(board), of(first)) else {
            continue;
        };
        let bed = |free: f64, beds: usize| format!("{:.1}", free / beds.max(1) as f64);
        grid.rows.push(Row::of([
            band.band.to_string(),
            format!("{:.1}", other.free_mm2),
            format!("{:.1} %", other.metal_share_percent),
            format!("{:.1}", own.free_mm2),
            format!("{:.1} %", own.metal_share_percent),
            percent(band.difference_percent, band.expanded_uncertainty_percent),
            bed(other.free_mm2, other.beds_mm2.len()),
            bed(own.free_mm2, own.beds_mm2.len()),
        ]));
    }
    grid
}

fn targets(difference: &Difference, name: &str, than: &str) -> Grid {
    let hits = [than, name].map(|board| format!("hits on {board}"));
    let caption = "By each rule, and by what metal does to a dart";
    let mut grid = grid(caption, "target", rules().chain(hits));
    for odds in &difference.targets {
        let mut row = vec![odds.band.to_string(), ratio(odds.harder_by_area)];
        row.extend(odds.harder_by_spread.into_array().map(ratio));
        row.push(format!("{:.1} %", 100.0 * odds.probability_on_first.chosen));
        row.push(format!("{:.1} %", 100.0 * odds.probability.chosen));
        grid.rows.push(Row::of(row));
    }
    grid
}

fn routes(routes: &[RouteOdds], name: &str, than: &str) -> Grid {
    let tries = [than, name].map(|board| format!("one in, {board}"));
    let columns = ["darts".to_owned()].into_iter().chain(rules());
    let mut grid = grid(
        "How many times harder, and how many tries there are for one success",
        "route",
        columns.chain(tries),
    );
    for odds in routes {
        let route = match odds.name {
            Some(name) => format!("{}: {}", route_name(name), odds.route),
            None => odds.route.to_string(),
        };
        let mut row = vec![route, odds.darts.to_string(), ratio(odds.harder_by_area)];
        row.extend(odds.harder_by_spread.into_array().map(ratio));
        row.push(one_in(odds.one_in_on_first.chosen));
        row.push(one_in(odds.one_in.chosen));
        grid.rows.push(Row::of(row));
    }
    grid
}

fn averages(averages: &AverageTable, name: &str, than: &str) -> [Grid; 2] {
    let grid = |from: &str, to: &str, figures: Vec<(f64, ByMetal<Option<f64>>, Option<f64>)>| {
        let ratio = averages.simple_ratio;
        let mut grid = grid(
            format!("What an average on {from} is worth on {to} (simple rule: ratio {ratio:.4})"),
            format!("on {from}"),
            rules().skip(1).chain(["simple rule".to_owned()]),
        );
        for (average, worth, simply) in figures {
            let mut row = vec![format!("{average:.1}")];
            row.extend(worth.into_array().map(tenth));
            row.push(tenth(simply));
            grid.rows.push(Row::of(row));
        }
        grid
    };
    let rows = || averages.rows.iter();
    let forth = rows().map(|row| (row.average, row.from_first, row.from_first_simply));
    let back = rows().map(|row| (row.average, row.to_first, row.to_first_simply));
    [
        grid(than, name, forth.collect()),
        grid(name, than, back.collect()),
    ]
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
            figures("one in"),
        ],
        rows: Vec::new(),
    };
    let mut notes = vec![note("Easiest: for the player above, metal as set.")];
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
