//! The table of finishes: where to aim, by what is left and how many darts are in hand.

use crate::board::Band;
use crate::comparison::{LegOnBoard, WholeLegs};
use crate::play::FinishRow;
use crate::report::page::{Cell, Column, ColumnKind, Grid, Row};

/// What is best for every total and every dart in hand, from the highest down.
pub(super) fn one_below_the_other(legs: &WholeLegs, board: &LegOnBoard) -> Grid {
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

/// Groups of columns side by side, so that a table up to the highest finish fits a page.
const GROUPS: u32 = 5;

/// The same in groups of columns side by side, in the trade's own short form.
pub(super) fn side_by_side(board: &LegOnBoard) -> Grid {
    let column = |head: &'static str, kind| Column::new(head, kind, 1.0);
    let group = [
        column("left", ColumnKind::Head),
        column("3", ColumnKind::Words),
        column("2", ColumnKind::Words),
        column("1", ColumnKind::Words),
    ];
    let highest = board.finishes.iter().map(|row| row.left).max().unwrap_or(0);
    let totals = highest.saturating_sub(1);
    let rows = totals.div_ceil(GROUPS);
    let cells = |left: u32| {
        let of = |darts: usize| {
            let mut rows = board.finishes.iter();
            rows.find(|row| row.left == left && row.darts == darts)
        };
        let aims = [3, 2, 1].map(|darts| of(darts).map_or_else(String::new, short));
        [left.to_string()].into_iter().chain(aims)
    };
    let row = |row: u32| {
        let totals = (0..GROUPS).map(|group| highest.checked_sub(row + group * rows));
        let cells: Vec<Cell> = totals
            .flat_map(|left| match left.filter(|left| *left >= 2) {
                Some(left) => cells(left).collect::<Vec<_>>(),
                None => ["–", "", "", ""].map(str::to_owned).into(),
            })
            .map(Cell::Text)
            .collect();
        Row::keyed(String::new(), cells)
    };
    Grid {
        caption: "Where to aim, by what is left and how many darts are in hand: 3, 2 or 1. T: \
                  treble, D: double, S: outer single, s: inner single; 25: outer bull"
            .to_owned(),
        columns: (0..GROUPS).flat_map(|_| group.clone()).collect(),
        rows: (0..rows).map(row).collect(),
    }
}

/// The bed that most visits aim at, in short; a sign where others want another.
fn short(row: &FinishRow) -> String {
    let beds = row.by_bed();
    let Some((bed, _)) = beds.first() else {
        return String::new();
    };
    let number = bed.number();
    let name = match bed.band() {
        Band::InnerBull => "Bull".to_owned(),
        Band::OuterBull => "25".to_owned(),
        Band::InnerSingle => format!("s{number}"),
        Band::OuterSingle => format!("S{number}"),
        Band::Treble => format!("T{number}"),
        Band::Double => format!("D{number}"),
    };
    let more = if beds.len() > 1 { "\u{202f}+" } else { "" };
    format!("{name}{more}")
}
