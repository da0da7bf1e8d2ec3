//! The page as Markdown.

use std::fmt::Write;

use super::page::Page;
use crate::report::escape;

pub(super) fn write(page: &Page) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "# {}\n", escape::markdown(&page.title));
    let _ = writeln!(out, "What was assumed:\n");
    for line in &page.assumptions {
        let _ = writeln!(out, "- {}", escape::markdown(line));
    }
    for section in &page.sections {
        let _ = writeln!(out, "\n## {}", escape::markdown(&section.heading));
        for table in &section.tables {
            let _ = writeln!(out, "\n{}:\n", escape::markdown(&table.caption));
            let row = |out: &mut String, cells: &[String]| {
                for cell in cells {
                    let _ = write!(out, "| {} ", escape::markdown(cell));
                }
                let _ = writeln!(out, "|");
            };
            row(&mut out, &table.columns);
            let figures = "|---:".repeat(table.columns.len().saturating_sub(1));
            let _ = writeln!(out, "|:---{figures}|");
            for cells in &table.rows {
                row(&mut out, cells);
            }
        }
        for note in &section.notes {
            let _ = writeln!(out, "\n{}", escape::markdown(note));
        }
    }
    for caution in &page.cautions {
        let _ = writeln!(out, "\n{}", escape::markdown(caution));
    }
    out
}
