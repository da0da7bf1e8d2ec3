//! A blank inspection sheet: as CSV to fill in, and as a page to print.

use super::phrases;
use crate::board::{Mounting, Profile};
use crate::document::Separator;
use crate::readings::{COLUMNS, PlannedItem, READING_COLUMNS};
use crate::report::escape;
use crate::table::Table;

/// What heads a sheet.
#[derive(Clone, Copy, Debug)]
pub struct SheetHead<'a> {
    /// The board's inventory mark, if known.
    pub board: Option<&'a str>,
    /// Where it hangs, or what people call it.
    pub name: Option<&'a str>,
    /// How its spider is held.
    pub mounting: Mounting,
    /// The cross-section of its wires.
    pub profile: Profile,
    /// The table that the sheet is made for.
    pub table: &'a Table,
}

impl SheetHead<'_> {
    /// The rows about the whole: the word in the file, what it is, its value.
    fn facts(&self) -> [(&'static str, &'static str, String); 10] {
        let known = |text: Option<&str>| text.unwrap_or_default().to_owned();
        [
            (
                "board",
                "the inventory mark on the board",
                known(self.board),
            ),
            ("name", "where it hangs", known(self.name)),
            ("mounting", "staples or embedded", self.mounting.to_string()),
            ("profile", "round or strip", self.profile.to_string()),
            ("inspector", "who takes the readings", String::new()),
            ("date", "the day, such as 2026-11-14", String::new()),
            ("instrument", "what it is, and which one", String::new()),
            (
                "resolution",
                "the step of its display, with unit",
                String::new(),
            ),
            (
                "max error",
                "its permissible error, with unit",
                String::new(),
            ),
            (
                "calibrated",
                "the day of its last calibration",
                String::new(),
            ),
        ]
    }
}

/// The limits that a row serves, in words.
fn limits(row: &PlannedItem) -> String {
    let words = row.limits.iter().map(|(measurand, interval)| {
        let interval = phrases::interval(*interval, phrases::decimals(*measurand));
        if row.limits.len() > 1 {
            format!("{measurand} {interval}")
        } else {
            interval
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

/// The sheet as CSV.
pub fn worksheet_csv(head: &SheetHead<'_>, rows: &[PlannedItem], separator: Separator) -> String {
    let readings: Vec<String> = (1..=READING_COLUMNS)
        .map(|n| format!("reading {n}"))
        .collect();
    let [columns @ .., remark] = COLUMNS;
    let mut lines = vec![
        columns
            .iter()
            .map(|&column| column.to_owned())
            .chain(readings)
            .chain([remark.to_owned()])
            .collect::<Vec<_>>(),
    ];
    let blanks = |count: usize| std::iter::repeat_n(String::new(), count);
    for (word, how, value) in head.facts() {
        let cells = [word.to_owned(), String::new(), String::new(), String::new()];
        let cells = cells.into_iter().chain([how.to_owned(), value]);
        lines.push(cells.chain(blanks(READING_COLUMNS)).collect());
    }
    for row in rows {
        let edge = row.edge.map_or_else(String::new, |edge| edge.to_string());
        let cells = [
            row.item.to_string(),
            edge,
            "mm".to_owned(),
            limits(row),
            row.how.clone(),
        ];
        lines.push(
            cells
                .into_iter()
                .chain(blanks(READING_COLUMNS + 1))
                .collect(),
        );
    }
    let separator = separator.character();
    let line = |cells: Vec<String>| {
        let cells = cells.iter().map(|cell| escape::csv(cell, separator));
        cells.collect::<Vec<_>>().join(&separator.to_string())
    };
    lines.into_iter().map(|cells| line(cells) + "\n").collect()
}

/// The sheet as a page to print: one self-contained file without scripts.
pub fn worksheet_html(head: &SheetHead<'_>, rows: &[PlannedItem]) -> String {
    let title = match head.board {
        Some(board) => format!("Inspection sheet for board {}", escape::html(board)),
        None => "Inspection sheet".to_owned(),
    };
    let mut page = format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n\
         <h1>{title}</h1>\n"
    );
    page.push_str(&format!(
        "<p>For {}; source: {}.</p>\n<table class=\"facts\">\n<caption>The board and the \
         measurement</caption>\n<tbody>\n",
        escape::html(&head.table.title),
        escape::html(&head.table.source.to_string())
    ));
    for (word, how, value) in head.facts() {
        page.push_str(&format!(
            "<tr><th scope=\"row\">{word}</th><td class=\"how\">{how}</td><td class=\"blank\">{}\
             </td></tr>\n",
            escape::html(&value)
        ));
    }
    page.push_str(
        "</tbody>\n</table>\n<table class=\"readings\">\n<caption>Readings in mm, in the order \
         round the board; several of each, taken afresh</caption>\n<thead>\n<tr><th \
         scope=\"col\">what</th><th scope=\"col\">how</th><th scope=\"col\">conforms within</th>",
    );
    for n in 1..=READING_COLUMNS {
        page.push_str(&format!("<th scope=\"col\" class=\"blank\">{n}</th>"));
    }
    page.push_str("</tr>\n</thead>\n<tbody>\n");
    for row in rows {
        let edge = row
            .edge
            .map_or_else(String::new, |edge| format!("<br><b>{edge}</b>"));
        page.push_str(&format!(
            "<tr><th scope=\"row\">{}{edge}</th><td class=\"how\">{}</td><td>{}</td>{}</tr>\n",
            escape::html(&row.item.to_string().replace('_', " ")),
            escape::html(&row.how),
            escape::html(&limits(row)),
            "<td class=\"blank\"></td>".repeat(READING_COLUMNS)
        ));
    }
    page.push_str(
        "</tbody>\n</table>\n<p class=\"sign\">Signature</p>\n<p class=\"care\">Take the darts \
         out and the board down before measuring. Old spiders have sprung wire ends and loose \
         staples: eye protection, and mind your fingers. Rehang the board on sound fixings. The \
         governing body's current rules and the venue's own safety rules prevail over this \
         sheet, which is no official approval.</p>\n</main>\n</body>\n</html>\n",
    );
    page
}

/// Black on white, made for a pen.
const STYLE: &str = "
body { font: 11pt/1.35 Georgia, 'DejaVu Serif', serif; color: #111; background: #fff;
  margin: 1.2cm auto; max-width: 26cm; padding: 0 .6cm; overflow-wrap: anywhere }
h1 { font-size: 17pt; border-bottom: 3px double #111; padding-bottom: .2em }
table { border-collapse: collapse; width: 100%; margin: .7em 0 1.1em }
caption { text-align: left; font-style: italic; padding: .2em 0 }
th, td { border: 1px solid #555; padding: .25em .45em; text-align: left; vertical-align: top }
th { font-weight: 600 } td.how { font-size: 9pt; color: #333 }
.readings td.blank, .readings th.blank { width: 1.9cm; text-align: center }
.readings th[scope=row] { width: 4.4cm }
.facts td.blank { width: 60% } .facts th { width: 6em }
tr { break-inside: avoid } thead { display: table-header-group }
.sign { border-top: 1px solid #111; width: 8cm; margin-top: 1.6cm; padding-top: .2em }
.care { font-size: 9pt; border-left: 3px solid #111; padding-left: .6em }
@page { size: landscape; margin: 1.2cm }
@media print { body { margin: 0; max-width: none } }
";
