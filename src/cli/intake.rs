//! `ringrule intake`: a spreadsheet of many boards becomes a board file of each.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::document::{DayOrder, InvalidFiles};
use ringrule::readings::{Intake, IntakeOptions, TakenBoard, take_in};
use ringrule::report::write_pooled;

use super::blank_choice::BlankChoice;
use super::board_name::file_name;
use super::context::{Context, Ending, OutputError, Stop, all_read};
use super::pool::Disagreement;
use super::sheet_format::CsvChoice;
use super::table_choice::TableChoice;

/// Take in a spreadsheet of many boards and make a board file of each.
///
/// One row a board, or one for each person who measured it; columns for the id, the
/// mounting, who measured and with what, and one or several for each length:
/// `treble width 1 (mm, inside)`, `treble width 2`, or at places, `treble width at 20 1`.
/// XLSX, ODS and CSV. Several people's readings of a board are pooled as `pool` does.
/// Everything that is wrong is said at once, each with its cell.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule intake boards.xlsx --into boards\n  \
    ringrule intake ashdown.xlsx birch.ods --into boards --disagreement widen\n  \
    ringrule intake boards.csv --decimal comma --dates day-first --into boards\n  \
    ringrule intake --blank boards.xlsx --table wdf\n  \
    ringrule intake --blank season.xlsx --table wdf --boards boards --by Ashdown --by Birch\n\n\
    Exit codes:\n  \
    0  every board's file was made\n  \
    1  people disagree on a board by more than their uncertainties\n  \
    2  a row could not be used, or a file not written\n\n\
    Nothing is written unless every row is good; with --keep-good, the boards that are. A board \
    without readings is skipped. Rows and heads that begin with `#` are remarks.")]
pub(crate) struct IntakeCommand {
    /// Spreadsheets: XLSX, ODS or CSV.
    #[arg(
        required_unless_present = "blank",
        conflicts_with = "blank",
        value_name = "WORKBOOK"
    )]
    workbooks: Vec<PathBuf>,
    /// The folder for the board files, each named by its id.
    #[arg(
        long,
        required_unless_present = "blank",
        conflicts_with = "blank",
        value_name = "FOLDER"
    )]
    into: Option<PathBuf>,
    #[command(flatten)]
    blank: BlankChoice,
    /// Replace files that are there already.
    #[arg(long)]
    overwrite: bool,
    /// Write the boards whose rows are good, though others are not.
    #[arg(long)]
    keep_good: bool,
    // Whose edges hold for columns that name none; of a workbook to fill in, the one that
    // says what is to be measured.
    #[command(flatten)]
    table: TableChoice,
    /// What to do where people disagree.
    #[arg(long, value_enum, default_value_t = Disagreement::Refuse, value_name = "WHAT")]
    disagreement: Disagreement,
    #[command(flatten)]
    csv: CsvChoice,
    /// Which number of a date such as 03/10/2026 is the day.
    #[arg(long, value_enum, value_name = "ORDER")]
    dates: Option<DateChoice>,
    /// Numbers in columns of days are days, counted as spreadsheets do: of CSV, which
    /// does not say so itself.
    #[arg(long)]
    serial_dates: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum DateChoice {
    DayFirst,
    MonthFirst,
}

impl From<DateChoice> for DayOrder {
    fn from(choice: DateChoice) -> Self {
        match choice {
            DateChoice::DayFirst => Self::DayFirst,
            DateChoice::MonthFirst => Self::MonthFirst,
        }
    }
}

impl IntakeCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        context.will_write();
        if let Some(path) = &self.blank.blank {
            return self
                .blank
                .run(path, self.table.named(), self.overwrite, context);
        }
        let table = match self.table.named() {
            Some(named) => Some(context.table(Some(named), &[])?),
            None => None,
        };
        let books = all_read(
            self.workbooks
                .iter()
                .map(|path| self.csv.workbook(path, context)),
        )?;
        let decimal = self.csv.decimal().unwrap_or_default();
        let note = self.note();
        let options = IntakeOptions {
            decimal,
            days: self.dates.map(DayOrder::from),
            serial_days: self.serial_dates,
            table: table.as_ref(),
            note: &note,
            keeps_all: false,
        };
        let intake = take_in(&books, &options);
        self.write(intake, context)
    }

    fn write(&self, intake: Intake, context: &mut Context) -> Result<Ending, Stop> {
        let Intake {
            boards,
            without_readings,
            invalid_files,
            ..
        } = intake;
        if !invalid_files.is_empty() && !self.keep_good {
            return Err(InvalidFiles(invalid_files).into());
        }
        let (disputed, good): (Vec<_>, Vec<_>) = boards
            .into_iter()
            .partition(|board| self.disagreement == Disagreement::Refuse && board.is_disputed);
        for board in &disputed {
            let mut text = String::new();
            // Writing into a string cannot fail.
            if let Some(pooled) = &board.pooled {
                let _ = write_pooled(&mut text, pooled);
            }
            context.report(&text);
        }
        for invalid_file in &invalid_files {
            context.invalid_file(invalid_file);
        }
        if !without_readings.is_empty() {
            let ids = without_readings.join(", ");
            context.note(&format!("note: without readings, and skipped: {ids}"));
        }
        let nothing = good.is_empty() || !disputed.is_empty() && !self.keep_good;
        if !nothing {
            self.deliver(&good, context)?;
        }
        if !disputed.is_empty() {
            let ids: Vec<&str> = disputed.iter().map(|own| own.id.as_str()).collect();
            context.note(&format!(
                "people disagree on {}: measure again, or accept the doubt with `--disagreement widen`",
                ids.join(", ")
            ));
        }
        if nothing {
            context.complain("nothing was written");
        }
        Ok(
            if !invalid_files.is_empty() || good.is_empty() && disputed.is_empty() {
                Ending::Unusable
            } else if disputed.is_empty() {
                Ending::Good
            } else {
                Ending::Findings
            },
        )
    }

    /// Writes the file of every board: all of them or none.
    fn deliver(&self, boards: &[TakenBoard], context: &mut Context) -> Result<(), Stop> {
        // Clap asks for a folder where no blank workbook is asked for.
        let into = self.into.as_deref().unwrap_or(Path::new("."));
        let mut taken = BTreeSet::new();
        let mut forms = Vec::new();
        for board in boards {
            let id = &board.id;
            let path = into.join(format!("{}.yaml", file_name(id)));
            // Some systems take capitals and small letters for the same.
            if !taken.insert(path.to_string_lossy().to_lowercase()) {
                let id = id.clone();
                return Err(OutputError::SharedId { path, id }.into());
            }
            forms.push((Some(path), board));
        }
        let is_new = !into.exists();
        if is_new {
            fs::create_dir_all(into).map_err(|error| {
                let folder = into.display();
                Stop::said(format!("the folder `{folder}` cannot be made: {error}"))
            })?;
        }
        let written = self.written(forms, context);
        if is_new && written.is_err() {
            // Only if it is empty.
            let _ = fs::remove_dir(into);
        }
        written
    }

    fn written(
        &self,
        forms: Vec<(Option<PathBuf>, &TakenBoard)>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let results = context.begin(forms, self.overwrite)?;
        context.write(results, |board, _, _| Ok(board.text.clone().into_bytes()))
    }

    /// Where the boards are from.
    fn note(&self) -> String {
        let names = self.workbooks.iter().map(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            name.escape_debug().to_string()
        });
        let names = names.collect::<Vec<_>>().join(", ");
        format!("Made by `ringrule intake` from {names}.")
    }
}
