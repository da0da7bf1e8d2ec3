//! `ringrule pool`: filled sheets become a board file.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::readings::{OnDisagreement, Pooled, Sheet, board_file, pool, to_yaml};
use ringrule::report::write_pooled;

use super::output::Output;
use super::sheet_format::{DecimalChoice, SheetFormat};
use super::{Ending, Screen, inputs};

/// Bring filled sheets of one board together into a board file.
///
/// Each person's readings are evaluated by their scatter (type A) and by the
/// instrument (type B); the value is their weighted mean, and whether they
/// agree is tested by chi-square, the Birge ratio and `E_n` between pairs. The
/// error of an instrument that several used does not average out.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule pool ashdown.csv birch.csv --output fl-11.yaml\n  \
    ringrule pool sheet.csv --separator semicolon --decimal comma --output fl-12.yaml\n  \
    ringrule pool ashdown.csv birch.csv --disagreement widen --output fl-11.yaml\n\n\
    Exit codes:\n  \
    0  a board file was made\n  \
    1  people disagree by more than their uncertainties, and nothing was written\n  \
    2  a sheet could not be used, or the file not written\n\n\
    Without --output the board file goes to standard output and the findings to standard error.")]
pub(crate) struct PoolCommand {
    /// Filled sheets, of one or several people, all of the same board.
    #[arg(required = true, value_name = "SHEET")]
    sheets: Vec<PathBuf>,
    /// What to do where people disagree.
    #[arg(long, value_enum, default_value_t = Disagreement::Refuse, value_name = "WHAT")]
    disagreement: Disagreement,
    /// What stands before the decimals in the sheets.
    #[arg(long, value_enum, default_value_t = DecimalChoice::Point, value_name = "MARK")]
    decimal: DecimalChoice,
    #[command(flatten)]
    format: SheetFormat,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Disagreement {
    /// Write nothing: measure again first.
    Refuse,
    /// Multiply the uncertainty by the Birge ratio, and say so in the file.
    Widen,
}

impl PoolCommand {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        let Some(sheets) = self.read(screen) else {
            return Ending::Unusable;
        };
        let on = match self.disagreement {
            Disagreement::Refuse => OnDisagreement::Refuse,
            Disagreement::Widen => OnDisagreement::Widen,
        };
        let pooled = match pool(&sheets, on) {
            Ok(pooled) => pooled,
            Err(invalid_files) => {
                for invalid_file in &invalid_files {
                    screen.invalid_file(invalid_file);
                }
                return Ending::Unusable;
            }
        };
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_pooled(&mut text, &pooled);
        if self.output.output.is_some() {
            screen.report(&text);
        } else {
            screen.aside(&text);
        }
        if on == OnDisagreement::Refuse && pooled.disputed().next().is_some() {
            screen.note(
                "nothing was written, because people disagree: measure again, or accept the \
                 doubt with `--disagreement widen`",
            );
            return Ending::Findings;
        }
        self.write(&pooled, screen)
    }

    /// Every sheet is read before anything is said to be wrong with one.
    fn read(&self, screen: &mut Screen) -> Option<Vec<Sheet>> {
        let format = self.format.csv(self.decimal);
        let mut sheets = Vec::new();
        for path in &self.sheets {
            match inputs::read(path).and_then(|source| Sheet::read(source, format)) {
                Ok(sheet) => sheets.push(sheet),
                Err(invalid_file) => screen.invalid_file(&invalid_file),
            }
        }
        (sheets.len() == self.sheets.len()).then_some(sheets)
    }

    fn write(&self, pooled: &Pooled, screen: &mut Screen) -> Ending {
        let plural = if self.sheets.len() == 1 {
            "sheet"
        } else {
            "sheets"
        };
        let note = format!(
            "Made by `ringrule pool` from {} {plural}.",
            self.sheets.len()
        );
        if let Some(yaml) = to_yaml(&board_file(pooled), &note) {
            return screen.deliver(&self.output, &yaml, &self.sheets, Ending::Good);
        }
        screen.note("the board file cannot be written as YAML");
        Ending::Unusable
    }
}
