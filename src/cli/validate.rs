//! `ringrule validate`: boards against a tolerance table.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::{Assessment, Judge, MOST_DRAWS, Verdict, simulate};
use ringrule::document::InvalidFile;
use ringrule::report::{Counts, Detail, FindingChecks, FindingsReport, write_board, write_summary};
use ringrule::table::Table;

use super::MountingChoice;
use super::context::{Context, Ending, Read, Stop, Wanted, read_board};
use super::formats::{Findings, Formats};
use super::number::whole;

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
    ringrule validate fl-10.yaml --table tolerances/wdf.yaml --draws 100000\n\n\
    Exit codes:\n  \
    0  every board conforms\n  \
    1  a board does not conform, is inconclusive, or has a limit that could not be checked\n  \
    2  a file could not be used, or there was nothing to check\n\n\
    With `--accept inconclusive` or `--accept unchecked` such boards no longer lead to exit code \
    1; their verdict stays what it is.")]
pub(crate) struct Validate {
    /// Board files, folders with board files, patterns such as `boards/**/fl-*.yaml`, or `-` for
    /// standard input.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// What to call the board that comes from standard input.
    #[arg(long, value_name = "NAME", default_value = "standard input")]
    stdin_name: String,
    /// The tolerance table; left out, the one that the settings file names (`ringrule.yaml` in
    /// the first path's folder or above).
    #[arg(long, short, value_name = "FILE")]
    table: Option<PathBuf>,
    #[command(flatten)]
    formats: Formats,
    /// How much the text shows of each board (other formats always hold everything).
    #[arg(long, value_enum, default_value_t = Show::Deviations, value_name = "WHAT")]
    show: Show,
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
    /// The seed of the draws: the same seed gives the same draws.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "draws",
        value_parser = whole::<u64>(0..=u64::MAX, 7), allow_negative_numbers = true)]
    seed: u64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Show {
    /// One verdict for each board.
    Verdicts,
    /// Also the band table and everything that does not conform.
    Deviations,
    /// Also every check that conforms.
    Everything,
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
        context.inputs().name_standard_input(&self.stdin_name);
        let findings = self.formats.begin(context)?;
        let table = match context.table(self.table.as_deref(), &self.paths) {
            // A machine format is one document all the same.
            Err(Stop::Files(invalid_files)) => {
                let mut run = self.begin(findings, None, context);
                for invalid_file in &invalid_files {
                    run.leave_out(invalid_file);
                }
                return run.deliver();
            }
            table => table?,
        };
        let mut run = self.begin(findings, Some(&table), context);
        let mut judge = Judge::new(&table);
        if let Some(choice) = self.nominal {
            judge = judge.beside(choice.into());
        }
        let found = run.context.find(&self.paths, Wanted::Yaml);
        for invalid_file in &found.invalid_files {
            run.leave_out(invalid_file);
        }
        let inputs = run.context.inputs();
        for files in found.files.chunks(AT_ONCE) {
            let read = files.par_iter();
            let read = read.map(|path| read_board(path, self.paths.contains(path), &inputs));
            let read: Vec<Read> = read.collect();
            let judged = read.par_iter().map(|read| match read {
                Read::Board(board) => Some(self.judge(&judge, board)),
                _ => None,
            });
            let judged: Vec<_> = judged.collect();
            for (read, judged) in read.iter().zip(judged) {
                match (read, judged) {
                    (Read::Invalid(invalid_file), _) => run.leave_out(invalid_file),
                    (Read::Other(note), _) => run.context.note(note),
                    (Read::Board(_), Some(assessment)) => run.add(&assessment)?,
                    (Read::Board(_), None) => {}
                }
            }
        }
        run.end(&table)
    }

    /// Puts together what was asked for and nothing else.
    fn begin<'a>(
        &'a self,
        findings: Findings,
        table: Option<&Table>,
        context: &'a mut Context,
    ) -> Run<'a> {
        let accepts = |doubt| self.accept.contains(&doubt);
        let checks = || FindingChecks::new(accepts(Doubt::Inconclusive), accepts(Doubt::Unchecked));
        Run {
            context,
            command: self,
            json: findings.want_json().then(|| FindingsReport::new(table)),
            checks: findings.want_checks().then(checks),
            findings,
            counts: Counts::default(),
            ending: Ending::Good,
        }
    }

    fn judge<'a>(&self, judge: &'a Judge<'_>, board: &'a Board) -> Assessment<'a> {
        let mut assessment = judge.judge(board);
        if let Some(draws) = self.draws {
            let draws = usize::try_from(draws).unwrap_or(MOST_DRAWS);
            assessment.simulation = Some(simulate(&assessment, draws, self.seed));
        }
        assessment
    }
}

/// What a run has come to so far.
struct Run<'a> {
    context: &'a mut Context,
    command: &'a Validate,
    findings: Findings,
    json: Option<FindingsReport>,
    checks: Option<FindingChecks>,
    counts: Counts,
    ending: Ending,
}

impl Run<'_> {
    fn leave_out(&mut self, invalid_file: &InvalidFile) {
        self.counts.invalid_files += 1;
        self.ending = Ending::Unusable;
        if let Some(json) = &mut self.json {
            json.leave_out(invalid_file);
        }
        if let Some(checks) = &mut self.checks {
            checks.leave_out(invalid_file);
        }
        self.context.invalid_file(invalid_file);
    }

    fn add(&mut self, assessment: &Assessment<'_>) -> Result<(), Stop> {
        self.counts.add(assessment);
        let tally = assessment.tally();
        let accepts = |doubt| self.command.accept.contains(&doubt);
        let ending = match assessment.verdict {
            Verdict::Conforms => Ending::Good,
            Verdict::DoesNotConform => Ending::Findings,
            Verdict::Inconclusive => {
                let decided = tally.inconclusive == 0 || accepts(Doubt::Inconclusive);
                let checked = tally.not_checked == 0 || accepts(Doubt::Unchecked);
                if decided && checked && tally.conform > 0 {
                    Ending::Good
                } else {
                    Ending::Findings
                }
            }
        };
        self.ending = self.ending.max(ending);
        if let Some(json) = &mut self.json {
            json.add(assessment);
        }
        if let Some(checks) = &mut self.checks {
            checks.add(assessment);
        }
        let detail = match self.command.show {
            Show::Verdicts => Detail::Verdict,
            Show::Deviations => Detail::Deviations,
            Show::Everything => Detail::Everything,
        };
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_board(&mut text, assessment, detail, Context::layout());
        self.findings.text(&text, self.context)
    }

    fn end(mut self, table: &Table) -> Result<Ending, Stop> {
        if self.counts.boards() == 0 && self.counts.invalid_files == 0 {
            self.context
                .note("there was no board to check: name board files or their folder");
            self.ending = Ending::Unusable;
        }
        if self.counts.boards() > 0 {
            let mut text = String::new();
            if self.command.show == Show::Verdicts {
                text.push('\n');
            }
            let _ = write_summary(&mut text, &self.counts, table, Context::layout());
            self.findings.text(&text, self.context)?;
        }
        self.deliver()
    }

    fn deliver(self) -> Result<Ending, Stop> {
        let json = self.json.map(|json| json.to_json()).transpose();
        let checks = self.checks.as_ref().map(FindingChecks::checks);
        let json = json.map_err(Stop::said)?;
        self.findings.finish(json, checks, self.context)?;
        Ok(self.ending)
    }
}
