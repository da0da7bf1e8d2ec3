//! Which wire matters, as a table.

use crate::comparison::{LegOnBoard, WholeLegs, Wire};
use crate::report::page::{Block, Column, ColumnKind, Grid, Row};

/// What a wire is called.
pub(in crate::report) fn name(wire: Wire) -> String {
    match wire {
        Wire::Ring(ring) => format!("{} wire", ring.key().replace('_', " ")),
        Wire::Sectors => "sector wires".to_owned(),
        Wire::All => "all wires".to_owned(),
    }
}

pub(super) fn blocks(legs: &WholeLegs) -> Vec<Block> {
    let boards = legs.boards.iter().flat_map(|board| {
        [
            Block::heading(format!("Which wire matters on {}", board.label)),
            Block::Grid(table(legs, board)),
        ]
    });
    let note = "A wire a tenth of a millimetre thicker, its apex where it is, metal as set; treble \
                and double: how much harder, in the mean over the band. Effects of single wires \
                add up to that of all but for rounding; twice the wire is twice the effect. Where \
                every dart on metal glances, its width hardly matters.";
    boards.chain([Block::Note(note.to_owned())]).collect()
}

fn table(legs: &WholeLegs, board: &LegOnBoard) -> Grid {
    let leg = match legs.leg.objective {
        crate::play::Objective::Visits => "visits a leg",
        _ => "darts a leg",
    };
    let figures = ["treble", "double", "scoring average", leg];
    let figures = figures.map(|head| Column::new(head, ColumnKind::Figures, 1.0));
    let signed = |value: f64, decimals: usize, unit: &str| {
        let least = 0.5 * libm::pow(10.0, -(decimals as f64));
        let value = if value.abs() < least { 0.0 } else { value };
        let sign = if value > 0.0 { "+" } else { "" };
        format!("{sign}{value:.decimals$}{unit}")
    };
    Grid {
        caption: "What 0.1 mm more of a wire does".to_owned(),
        columns: [Column::new("wire", ColumnKind::Head, 1.6)]
            .into_iter()
            .chain(figures)
            .collect(),
        rows: board
            .wires
            .iter()
            .map(|effect| {
                Row::of([
                    name(effect.wire),
                    signed(effect.treble_percent, 2, " %"),
                    signed(effect.double_percent, 2, " %"),
                    signed(effect.scoring_average, 3, ""),
                    signed(effect.expected, 4, ""),
                ])
            })
            .collect(),
    }
}
