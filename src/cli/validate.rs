//! `ringrule validate`: boards against a tolerance table.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use jiff::civil::Date;
use rayon::prelude::*;
use ringrule::conformity::{Accepted, Judge, MOST_DRAWS, simulate};
use ringrule::document::{FileKind, InvalidFile};
use ringrule::report::{Detail, check_budget_names};
use ringrule::table::Table;

use super::MountingChoice;
use super::context::{Context, Ending, Stop, Wanted, usable};
use super::formats::Formats;
use super::judged::Judged;
use super::only_ours::OnlyOurs;
use super::records::Records;
use super::table_choice::TableChoice;
use super::values::{day, today, whole};

/// Check boards against a tolerance table.
///
/// Every board file is read, every limit that is for this kind of board is
/// checked, and the free area of every band is compared with that of the
/// table's nominal board.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule validate specs/demo --table tolerances/wdf.yaml\n  \
    ringrule validate fl-03.yaml fl-04.yaml --table tolerances/wdf.yaml --show everything\n  \
    ringrule validate boards --table league.yaml --format json > findings.json\n  \
    ringrule validate boards --table league.yaml --format github --also findings.sarif\n  \
    ringrule validate old.yaml --table tolerances/wdf.yaml --nominal embedded\n  \
    ringrule validate fl-10.yaml --table tolerances/wdf.yaml --draws 100000\n  \
    ringrule validate fl-10.yaml --table tolerances/wdf.yaml --budget \"treble area\"\n  \
    ringrule validate --records --table tolerances/wdf.yaml < boards.jsonl > found.jsonl\n\n\
    Exit codes:\n  \
    0  every board conforms\n  \
    1  a board does not conform, is inconclusive, or has a limit that could not be checked\n  \
    2  a file could not be used, or there was nothing to check\n\n\
    With `--accept inconclusive` or `--accept unchecked` such boards no longer lead to exit code \
    1; their verdict stays what it is.")]
pub(crate) struct Validate {
    /// Board files, folders with board files, patterns such as `boards/**/fl-*.yaml`, or `-` for
    /// standard input.
    #[arg(required_unless_present = "records", value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// Read boards as lines from standard input, each a board file as JSON or the path of one,
    /// and print what was found on each as a line of JSON (`ringrule schema record`), in constant
    /// memory.
    #[arg(long, conflicts_with_all = ["paths", "stdin_name", "only_ours", "format", "also", "show",
        "on", "nominal", "draws", "budget"])]
    records: bool,
    /// Print each of these lines as soon as it is known, and not in the order of the boards.
    // Where paths are named, `records` cannot be, and what requires it is not asked for it.
    #[arg(long, requires = "records", conflicts_with = "paths")]
    unordered: bool,
    /// What to call the board that comes from standard input.
    #[arg(long, value_name = "NAME", default_value = "standard input")]
    stdin_name: String,
    #[command(flatten)]
    table: TableChoice,
    #[command(flatten)]
    only_ours: OnlyOurs,
    #[command(flatten)]
    formats: Formats,
    /// How much the text shows of each board (other formats always hold everything).
    #[arg(long, value_enum, default_value_t = Show::Deviations, value_name = "WHAT")]
    show: Show,
    /// The day by which boards are due, where settings say how long an inspection is valid, for
    /// `--show venues`; left out, today.
    #[arg(long, value_name = "DAY", value_parser = day)]
    on: Option<Date>,
    /// Doubts that shall not lead to exit code 1; may be given twice.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "DOUBT")]
    accept: Vec<Doubt>,
    /// Also compare every board's bands with the table's nominal board for this
    /// mounting, even if the board has another: without a verdict.
    #[arg(long, value_enum, value_name = "MOUNTING")]
    nominal: Option<MountingChoice>,
    /// Also propagate whole distributions by so many random draws (Monte Carlo)
    /// and print what they come to beside the first-order uncertainties.
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>(1000..=1_000_000, 100_000),
        allow_negative_numbers = true)]
    draws: Option<u32>,
    /// Also print what a check's uncertainty is made of: a limit's name, a band's with the word
    /// `area`, or `all`; may be given several times.
    #[arg(long, value_name = "CHECK")]
    budget: Vec<String>,
    /// The seed of the draws: the same seed gives the same draws.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "draws",
        value_parser = whole::<u64>(0..=u64::MAX, 7), allow_negative_numbers = true)]
    seed: u64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Show {
    /// Which boards may be used, by venue.
    Venues,
    /// One verdict for each board.
    Verdicts,
    /// Also the band table and everything that does not conform.
    Deviations,
    /// Also every check that conforms.
    Everything,
}

impl From<Show> for Detail {
    fn from(choice: Show) -> Self {
        match choice {
            Show::Venues => Self::Venues,
            Show::Verdicts => Self::Verdict,
            Show::Deviations => Self::Deviations,
            Show::Everything => Self::Everything,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Doubt {
    /// A verdict that the measurement is too uncertain to decide.
    Inconclusive,
    /// A limit for which the file lacks a measurement.
    Unchecked,
}

/// Files that are read and judged before the next ones: enough for every core,
/// and few enough that memory does not grow with their number. House rule.
const AT_ONCE: usize = 256;

impl Validate {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        if self.records {
            return self.stream(context);
        }
        context.inputs().name_standard_input(&self.stdin_name);
        let findings = self.formats.begin(context)?;
        let accepted = self.accepted();
        // Without a table, a machine format is one document all the same.
        let mut invalid_files = Vec::new();
        let table = context.table(self.table.named(), &self.paths);
        let table = usable(table, &mut invalid_files)?;
        if let Some(table) = &table {
            check_budget_names(table, &self.budget).map_err(Stop::said)?;
        }
        let mut judged = Judged::new(table.as_ref(), findings, accepted, self.show.into())
            .with_budgets(&self.budget);
        judged.leave_out(&invalid_files, context);
        if let Some(table) = &table {
            self.judge(table, &mut judged, context)?;
        }
        judged.end(context)
    }

    fn accepted(&self) -> Accepted {
        let accepts = |doubt| self.accept.contains(&doubt);
        Accepted {
            inconclusive: accepts(Doubt::Inconclusive),
            unchecked: accepts(Doubt::Unchecked),
        }
    }

    fn stream(&self, context: &mut Context) -> Result<Ending, Stop> {
        let table = context.table(self.table.named(), &[])?;
        let records = Records {
            table: &table,
            accepted: self.accepted(),
            unordered: self.unordered,
        };
        records.run(context)
    }

    fn judge(
        &self,
        table: &Table,
        judged: &mut Judged<'_>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let mut judge = Judge::new(table);
        if let Some(choice) = self.nominal {
            judge = judge.beside(choice.into());
        }
        let on = self.on.unwrap_or_else(today);
        let mut found = context.find(&self.paths, Wanted::Yaml);
        if self
            .only_ours
            .pass_over(&mut found, &[FileKind::Board], context)
        {
            judged.nothing_is_in_order();
        }
        judged.leave_out(&found.invalid_files, context);
        let files = context.latest_files(found.files, &self.paths);
        for files in files.chunks(AT_ONCE) {
            let read = context.read_boards(files, &self.paths);
            let all = read.par_iter().map(|board| -> Result<_, &InvalidFile> {
                let mut assessment = judge.judge(board.as_ref()?);
                if let Some(draws) = self.draws {
                    let draws = usize::try_from(draws).unwrap_or(MOST_DRAWS);
                    assessment.simulation = Some(simulate(&assessment, draws, self.seed));
                }
                Ok(assessment)
            });
            for one in all.collect::<Vec<_>>() {
                match one {
                    Ok(assessment) => {
                        let due = context.due(assessment.board, on);
                        judged.add(&assessment, due, context)?;
                    }
                    Err(invalid_file) => judged.leave_out([invalid_file], context),
                }
            }
            // What is left of many boards takes as long to free as some to judge.
            read.into_par_iter().for_each(drop);
        }
        Ok(())
    }
}
