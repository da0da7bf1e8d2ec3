//! `ringrule history`: what has changed on boards, and which are due.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use jiff::civil::Date;
use rayon::prelude::*;
use ringrule::conformity::Judge;
use ringrule::history::{Season, undecided};
use ringrule::report::{
    ChangesShown, history_html, history_json, history_markdown, history_pdf, history_rows,
    history_text,
};

use super::context::{Context, Ending, Stop, usable};
use super::page_forms::{PageFormat, PageForms, workbook};
use super::table_choice::TableChoice;
use super::values::{day, today};

/// Say what has changed since boards were inspected before, and which are due.
///
/// Inspections of one board are files with its id and different days
/// (`inspection: { date: … }`). The latest decides. Each limited length and each band
/// is compared with the inspection before it, and a change counts where it is beyond
/// its uncertainty. Settings say how long an inspection is valid
/// (`inspections: { valid: 1 year }` in ringrule.yaml).
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule history specs/season --table wdf\n  \
    ringrule history boards --table league.yaml --on 2026-11-20 --output history.html\n  \
    ringrule history boards --table wdf --show everything --output changes.csv\n\n\
    Exit codes:\n  \
    0  every inspection is valid, or nobody says how long one is\n  \
    1  a board is overdue\n  \
    2  a file could not be used, or there was nothing to look at")]
pub(crate) struct HistoryCommand {
    /// Board files, folders with board files, or patterns.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    /// The day by which boards are due; left out, today.
    #[arg(long, value_name = "DAY", value_parser = day)]
    on: Option<Date>,
    /// Which changes are listed (JSON and CSV always hold all).
    #[arg(long, value_enum, default_value_t = Show::Changes, value_name = "WHAT")]
    show: Show,
    #[command(flatten)]
    forms: PageForms,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Show {
    /// Those that are beyond their uncertainty.
    Changes,
    /// Also those that are not.
    Everything,
}

impl HistoryCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let forms = self.forms.all()?;
        let mut invalid_files = Vec::new();
        let table = context.table(self.table.named(), &self.paths);
        let table = usable(table, &mut invalid_files)?;
        let (boards, invalid) = context.boards(&self.paths);
        invalid_files.extend(invalid);
        invalid_files.extend(undecided(&boards));
        let Some(table) = table.filter(|_| invalid_files.is_empty()) else {
            return Err(Stop::Files(invalid_files));
        };
        if boards.is_empty() {
            return Err(Stop::said(
                "there is no board to look at: name board files or their folder",
            ));
        }
        let results = context.begin(forms, self.forms.output.overwrite)?;
        let judge = Judge::new(&table);
        let assessments = boards.par_iter().map(|board| judge.judge(board)).collect();
        let validity: Vec<_> = boards.iter().map(|board| context.validity(board)).collect();
        let on = self.on.unwrap_or_else(today);
        let lasts = |index: usize| validity.get(index).copied().flatten();
        let season = Season::new(&table, on, assessments, lasts);
        let shown = match self.show {
            Show::Changes => ChangesShown::Beyond,
            Show::Everything => ChangesShown::All,
        };
        context.write(results, |format, layout, context| {
            Ok(match format {
                PageFormat::Text => history_text(&season, shown, layout).into_bytes(),
                PageFormat::Json => history_json(&season).map_err(Stop::said)?.into_bytes(),
                PageFormat::Csv => history_rows(&season).into_bytes(),
                PageFormat::Xlsx => workbook("changes", &history_rows(&season))?,
                PageFormat::Markdown => history_markdown(&season, shown).into_bytes(),
                PageFormat::Html => history_html(&season, shown).into_bytes(),
                PageFormat::Pdf => self.forms.pdf(context, |paper, fonts| {
                    history_pdf(&season, shown, paper, fonts)
                })?,
            })
        })?;
        Ok(match season.overdue() {
            0 => Ending::Good,
            _ => Ending::Findings,
        })
    }
}
