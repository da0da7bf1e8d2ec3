//! The shortest legs in words.

use super::page::{Section, Table};
use super::words::one_in;
use crate::comparison::{BoardAreas, LegRecord};

pub(super) fn legs(legs: &[LegRecord], boards: &[BoardAreas]) -> Section {
    let mut table = Table::new(
        "The shortest legs there are, double out, and the easiest of them on each board",
        &["start", "darts", "ways", "board", "easiest leg", "one in"],
    );
    let mut notes = vec!["Easiest: for the player above, metal as set.".to_owned()];
    for leg in legs {
        for easiest in &leg.easiest {
            let board = boards.get(easiest.board);
            table.rows.push(vec![
                leg.start.to_string(),
                leg.darts.to_string(),
                leg.ways.clone(),
                board.map(|board| board.label.clone()).unwrap_or_default(),
                easiest
                    .route
                    .clone()
                    .unwrap_or_else(|| "none: a target that is needed is never hit".to_owned()),
                one_in(easiest.one_in),
            ]);
        }
        let last = |last: &crate::comparison::LastDart| format!("{} {}", last.target, last.ways);
        let split: Vec<String> = leg.by_last.iter().map(last).collect();
        notes.push(format!("{} by last dart: {}.", leg.start, split.join(", ")));
    }
    Section {
        heading: "Shortest legs".to_owned(),
        tables: vec![table],
        notes,
    }
}
