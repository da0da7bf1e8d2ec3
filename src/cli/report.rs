//! `ringrule report`: what an organiser reads, signs and files.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::InvalidFile;
use ringrule::event::Event;
use ringrule::report::{Compliance, Past, ReportDetail, ReportFormat};
use ringrule::table::Table;

use super::context::{Context, Ending, Stop, by_ending, usable};
use super::event_choice::EventChoice;
use super::pdf_choice::PdfChoice;
use super::report_files::{ENDINGS, Format, Forms};
use super::report_run::{AT_ONCE, KEPT, Run};
use super::table_choice::TableChoice;

/// Write the report that an organiser signs.
///
/// One board gives one report; several give a summary of the event first, then
/// a part for each board. What an event file or an option does not say is
/// printed as not stated: nothing is made up, and no date comes from the clock.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule report fl-03.yaml --table tolerances/wdf.yaml --output fl-03.pdf\n  \
    ringrule report specs/demo --table tolerances/wdf.yaml \\\n    \
    --event specs/events/fenwick-lane-autumn.yaml -o autumn.html -o autumn.pdf -o autumn.json\n  \
    ringrule report boards --table league.yaml --event spring.yaml --each 'reports/{id}.pdf'\n  \
    ringrule report fl-03.yaml --table league.yaml --number 2026-7 --issued 2026-11-20 > fl-03.html\n\n\
    Exit codes:\n  \
    0  every report was written, with any verdict (`validate` ends with 1 for those)\n  \
    2  a file could not be used: nothing was written, or with `--skip-invalid` a report without it")]
pub(crate) struct ReportCommand {
    /// Board files, and folders with board files.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    /// Write the report to this file; its ending says as what: .txt, .html, .pdf,
    /// .md, .json, .csv or .xlsx. May be given several times.
    #[arg(long, short, value_name = "FILE")]
    output: Vec<PathBuf>,
    /// Write a report of its own for each board, `{id}` in the name standing for
    /// the board's id and `{day}` for the day of its inspection. May be given several times.
    #[arg(long, value_name = "PATTERN")]
    each: Vec<String>,
    /// Replace files that are there already.
    #[arg(long)]
    overwrite: bool,
    /// Report on the other boards where files are invalid; they are listed on the first page, and
    /// the exit code stays 2.
    #[arg(long, visible_alias = "skip-refused")]
    skip_invalid: bool,
    /// What to write to standard output when no file is named.
    #[arg(long, value_enum, default_value_t = Choice::Html, value_name = "FORMAT",
        conflicts_with_all = ["output", "each"])]
    format: Choice,
    /// How much it says (JSON, CSV and workbooks always hold everything).
    #[arg(long, value_enum, default_value_t = DetailChoice::Boards, value_name = "DETAIL")]
    detail: DetailChoice,
    #[command(flatten)]
    pdf: PdfChoice,
    #[command(flatten)]
    event: EventChoice,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Choice {
    Text,
    Html,
    Markdown,
    Json,
    /// A row for each board and check.
    Csv,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum DetailChoice {
    /// Which boards may be used, and what to do: one or two pages.
    Summary,
    /// Also a page for each board.
    Boards,
    /// Also every check with its source, and the uncertainty budgets.
    Full,
}

impl From<DetailChoice> for ReportDetail {
    fn from(choice: DetailChoice) -> Self {
        match choice {
            DetailChoice::Summary => Self::Summary,
            DetailChoice::Boards => Self::Boards,
            DetailChoice::Full => Self::Full,
        }
    }
}

impl From<Choice> for Format {
    fn from(choice: Choice) -> Self {
        Self::Pieces(match choice {
            Choice::Text => ReportFormat::Text(Context::layout()),
            Choice::Html => ReportFormat::Html,
            Choice::Markdown => ReportFormat::Markdown,
            Choice::Json => ReportFormat::Json,
            Choice::Csv => ReportFormat::Csv,
        })
    }
}

impl ReportCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let forms = self.forms()?;
        context.will_write();
        let fonts = self.pdf.fonts(context)?;
        let (event, table, boards, invalid_files) = self.read(context)?;
        let left_out = !invalid_files.is_empty();
        let judge = Judge::new(&table);
        let mut report = Compliance::new(&event, &table).in_detail(self.detail.into());
        // No day comes from the clock: the report has its own, or none.
        let on = event.issued.or(event.inspected);
        let (boards, before): (Vec<_>, Vec<_>) =
            context.latest(boards, &self.paths).into_iter().unzip();
        let pairs: Vec<_> = boards.iter().zip(&before).collect();
        let mut kept = Vec::new();
        for pairs in pairs.chunks(AT_ONCE) {
            let judged = pairs.par_iter().map(|(board, before)| {
                let before = before.as_ref().map(|before| judge.judge(before));
                (judge.judge(board), before)
            });
            let judged: Vec<_> = judged.collect();
            for ((board, _), (now, before)) in pairs.iter().zip(judged) {
                let past = Past {
                    due: on.and_then(|on| context.due(board, on)),
                    before: before.as_ref(),
                };
                report.add_with(&now, past);
                if kept.len() < KEPT {
                    kept.push(now);
                }
            }
        }
        for invalid_file in invalid_files {
            context.invalid_file(&invalid_file);
            report.leave_out(invalid_file);
        }
        let run = Run {
            report: &report,
            judge: &judge,
            boards: &boards,
            kept,
            paper: self.pdf.paper(),
            fonts,
        };
        run.write(&forms, self.overwrite, context)?;
        Ok(if left_out {
            Ending::Unusable
        } else {
            Ending::Good
        })
    }

    /// What is asked for, and as what; one report on standard output if no file is
    /// named.
    fn forms(&self) -> Result<Forms<'_>, Stop> {
        let whole = self.output.iter();
        let whole = whole.map(|path| Ok((Some(path.as_path()), by_ending(path, &ENDINGS)?)));
        let each = self.each.iter();
        let each = each.map(|each| Ok((each.as_str(), by_ending(Path::new(each), &ENDINGS)?)));
        let mut forms = Forms {
            whole: whole.collect::<Result<_, Stop>>()?,
            each: each.collect::<Result<_, Stop>>()?,
        };
        if forms.whole.is_empty() && forms.each.is_empty() {
            forms.whole.push((None, self.format.into()));
        }
        Ok(forms)
    }

    /// Event, table and boards, with the invalid files that are left out; every
    /// invalid file reported where none may be.
    fn read(&self, context: &mut Context) -> Result<Material, Stop> {
        let mut invalid_files = Vec::new();
        let event = usable(self.event.read(context), &mut invalid_files)?;
        let table = context.table(self.table.named(), &self.paths);
        let table = usable(table, &mut invalid_files)?;
        let (boards, invalid) = context.boards(&self.paths);
        invalid_files.extend(invalid);
        if boards.is_empty() && invalid_files.is_empty() {
            return Err(Stop::said(
                "there is no board to report on: name board files or their folder",
            ));
        }
        let skip = self.skip_invalid && !boards.is_empty();
        match (event, table) {
            (Some(event), Some(table)) if skip || invalid_files.is_empty() => {
                Ok((event, table, boards, invalid_files))
            }
            _ => Err(Stop::Files(invalid_files)),
        }
    }
}

/// What a report is made of, and what was left out of it.
type Material = (Event, Table, Vec<Board>, Vec<InvalidFile>);
