//! The page for a terminal.

use std::fmt::Write;

use unicode_width::UnicodeWidthStr;

use super::page::{Page, Table};
use crate::report::escape;
use crate::report::style::Style;

/// Columns of running text.
const WIDTH: usize = 96;

pub(super) fn write(page: &Page) -> String {
    let mut out = String::new();
    // Writing into a string cannot fail.
    let _ = writeln!(
        out,
        "{}",
        Style::Strong.paint(escape::terminal(&page.title))
    );
    for line in &page.assumptions {
        wrap(&mut out, "  ", line);
    }
    for section in &page.sections {
        let heading = escape::terminal(&section.heading);
        let _ = writeln!(out, "\n{}", Style::Strong.paint(heading));
        for (index, table) in section.tables.iter().enumerate() {
            if section.tables.len() > 1 {
                let gap = if index > 0 { "\n" } else { "" };
                let _ = writeln!(out, "{gap}  {}", escape::terminal(&table.caption));
            }
            self::table(&mut out, table);
        }
        for note in &section.notes {
            wrap(&mut out, "  ", note);
        }
    }
    out.push('\n');
    for caution in &page.cautions {
        wrap(&mut out, "", caution);
    }
    out
}

fn table(out: &mut String, table: &Table) {
    let clean = |row: &Vec<String>| -> Vec<String> {
        row.iter()
            .map(|cell| escape::terminal(cell).into_owned())
            .collect()
    };
    let rows: Vec<Vec<String>> = table.rows.iter().map(clean).collect();
    let head = heads(&clean(&table.columns));
    let width = |column: usize| {
        let all = head.iter().chain(&rows);
        let cells = all.filter_map(|row| row.get(column));
        cells.map(|cell| cell.width()).max().unwrap_or_default()
    };
    let widths: Vec<usize> = (0..table.columns.len()).map(width).collect();
    // A column of words is set from the left, like the first.
    let wordy: Vec<bool> = (0..widths.len())
        .map(|column| {
            let cells = rows.iter().filter_map(|row| row.get(column));
            column == 0 || cells.clone().any(|cell| cell.contains(char::is_alphabetic))
        })
        .collect();
    for (index, row) in head.iter().chain(&rows).enumerate() {
        let mut line = String::new();
        for ((cell, width), wordy) in row.iter().zip(&widths).zip(&wordy) {
            let fill = " ".repeat(width.saturating_sub(cell.width()));
            let _ = if *wordy {
                write!(line, "  {cell}{fill}")
            } else {
                write!(line, "  {fill}{cell}")
            };
        }
        let line = line.trim_end();
        let _ = if index < head.len() {
            writeln!(out, "{}", Style::Faint.paint(line))
        } else {
            writeln!(out, "{line}")
        };
    }
}

/// Headings broken at their comma, so that columns stay as narrow as figures.
fn heads(columns: &[String]) -> Vec<Vec<String>> {
    let split: Vec<(String, String)> = columns
        .iter()
        .map(|name| match name.split_once(", ") {
            Some((above, below)) => (above.to_owned(), below.to_owned()),
            None => (String::new(), name.clone()),
        })
        .collect();
    let (above, below): (Vec<String>, Vec<String>) = split.into_iter().unzip();
    if above.iter().all(String::is_empty) {
        vec![below]
    } else {
        vec![above, below]
    }
}

/// Running text, broken between words.
fn wrap(out: &mut String, indent: &str, text: &str) {
    let text = escape::terminal(text);
    let mut line = String::new();
    for word in text.split(' ') {
        if !line.is_empty() && indent.len() + line.width() + 1 + word.width() > WIDTH {
            let _ = writeln!(out, "{indent}{line}");
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    let _ = writeln!(out, "{indent}{line}");
}
