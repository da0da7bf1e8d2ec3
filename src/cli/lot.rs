//! `ringrule lot`: a production run, its process and its capability.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::conformity::Judge;
use ringrule::document::InvalidFile;
use ringrule::lot::{BoardRow, Lot, LotBuilder, LotError, Order};
use ringrule::report::{LotReport, lot_html, lot_markdown, lot_pdf, lot_rows, lot_text};
use ringrule::table::Table;

use super::context::{Context, Ending, Stop, Wanted, usable};
use super::page_forms::{Form, PageFormat, PageForms, workbook};
use super::table_choice::TableChoice;

/// Say whether the process that made a run of boards is stable and capable.
///
/// Of every limited length and every band's area: mean, spread, extremes and the share
/// outside; charts of single values, of the moving average and of runs, with the boards at
/// which shifts and drifts begin; Cp and Cpk with their intervals, the measurement's own
/// scatter taken out, where the charts are stable.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule lot boards --table wdf\n  \
    ringrule lot boards --table wdf --order made --output run.html\n  \
    ringrule lot boards --table wdf --output run.html --also run.csv --also run.json\n  \
    ringrule intake specs/lot/run.csv --into run && ringrule lot run --table wdf\n\n\
    Exit codes:\n  \
    0  no chart gives a signal, and every value is within its limits\n  \
    1  a chart gives a signal, or a value is outside\n  \
    2  a file could not be used, the boards are no run, or a report was not written")]
pub(crate) struct LotCommand {
    /// Board files, folders with board files, patterns such as `boards/**/fl-*.yaml`, or `-` for
    /// standard input.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    /// In which order the boards were made: as the files are given, those of a folder by path,
    /// or by the year `made`, then the day of inspection, then the path.
    #[arg(long, value_enum, default_value_t = OrderChoice::File, value_name = "ORDER")]
    order: OrderChoice,
    #[command(flatten)]
    forms: PageForms,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum OrderChoice {
    File,
    Made,
}

/// Files that are read and judged before the next ones, so that memory does not grow
/// with the boards themselves. House rule.
const AT_ONCE: usize = 256;

impl LotCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let forms = self.forms.all()?;
        if forms.iter().any(|(path, _)| path.is_some()) {
            context.will_write();
        }
        let mut invalid_files = Vec::new();
        let table = context.table(self.table.named(), &self.paths);
        let Some(table) = usable(table, &mut invalid_files)? else {
            // Every problem in one run: the boards' too.
            invalid_files.extend(context.boards(&self.paths).1);
            return Err(Stop::Files(invalid_files));
        };
        let builder = self.gather(&table, context)?;
        let order = match self.order {
            OrderChoice::File => Order::File,
            OrderChoice::Made => Order::Made,
        };
        let lot = builder.finish(order).map_err(|errors| why(&errors))?;
        self.write(&lot, forms, context)?;
        let found = lot.is_unstable() || lot.has_outside();
        Ok(if found {
            Ending::Findings
        } else {
            Ending::Good
        })
    }

    /// The numbers that matter of every board, or every file that is no board.
    fn gather<'t>(&self, table: &'t Table, context: &mut Context) -> Result<LotBuilder<'t>, Stop> {
        let judge = Judge::new(table);
        let mut builder = LotBuilder::new(table);
        let found = context.find(&self.paths, Wanted::Yaml);
        let mut invalid_files = found.invalid_files;
        for files in found.files.chunks(AT_ONCE) {
            let read = context.read_boards(files, &self.paths);
            let rows = read
                .into_par_iter()
                .map(|board| -> Result<_, InvalidFile> { Ok(BoardRow::of(&judge.judge(&board?))) });
            for row in rows.collect::<Vec<_>>() {
                match row {
                    Ok(row) => builder.add(row),
                    Err(invalid_file) => invalid_files.push(invalid_file),
                }
            }
        }
        if invalid_files.is_empty() {
            return Ok(builder);
        }
        Err(Stop::Files(invalid_files))
    }

    fn write(
        &self,
        lot: &Lot<'_>,
        forms: Vec<Form<'_, PageFormat>>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let results = context.begin(forms, self.forms.output.overwrite)?;
        context.write(results, |form, layout, context| {
            Ok(match form {
                PageFormat::Text => lot_text(lot, layout).into_bytes(),
                PageFormat::Markdown => lot_markdown(lot).into_bytes(),
                PageFormat::Html => lot_html(lot).into_bytes(),
                PageFormat::Csv => lot_rows(lot).into_bytes(),
                PageFormat::Xlsx => workbook("series", &lot_rows(lot))?,
                PageFormat::Json => {
                    let json = LotReport::new(lot).to_json();
                    json.map_err(Stop::said)?.into_bytes()
                }
                PageFormat::Pdf => self
                    .forms
                    .pdf(context, |paper, fonts| lot_pdf(lot, paper, fonts))?,
            })
        })
    }
}

fn why(errors: &[LotError]) -> Stop {
    let all: Vec<String> = errors.iter().map(ToString::to_string).collect();
    Stop::Said(all.join("\n"))
}
