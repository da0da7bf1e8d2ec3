//! A CSV file as a workbook of one sheet.

use std::sync::Arc;

use super::grid::{Grid, GridCell, GridRow, Value, Workbook};
use crate::document::{CsvFormat, InvalidFile, Problems, Recognised, Source, csv_rows};

impl Workbook {
    /// The rows of a CSV file: every cell is a text, and its place a line. A board file
    /// or another of ours in YAML is refused by its name.
    pub fn of_csv(source: Source, format: CsvFormat) -> Result<Self, InvalidFile> {
        if Recognised::of_text(source.text()).is_some_and(Recognised::is_yaml)
            && let Some(other) = Recognised::instead_of(Recognised::Workbook, &source)
        {
            return Err(other);
        }
        let mut problems = Problems::default();
        let rows = csv_rows(&source, format, &mut problems);
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
        let source = Arc::new(source);
        problems.into_result(&source)?;
        Ok(Self {
            source,
            sheets: vec![Grid {
                name: None,
                rows,
                epoch: None,
                decimal: Some(format.decimal),
            }],
        })
    }
}
