//! `ringrule validate`: boards against a tolerance table.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::board::Board;
use ringrule::conformity::{Judge, MOST_DRAWS, Verdict, simulate};
use ringrule::document::{Refusal, Refusals, parse};
use ringrule::report::{Counts, Detail, FindingsReport, write_board, write_summary};
use ringrule::table::{Table, shelf_of};

use super::{Ending, MountingChoice, Screen, inputs};

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
    ringrule validate old.yaml --table tolerances/wdf.yaml --nominal embedded\n  \
    ringrule validate fl-10.yaml --table tolerances/wdf.yaml --draws 100000\n\n\
    Exit codes:\n  \
    0  every board conforms\n  \
    1  a board does not conform, is inconclusive, or has a limit that could not be checked\n  \
    2  a file could not be used, or there was nothing to check\n\n\
    With `--accept inconclusive` or `--accept unchecked` such boards no longer lead to exit code \
    1; their verdict stays what it is.")]
pub(crate) struct Validate {
    /// Board files, and folders with board files.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// The tolerance table.
    #[arg(long, short, value_name = "FILE")]
    table: PathBuf,
    /// Text to read, or JSON for other programs (`ringrule schema findings`).
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    format: Format,
    /// How much the text shows of each board (JSON always holds everything).
    #[arg(long, value_enum, default_value_t = Show::Deviations, value_name = "WHAT")]
    show: Show,
    /// Doubts that shall not lead to exit code 1; may be given twice.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "DOUBT")]
    accept: Vec<Doubt>,
    /// Also set every board's bands beside the table's nominal board for this
    /// mounting, whatever the board's own: a comparison, without a verdict.
    #[arg(long, value_enum, value_name = "MOUNTING")]
    nominal: Option<MountingChoice>,
    /// Also propagate whole distributions by so many random draws (Monte Carlo)
    /// and print what they come to beside the first-order uncertainties.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(1000..=1_000_000))]
    draws: Option<u32>,
    /// The seed of the draws: the same seed gives the same draws.
    #[arg(long, value_name = "NUMBER", default_value_t = 1, requires = "draws")]
    seed: u64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    Text,
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Show {
    /// One verdict for each board.
    Verdicts,
    /// Also the band table and whatever does not conform.
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

impl Validate {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        let shelf = shelf_of(&self.table);
        let table = inputs::read(&self.table).map_err(Refusals::from);
        let table = match table.and_then(|source| Table::read(source, &shelf)) {
            Ok(table) => table,
            Err(refusals) => return self.refuse_table(&refusals, screen),
        };
        let mut judge = Judge::new(&table);
        if let Some(choice) = self.nominal {
            judge = judge.beside(choice.into());
        }
        let mut run = Run {
            screen,
            show: self.show,
            accept: &self.accept,
            draws: self.draws.map(|draws| (draws, self.seed)),
            json: (self.format == Format::Json).then(|| FindingsReport::new(Some(&table))),
            counts: Counts::default(),
            ending: Ending::Good,
        };
        let found = inputs::collect(&self.paths);
        for refusal in &found.refusals {
            run.refuse(refusal);
        }
        for path in &found.files {
            let document = match inputs::read(path).and_then(parse) {
                Ok(document) => document,
                Err(refusal) => {
                    run.refuse(&refusal);
                    continue;
                }
            };
            if let Some(kind) = inputs::other_kind(&document)
                && !self.paths.contains(path)
            {
                let name = document.source.name();
                run.screen
                    .note(&format!("note: {name} is {kind} and was left out"));
                continue;
            }
            match Board::from_document(document) {
                Ok(board) => run.judge(&judge, &board),
                Err(refusal) => run.refuse(&refusal),
            }
        }
        run.end(&table)
    }
}

impl Validate {
    /// A table that cannot be used ends the run; with JSON, standard output is
    /// one document all the same.
    fn refuse_table(&self, refusals: &Refusals, screen: &mut Screen) -> Ending {
        let mut report = FindingsReport::new(None);
        for refusal in &refusals.0 {
            report.refuse(refusal);
            screen.refusal(refusal);
        }
        if self.format == Format::Json
            && let Ok(json) = report.to_json()
        {
            screen.report(&json);
        }
        Ending::Unusable
    }
}

/// What a run has come to so far.
struct Run<'a> {
    screen: &'a mut Screen,
    show: Show,
    accept: &'a [Doubt],
    draws: Option<(u32, u64)>,
    json: Option<FindingsReport>,
    counts: Counts,
    ending: Ending,
}

impl Run<'_> {
    fn refuse(&mut self, refusal: &Refusal) {
        self.counts.refused += 1;
        self.ending = Ending::Unusable;
        if let Some(json) = &mut self.json {
            json.refuse(refusal);
        }
        self.screen.refusal(refusal);
    }

    fn judge(&mut self, judge: &Judge<'_>, board: &Board) {
        let mut assessment = judge.judge(board);
        if let Some((draws, seed)) = self.draws {
            let draws = usize::try_from(draws).unwrap_or(MOST_DRAWS);
            assessment.simulation = Some(simulate(&assessment, draws, seed));
        }
        self.counts.add(&assessment);
        let tally = assessment.tally();
        let accepts = |doubt| self.accept.contains(&doubt);
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
            json.add(&assessment);
            return;
        }
        let detail = match self.show {
            Show::Verdicts => Detail::Verdict,
            Show::Deviations => Detail::Deviations,
            Show::Everything => Detail::Everything,
        };
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_board(&mut text, &assessment, detail);
        self.screen.report(&text);
    }

    fn end(mut self, table: &Table) -> Ending {
        if self.counts.boards() == 0 && self.counts.refused == 0 {
            self.screen
                .note("there was no board to check: name board files or their folder");
            self.ending = Ending::Unusable;
        }
        let mut text = String::new();
        if let Some(json) = &self.json {
            match json.to_json() {
                Ok(json) => text = json,
                Err(error) => {
                    self.screen
                        .note(&format!("the report cannot be written as JSON: {error}"));
                    self.ending = Ending::Unusable;
                }
            }
        } else if self.counts.boards() > 0 {
            let separator = if self.show == Show::Verdicts {
                "\n"
            } else {
                ""
            };
            text.push_str(separator);
            let _ = write_summary(&mut text, &self.counts, table);
        }
        self.screen.report(&text);
        self.ending
    }
}
