//! The compliance report: what an organiser reads, signs and files.
//!
//! [`Compliance`] collects a line for each board, then hands out the report
//! piece by piece, so that a run over a thousand boards never holds a thousand
//! pages. What the pages say is put together here; the writers in
//! [`page`] know how they look.

mod board;
mod line;
mod one_page;
mod statements;
mod summary;
mod tables;
mod takings;

use crate::conformity::Assessment;
use crate::document::InvalidFile;
use crate::event::Event;
use crate::report::draw;
use crate::report::page::{self, Entry, Part, TextLayout};
#[cfg(feature = "pdf")]
use crate::report::page::{PaperSize, Pdf, PdfError, PdfHead};
#[cfg(feature = "workbook")]
use crate::report::records::use_rows::{use_rows, venue_rows};
#[cfg(feature = "workbook")]
use crate::report::records::workbook::{WorkbookError, results_workbook};
use crate::report::records::{report as json, rows};
use crate::table::Table;

pub use line::{BoardLine, Past};
pub(in crate::report) use tables::bands_in_short;

/// The formats that are written piece by piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ReportFormat {
    /// Text in lines of such a width, without drawings.
    Text(TextLayout),
    /// One self-contained page.
    Html,
    /// A Markdown document, without drawings.
    Markdown,
    /// For other programs (`ringrule schema report`).
    Json,
    /// A row for each board and check, for spreadsheets.
    Csv,
}

/// How much a report says. JSON, CSV and workbooks always hold everything.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum ReportDetail {
    /// Which boards may be used, and what to do: one or two pages.
    Summary,
    /// Also a page for each board.
    #[default]
    Boards,
    /// Also every check, its source and its uncertainty budget.
    Full,
}

/// A report on one board, or on all boards of an event.
///
/// ```
/// use ringrule::board::Board;
/// use ringrule::conformity::Judge;
/// use ringrule::document::Source;
/// use ringrule::event::Event;
/// use ringrule::report::{Compliance, ReportFormat};
/// use ringrule::table::{Table, shelf_of};
///
/// let read = |path: &str| Ok::<_, std::io::Error>(Source::new(path, std::fs::read_to_string(path)?));
/// let path = "tolerances/wdf.yaml";
/// let table = Table::read(read(path)?, &shelf_of(path.as_ref()))?;
/// let board = Board::read(read("specs/demo/03-narrow-treble.yaml")?)?;
/// let event = Event::read(read("specs/events/fenwick-lane-autumn.yaml")?)?;
/// let judge = Judge::new(&table);
///
/// let mut report = Compliance::new(&event, &table);
/// report.add(&judge.judge(&board));
/// let mut page = report.opening(ReportFormat::Markdown);
/// for line in report.lines() {
///     page += &report.board(ReportFormat::Markdown, line, &judge.judge(&board));
/// }
/// page += &report.closing(ReportFormat::Markdown);
/// assert!(page.contains("does not conform"));
///
/// # #[cfg(feature = "pdf")]
/// # {
/// use ringrule::report::PaperSize;
///
/// let pdf = report.pdf([judge.judge(&board)].into_iter(), PaperSize::A4, Vec::new())?;
/// assert!(pdf.missing.is_empty());
/// # }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct Compliance<'a> {
    event: &'a Event,
    table: &'a Table,
    lines: Vec<BoardLine>,
    invalid_files: Vec<InvalidFile>,
    detail: ReportDetail,
}

impl<'a> Compliance<'a> {
    /// A report that boards are still to be added to.
    pub fn new(event: &'a Event, table: &'a Table) -> Self {
        Self {
            event,
            table,
            lines: Vec::new(),
            invalid_files: Vec::new(),
            detail: ReportDetail::default(),
        }
    }

    /// The same report with more or less detail.
    #[must_use]
    pub fn in_detail(self, detail: ReportDetail) -> Self {
        Self { detail, ..self }
    }

    /// Adds a board to the summary. Every board is added before the first piece
    /// is asked for.
    pub fn add(&mut self, assessment: &Assessment<'_>) {
        self.add_with(assessment, Past::default());
    }

    /// The same, with what is known of the board's other inspections.
    pub fn add_with(&mut self, assessment: &Assessment<'_>, past: Past<'_>) {
        let index = self.lines.len();
        let again = self
            .lines
            .iter()
            .filter(|line| line.id == assessment.board.id)
            .count();
        self.lines
            .push(BoardLine::new(assessment, self.event, index, again, past));
    }

    /// Adds a file of which no board could be read, so that the summary says
    /// what it leaves out.
    pub fn leave_out(&mut self, invalid_file: InvalidFile) {
        self.invalid_files.push(invalid_file);
    }

    /// The lines of the summary, in the order in which boards were added.
    pub fn lines(&self) -> &[BoardLine] {
        &self.lines
    }

    /// The report on one board alone, under the same number: what a run over
    /// this board alone would give.
    #[must_use]
    pub fn of_one(&self, line: &BoardLine) -> Self {
        let mut line = line.clone();
        line.anchor = line::anchor(0);
        Self {
            event: self.event,
            table: self.table,
            lines: vec![line],
            invalid_files: Vec::new(),
            detail: self.detail,
        }
    }

    /// Whether the boards' own parts can lean on a summary.
    fn has_summary(&self) -> bool {
        self.lines.len() > 1 || !self.invalid_files.is_empty()
    }

    /// What stands before the boards: the head, and the summary of an event.
    pub fn opening(&self, format: ReportFormat) -> String {
        let title = self.title();
        match format {
            ReportFormat::Text(layout) => {
                let summary = self.summary().map(|part| page::text_page(&part, layout));
                summary.unwrap_or_default()
            }
            ReportFormat::Html => {
                let summary = self.summary().map(|part| page::html_part(&part));
                page::html_opening(&title, false) + &self.contents() + &summary.unwrap_or_default()
            }
            ReportFormat::Markdown => {
                let summary = self.summary().map(|part| page::markdown_part(&part));
                summary.unwrap_or_default()
            }
            ReportFormat::Json => {
                let said = json::Said {
                    decision: statements::decision(self.table.decision),
                    method: statements::METHOD.map(str::to_owned).into(),
                    statements: board::cautions(),
                };
                let verdicts: Vec<_> = self.lines.iter().map(|line| line.verdict).collect();
                json::opening(self.event, self.table, said, &verdicts, &self.invalid_files)
            }
            ReportFormat::Csv => {
                let invalid = self.invalid_files.iter().map(rows::invalid_rows);
                std::iter::once(rows::check_heads())
                    .chain(invalid)
                    .collect()
            }
        }
    }

    /// One board's part. `line` is its own line of this report.
    pub fn board(
        &self,
        format: ReportFormat,
        line: &BoardLine,
        assessment: &Assessment<'_>,
    ) -> String {
        let first = self.lines.first().is_none_or(|f| f.anchor == line.anchor);
        let is_page = !matches!(format, ReportFormat::Json | ReportFormat::Csv);
        if is_page && self.is_summary_alone() {
            return String::new();
        }
        match format {
            ReportFormat::Text(layout) => {
                let page = page::text_page(&self.board_part(line, assessment, false), layout);
                // Room between a part and the one before it.
                let room = if first && !self.has_summary() {
                    ""
                } else {
                    "\n\n"
                };
                room.to_owned() + &page
            }
            ReportFormat::Html => page::html_part(&self.board_part(line, assessment, true)),
            ReportFormat::Markdown => {
                page::markdown_part(&self.board_part(line, assessment, false))
            }
            ReportFormat::Json => {
                let past = json::Past {
                    due: line.usage.due(),
                    since: line.since.as_ref().map(line::Since::record),
                };
                json::board(line.number.as_deref(), assessment, past, first)
            }
            ReportFormat::Csv => rows::check_rows(assessment),
        }
    }

    /// What stands after the boards.
    pub fn closing(&self, format: ReportFormat) -> String {
        match format {
            ReportFormat::Html => page::html_closing(),
            ReportFormat::Text(_) | ReportFormat::Markdown | ReportFormat::Csv => String::new(),
            ReportFormat::Json => json::closing(!self.lines.is_empty()),
        }
    }

    /// The checks, the boards and the venues as sheets of a workbook. `boards` are
    /// the boards that were added, in the same order. Needs the feature `workbook`.
    #[cfg(feature = "workbook")]
    pub fn workbook<'b>(
        &self,
        boards: impl Iterator<Item = Assessment<'b>>,
    ) -> Result<Vec<u8>, WorkbookError> {
        let checks = boards.map(|assessment| rows::check_rows(&assessment));
        let checks = self.opening(ReportFormat::Csv) + &checks.collect::<String>();
        let usages: Vec<_> = self.lines.iter().map(|line| line.usage.clone()).collect();
        let (boards, venues) = (use_rows(&usages), venue_rows(&usages));
        results_workbook(&[
            ("checks", &checks),
            ("boards", &boards),
            ("venues", &venues),
        ])
    }

    /// The whole report as a PDF. `boards` are the boards that were added, in
    /// the same order; `fonts` are font files for characters that our own font
    /// does not have. Needs the feature `pdf`.
    #[cfg(feature = "pdf")]
    pub fn pdf<'b>(
        &self,
        boards: impl Iterator<Item = Assessment<'b>>,
        paper: PaperSize,
        fonts: Vec<Vec<u8>>,
    ) -> Result<Pdf, PdfError> {
        let head = self.pdf_head(paper, fonts);
        let parts = self.lines.iter().zip(boards);
        let parts = parts.filter(|_| !self.is_summary_alone());
        let parts = parts.map(|(line, assessment)| self.board_part(line, &assessment, true));
        page::pdf(&head, self.summary().into_iter().chain(parts))
    }

    #[cfg(feature = "pdf")]
    fn pdf_head(&self, paper: PaperSize, fonts: Vec<Vec<u8>>) -> PdfHead {
        let event = self.event;
        let number = event.report_number.as_deref();
        let number = match self.lines.as_slice() {
            [line] => line.number.as_deref(),
            _ => number,
        };
        let title = self.title();
        PdfHead {
            author: event.authorised_by.as_ref().map(|by| by.name.clone()),
            subject: Some(self.table.title.clone()),
            date: event.issued,
            paper,
            landscape: false,
            identifier: number.unwrap_or(&title).to_owned(),
            title,
            fonts,
        }
    }

    /// The list of the boards' parts that a page begins with, where there are several.
    fn contents(&self) -> String {
        if self.lines.len() < 2 || self.is_summary_alone() {
            return String::new();
        }
        let titles: Vec<String> = self.lines.iter().map(BoardLine::title).collect();
        let entries = self.lines.iter().zip(&titles).map(|(line, title)| Entry {
            anchor: &line.anchor,
            title,
            listed: line.listed(),
        });
        page::html_contents(&entries.collect::<Vec<_>>())
    }

    /// What the whole report is called.
    fn title(&self) -> String {
        match (self.lines.as_slice(), &self.event.name) {
            ([line], _) => format!("Compliance report on board {}", line.id),
            (_, Some(name)) => format!("Compliance report: {name}"),
            (lines, None) => format!("Compliance report on {} boards", lines.len()),
        }
    }

    fn summary(&self) -> Option<Part> {
        self.has_summary().then(|| summary::part(self))
    }

    /// Whether boards have no part of their own. One board alone always has.
    fn is_summary_alone(&self) -> bool {
        self.detail == ReportDetail::Summary && self.has_summary()
    }

    fn board_part(&self, line: &BoardLine, assessment: &Assessment<'_>, drawn: bool) -> Part {
        if self.detail != ReportDetail::Full {
            let drawings = drawn.then(|| draw::board(assessment, &line.anchor));
            return one_page::part(self, line, assessment, drawings.into_iter().flatten());
        }
        let mut figures = Vec::new();
        if drawn {
            figures.extend(draw::board(assessment, &line.anchor));
            figures.extend(draw::sections(assessment));
        }
        board::part(self, line, assessment, figures)
    }
}

#[cfg(all(test, feature = "pdf"))]
mod tests;
