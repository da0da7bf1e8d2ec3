//! `ringrule pool`: filled sheets become a board file.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::readings::{Sheet, pool, to_yaml};
use ringrule::report::write_pooled;

use super::context::{Context, Ending, Output, Stop, all_read};
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
    ringrule pool ashdown.csv birch.csv --disagreement widen --output fl-11.yaml\n\n\
    Exit codes:\n  \
    0  a board file was made\n  \
    1  people disagree by more than their uncertainties, and nothing was written\n  \
    2  a sheet could not be used, or the file not written\n\n\
    Rows that say where they were taken (column `at`) are compared and combined place by \
    place.\n\n\
    Without --output the board file goes to standard output and the findings to standard error.")]
pub(crate) struct PoolCommand {
    /// Filled sheets, of one or several people, all of the same board.
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
        let sheets = self.read(context)?;
        let pooled = pool(&sheets).map_err(Stop::Files)?;
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
        let plural = if sheets.len() == 1 { "" } else { "s" };
        let note = format!(
            "Made by `ringrule pool` from {} sheet{plural}.",
            sheets.len()
        );
        let yaml = to_yaml(&pooled.file, &note)
            .ok_or_else(|| Stop::said("the board file cannot be written as YAML"))?;
        context.deliver(&self.output, yaml.as_bytes())?;
        Ok(Ending::Good)
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
