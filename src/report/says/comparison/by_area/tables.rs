//! The tables of a comparison by areas, with their remarks.

use super::super::words::{dash, percent, route_name};
use super::words::{digits, interval, leg_rule, route_lacks};
use crate::comparison::{
    AreaAverageRow, AreaComparison, AreaRoute, AreaSource, Described, Figure, RatioFrom,
};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};

fn grid<const N: usize>(caption: String, head: String, columns: [(&'static str, bool); N]) -> Grid {
    let head = Column::new(head, ColumnKind::Head, 2.0);
    let board = Column::new("board", ColumnKind::Words, 1.2);
    let more = columns.map(|(head, figures)| {
        if figures {
            Column::new(head, ColumnKind::Figures, 1.2)
        } else {
            Column::new(head, ColumnKind::Words, 1.6)
        }
    });
    Grid {
        caption,
        columns: [head, board].into_iter().chain(more).collect(),
        rows: Vec::new(),
    }
}

fn label(comparison: &AreaComparison, index: usize) -> String {
    let board = comparison.boards.get(index);
    board.map_or_else(String::new, |board| board.label.clone())
}

/// The areas that are known, if any is.
pub(super) fn areas(comparison: &AreaComparison) -> Vec<Block> {
    let first = label(comparison, 0);
    let mut grid = grid(
        format!("Of one bed, in the mean over its band: in mm², and against that on {first}"),
        "band".to_owned(),
        [("difference", true), ("bed", true), ("from", false)],
    );
    let known = |index: usize, band| {
        let board = comparison.boards.get(index)?;
        board.beds.iter().find(|bed| bed.band == band)
    };
    for band in crate::board::Band::ALL {
        for (index, board) in comparison.boards.iter().enumerate() {
            let Some(bed) = known(index, band) else {
                continue;
            };
            let difference = known(0, band)
                .filter(|_| index > 0)
                .map(|than| percent(100.0 * (bed.bed_mm2 / than.bed_mm2 - 1.0), None));
            let u = bed
                .expanded_uncertainty_mm2
                .map_or(String::new(), |u| format!(" ± {u:.1}"));
            let from = match bed.source {
                AreaSource::Rings => "its rings and wires",
                AreaSource::Recorded => "recorded as an area",
            };
            grid.rows.push(Row::of([
                band.to_string(),
                board.label.clone(),
                difference.unwrap_or_else(dash),
                format!("{:.1}{u}", bed.bed_mm2),
                from.to_owned(),
            ]));
        }
    }
    if grid.rows.is_empty() {
        return Vec::new();
    }
    vec![
        Block::heading("Free areas"),
        Block::Grid(grid),
        Block::Note(
            "± is the expanded uncertainty (k = 2 where nothing else follows from few readings). \
             Where the rings and wires around a band are known, its area follows from them."
                .to_owned(),
        ),
    ]
}

pub(super) fn targets(comparison: &AreaComparison) -> Vec<Block> {
    let first = label(comparison, 0);
    let mut grid = grid(
        "By the area rule, with the interval of 95 %".to_owned(),
        "target".to_owned(),
        [("times harder", true), ("interval", true), ("from", false)],
    );
    let targets = comparison
        .differences
        .first()
        .map_or(0, |one| one.targets.len());
    for index in 0..targets {
        for difference in &comparison.differences {
            let Some(odds) = difference.targets.get(index) else {
                continue;
            };
            let from = match (odds.from, odds.harder) {
                (RatioFrom::Areas, Some(_)) => "both areas",
                (RatioFrom::Areas, None) => "an area is not known",
                (RatioFrom::Given, _) => "as given",
                (RatioFrom::NotNamed, _) => "not named: unchanged",
            };
            grid.rows.push(Row::of([
                odds.band.to_string(),
                label(comparison, difference.board),
                times(odds.harder),
                interval(odds.harder),
                from.to_owned(),
            ]));
        }
    }
    vec![
        Block::heading(format!("Times harder than on {first}")),
        Block::Grid(grid),
        Block::Note(
            "Above 1 is harder, below 1 easier. Exact: nothing that it rests on was measured. Not \
             stated: something that it rests on states no uncertainty."
                .to_owned(),
        ),
    ]
}

fn times(figure: Option<Figure>) -> String {
    digits(figure, 3)
}

pub(super) fn routes(comparison: &AreaComparison) -> Vec<Block> {
    let first = label(comparison, 0);
    let mut grid = grid(
        format!("How many times harder than on {first}, with the interval of 95 %"),
        "route".to_owned(),
        [("darts", true), ("times harder", true), ("interval", true)],
    );
    let name = |own: &AreaRoute| own.name.map_or_else(|| own.route.to_string(), route_name);
    let routes = comparison
        .differences
        .first()
        .map_or(0, |one| one.routes.len());
    let (mut behind, mut missing) = (Vec::new(), Vec::new());
    for index in 0..routes {
        for difference in &comparison.differences {
            let Some(own) = difference.routes.get(index) else {
                continue;
            };
            grid.rows.push(Row::of([
                name(own),
                label(comparison, difference.board),
                own.darts.to_string(),
                times(own.harder),
                interval(own.harder),
            ]));
            if own.name.is_some() && difference.board == 1 {
                behind.push(format!("{}: {}", name(own), own.route));
            }
            if own.harder.is_none() {
                let board = comparison.boards.get(difference.board);
                let given = board.is_some_and(|board| board.described == Described::Ratios);
                missing.push(format!(
                    "{} on {}: {}.",
                    name(own),
                    label(comparison, difference.board),
                    route_lacks(&own.lacks, given)
                ));
            }
        }
    }
    let mut blocks = vec![
        Block::heading("Routes"),
        Block::Grid(grid),
        Block::Note(format!(
            "A route multiplies its targets; what is not known of a band counts once for all darts \
             at it. Perfect leg: {}. {}.",
            leg_rule(comparison),
            super::super::tables::capital(&behind.join("; "))
        )),
    ];
    blocks.extend(Block::points(missing));
    blocks
}

pub(super) fn averages(comparison: &AreaComparison) -> Vec<Block> {
    let first = label(comparison, 0);
    let table = |head: String, caption: String, pick: fn(&AreaAverageRow) -> Option<Figure>| {
        let mut grid = grid(caption, head, [("worth", true), ("interval", true)]);
        let all = comparison.differences.iter();
        let rows = all.clone().filter_map(|one| one.averages.as_ref());
        let rows = rows.map(|own| own.rows.len()).max().unwrap_or(0);
        for index in 0..rows {
            for difference in all.clone() {
                let own = difference.averages.as_ref();
                let Some(row) = own.and_then(|own| own.rows.get(index)) else {
                    continue;
                };
                let figure = pick(row);
                let tenth = |value: f64| format!("{value:.1}");
                grid.rows.push(Row::of([
                    tenth(row.average),
                    label(comparison, difference.board),
                    digits(figure, 1),
                    interval(figure),
                ]));
            }
        }
        grid
    };
    if comparison
        .differences
        .iter()
        .all(|one| one.averages.is_none())
    {
        return Vec::new();
    }
    vec![
        Block::heading("Averages"),
        Block::Grid(table(
            format!("on {first}"),
            format!("What an average on {first} is worth on another board"),
            |row| row.from_first,
        )),
        Block::Grid(table(
            "average".to_owned(),
            format!("What an average on another board is worth on {first}"),
            |row| row.to_first,
        )),
        Block::Note(
            "Three-dart averages by the simple rule: every dart in the 20 bed or its treble, 60 + \
             (average - 60)/ratio. It holds from 60 to 180 only."
                .to_owned(),
        ),
    ]
}
