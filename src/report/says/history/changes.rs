//! What has changed from one inspection to the next, in words and as a table.

use crate::history::{Change, Changed};
use crate::report::page::{Block, Cell, Column, ColumnKind, Grid, Row};
use crate::report::records::history::ChangeRecord;
use crate::report::says::phrases;

/// Which changes a history lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChangesShown {
    /// Those beyond their uncertainty, and those of which that is not known.
    Beyond,
    /// All.
    All,
}

/// A change with its words. Small: a report keeps those of every board.
#[derive(Clone, Debug)]
pub(in crate::report::says) struct ChangeLine {
    pub(in crate::report::says) record: ChangeRecord,
    /// The check, in words.
    name: String,
    key: String,
    decimals: usize,
}

impl ChangeLine {
    pub(in crate::report::says) fn of(change: &Change<'_>) -> Self {
        let (key, name, decimals) = match change.changed {
            Changed::Length { finding, at, .. } => {
                let name = phrases::check(finding);
                let name = at.map_or_else(|| name.clone(), |at| format!("{name}, at {at}"));
                let decimals = phrases::decimals(finding.limit.measurand);
                (phrases::key(finding), name, decimals)
            }
            Changed::Area { band, .. } => {
                let key = format!("{}.area", band.key());
                (key, format!("{band} area, %"), 2)
            }
        };
        Self {
            record: ChangeRecord::of(change),
            name,
            key,
            decimals,
        }
    }

    fn row(&self) -> Row {
        let Self {
            record, decimals, ..
        } = self;
        let plain = |value: f64| {
            if record.is_area() {
                phrases::signed_number(value, *decimals)
            } else {
                format!("{value:.decimals$}")
            }
        };
        let expanded = record.change_expanded_uncertainty;
        let word = match record.beyond_uncertainty {
            Some(true) => "yes",
            Some(false) => "no",
            None => "not known",
        };
        let normalised = record.normalised;
        let cells = [
            self.name.clone(),
            plain(record.before),
            plain(record.latest),
            phrases::signed_number(record.change, *decimals),
            expanded.map_or_else(String::new, |u| format!("{u:.decimals$}")),
            normalised.map_or_else(String::new, |e| phrases::signed_number(e, 1)),
            word.to_owned(),
        ];
        Row::keyed(
            self.key.clone(),
            cells.into_iter().map(Cell::Text).collect(),
        )
    }
}

/// How much has changed, in a few words.
pub(in crate::report::says) fn tally(changes: &[ChangeLine]) -> String {
    let with = |wanted: Option<bool>| {
        let all = changes.iter();
        all.filter(|change| change.record.beyond_uncertainty == wanted)
            .count()
    };
    let (beyond, unknown) = (with(Some(true)), with(None));
    if changes.is_empty() {
        return "nothing in common to compare".to_owned();
    }
    if unknown == changes.len() {
        return "uncertainty not stated".to_owned();
    }
    let words = match beyond {
        0 => "nothing beyond uncertainty".to_owned(),
        beyond => phrases::count(beyond, "check", "checks") + " beyond uncertainty",
    };
    match unknown {
        0 => words,
        unknown => format!("{words}, {unknown} without uncertainty"),
    }
}

/// The changes since an inspection, as a table and what it leaves out.
pub(in crate::report::says) fn since(
    changes: &[ChangeLine],
    day: &str,
    shown: ChangesShown,
) -> Vec<Block> {
    let listed = changes.iter().filter(|change| {
        shown == ChangesShown::All || change.record.beyond_uncertainty != Some(false)
    });
    let rows: Vec<Row> = listed.map(ChangeLine::row).collect();
    let left = changes.len() - rows.len();
    let mut blocks = Vec::new();
    if !rows.is_empty() {
        blocks.push(Block::Grid(Grid {
            caption: format!(
                "Since {day}. Lengths in mm; areas as their deviation from the nominal area, in \
                 percent of it. ± U: the expanded uncertainty of the change. En: change over U."
            ),
            rows,
            columns: vec![
                Column::new("check", ColumnKind::Head, 36.0),
                Column::new("before", ColumnKind::Figures, 11.0),
                Column::new("latest", ColumnKind::Figures, 11.0),
                Column::new("change", ColumnKind::Figures, 11.0),
                Column::new("± U", ColumnKind::Figures, 9.0),
                Column::new("En", ColumnKind::Figures, 8.0),
                Column::new("beyond uncertainty", ColumnKind::Words, 14.0),
            ],
        }));
    }
    if left > 0 {
        let checks = phrases::count(left, "check", "checks");
        blocks.push(Block::Note(format!(
            "{checks} changed by no more than {} uncertainty.",
            if left == 1 { "its" } else { "their" }
        )));
    }
    blocks
}
