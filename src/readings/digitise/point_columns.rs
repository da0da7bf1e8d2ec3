//! Which column of a coordinate table holds what.

use std::collections::HashMap;

use crate::document::{Fault, Problem, Problems, Row};
use crate::readings::sheet_columns::unknown;

/// Columns that a table may have.
const NAMES: [&str; 5] = ["feature", "x", "y", "edge", "note"];

/// The columns, as the first row names them.
pub(super) struct Columns {
    pub(super) feature: usize,
    pub(super) x: usize,
    pub(super) y: usize,
    pub(super) edge: Option<usize>,
}

impl Columns {
    /// `None` where the first row is not that of a coordinate table; the
    /// problems say why.
    pub(super) fn of(head: &Row, problems: &mut Problems) -> Option<Self> {
        let mut columns: HashMap<String, usize> = HashMap::new();
        let mut faults = Vec::new();
        for (index, cell) in head.cells().iter().enumerate() {
            let name = cell.text.to_lowercase();
            if name.is_empty() {
                continue;
            }
            if !NAMES.contains(&name.as_str()) {
                faults.push(unknown(cell, &name, &NAMES));
            } else if columns.insert(name, index).is_some() {
                let message = format!("the column `{}` is there twice", cell.text);
                let remedy = "keep one of the two";
                faults.push(Problem::new(
                    Fault::DuplicateKey,
                    cell.span,
                    message,
                    remedy,
                ));
            }
        }
        let column = |name: &str| columns.get(name).copied();
        let found = (column("feature"), column("x"), column("y"));
        if faults.is_empty() && !matches!(found, (Some(_), Some(_), Some(_))) {
            faults.push(Problem::new(
                Fault::MissingKey,
                head.span(),
                "the first row lacks a column `feature`, `x` or `y`",
                "name the columns `feature`, `x`, `y` and `edge`, in any order",
            ));
        }
        let sound = faults.is_empty();
        for fault in faults {
            problems.add(fault);
        }
        match found {
            (Some(feature), Some(x), Some(y)) if sound => Some(Self {
                feature,
                x,
                y,
                edge: column("edge"),
            }),
            _ => None,
        }
    }
}
