//! `ringrule pool`: filled sheets become a board file.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::readings::{IntakeOptions, Pooled, Sheet, pool, take_in, to_yaml};
use ringrule::report::write_pooled;
use ringrule::workbook::Workbook;

use super::context::{Context, Ending, Output, STANDARD_INPUT, Stop, all_read};
use super::sheet_format::CsvChoice;

/// Bring filled sheets of one board together into a board file.
///
/// The file keeps every reading, with who took it, when and with what; values
/// and uncertainties follow from them whenever it is read. The scatter of single
/// readings is pooled over all rows where they scatter alike, the error of an
/// instrument that several used does not average out, and whether people agree
/// is tested with one error rate for the whole sheet. Rows that say where they
/// were taken (column `at`) are compared and combined place by place.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule pool ashdown.csv birch.csv --output fl-11.yaml\n  \
    ringrule pool sheet.csv --separator semicolon --decimal comma --output fl-12.yaml\n  \
    ringrule pool ashdown.xlsx birch.xlsx --output fl-11.yaml\n  \
    ringrule pool ashdown.csv birch.csv --disagreement widen --output fl-11.yaml\n\n\
    Exit codes:\n  \
    0  a board file was made\n  \
    1  people disagree by more than their uncertainties, and nothing was written\n  \
    2  a sheet could not be used, or the file not written\n\n\
    Rows that say where they were taken (column `at`) are compared and combined place by \
    place.\n\n\
    Without --output the board file goes to standard output and the findings to standard error.")]
pub(crate) struct PoolCommand {
    /// Filled sheets, of one or several people, all of the same board; or workbooks with rows of
    /// one board, as `intake` takes them.
    #[arg(required = true, value_name = "SHEET")]
    sheets: Vec<PathBuf>,
    /// What to do where people disagree.
    #[arg(long, value_enum, default_value_t = Disagreement::Refuse, value_name = "WHAT")]
    disagreement: Disagreement,
    #[command(flatten)]
    csv: CsvChoice,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Disagreement {
    /// Write nothing: measure again first.
    Refuse,
    /// Write the file: its uncertainty is larger by what people differ, and
    /// every report on it says so.
    Widen,
}

impl PoolCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        self.output.format(None, &[("yaml", ()), ("yml", ())], ())?;
        let books = self.sheets.iter().filter(|path| is_workbook(path, context));
        let (pooled, yaml) = match books.count() {
            0 => self.of_sheets(context)?,
            books if books == self.sheets.len() => self.of_workbooks(context)?,
            _ => {
                return Err(Stop::said(
                    "workbooks and sheets cannot be mixed: save the workbooks' rows as sheets, or \
                     put the sheets' readings into a workbook",
                ));
            }
        };
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_pooled(&mut text, &pooled);
        context.beside(&self.output, &text);
        if self.disagreement == Disagreement::Refuse && pooled.disputed().next().is_some() {
            context.note(
                "nothing was written, because people disagree: measure again, or accept the \
                 doubt with `--disagreement widen`",
            );
            return Ok(Ending::Findings);
        }
        context.deliver(&self.output, yaml.as_bytes())?;
        Ok(Ending::Good)
    }

    fn note(&self, what: &str) -> String {
        let number = self.sheets.len();
        let plural = if number == 1 { "" } else { "s" };
        format!("Made by `ringrule pool` from {number} {what}{plural}.")
    }

    fn of_sheets(&self, context: &Context) -> Result<(Pooled, String), Stop> {
        let sheets = self.read(context)?;
        let pooled = pool(&sheets).map_err(Stop::Files)?;
        let yaml = to_yaml(&pooled.file, &self.note("sheet"))
            .ok_or_else(|| Stop::said("the board file cannot be written as YAML"))?;
        Ok((pooled, yaml))
    }

    /// Workbooks are taken in as `intake` does, but for one board.
    fn of_workbooks(&self, context: &Context) -> Result<(Pooled, String), Stop> {
        let books = all_read(
            self.sheets
                .iter()
                .map(|path| self.csv.workbook(path, context)),
        )?;
        let note = self.note("workbook");
        let options = IntakeOptions {
            decimal: self.csv.decimal().unwrap_or_default(),
            note: &note,
            keeps_all: true,
            ..IntakeOptions::default()
        };
        let mut intake = take_in(&books, &options);
        if !intake.invalid_files.is_empty() {
            return Err(Stop::Files(intake.invalid_files));
        }
        let number = intake.boards.len();
        match (intake.boards.pop(), number) {
            (Some(board), 1) => {
                let pooled = board
                    .pooled
                    .ok_or_else(|| Stop::said("there are no readings"))?;
                Ok((*pooled, board.text))
            }
            (_, 0) => Err(Stop::said(
                "there are no readings in these rows: fill in at least one board",
            )),
            _ => Err(Stop::Said(format!(
                "the workbooks hold {number} boards, and `pool` makes one board file: \
                 `ringrule intake` with `--into FOLDER` makes one of each"
            ))),
        }
    }

    /// Every sheet is read before anything is said to be wrong with one.
    fn read(&self, context: &Context) -> Result<Vec<Sheet>, Stop> {
        let inputs = context.inputs();
        all_read(self.sheets.iter().map(|path| {
            let source = inputs.csv(path, self.csv.encoding())?;
            let format = self.csv.format(path, source.text());
            Sheet::read(source, format)
        }))
    }
}

/// Whether a file is a workbook; one that cannot be read is none, which reading it as a
/// sheet says.
fn is_workbook(path: &Path, context: &Context) -> bool {
    let standard_input = path.as_os_str() == STANDARD_INPUT;
    let bytes = (!standard_input).then(|| context.inputs().bytes(path).ok());
    bytes
        .flatten()
        .is_some_and(|bytes| Workbook::is_one(&bytes))
}
