//! A CSV file as a workbook of one sheet.

use std::sync::Arc;

use super::grid::{Grid, GridCell, GridRow, Value, Workbook};
use crate::document::{CsvFormat, Problems, Source, csv_rows};

impl Workbook {
    /// The rows of a CSV file: every cell is a text, and its place a line.
    pub fn of_csv(source: Source, format: CsvFormat, problems: &mut Problems) -> Self {
        let rows = csv_rows(&source, format, problems);
        let rows = rows.iter().map(|row| {
            let cells = row.cells().iter().zip(0..).map(|(cell, column)| GridCell {
                column,
                value: Value::Text(cell.text.clone()),
                span: cell.span,
                is_covered: false,
            });
            let line = source.position(row.span().start).line;
            GridRow {
                number: u32::try_from(line).unwrap_or(u32::MAX),
                cells: cells
                    .filter(|cell| cell.value != Value::Text(String::new()))
                    .collect(),
                fields: Some(row.cells().len()),
            }
        });
        let rows = rows.collect();
        Self {
            source: Arc::new(source),
            sheets: vec![Grid {
                name: None,
                rows,
                epoch: None,
                decimal: Some(format.decimal),
            }],
        }
    }
}
