//! `ringrule validate`: boards against a tolerance table.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::{Assessment, Judge, MOST_DRAWS, Verdict, simulate};
use ringrule::document::{InvalidFile, InvalidFiles, parse};
use ringrule::report::{Counts, Detail, FindingChecks, FindingsReport, write_board, write_summary};
use ringrule::table::{Table, shelf_of};

use super::formats::{Format, Formats, Written};
use super::inputs::Wanted;
use super::{Ending, MountingChoice, Screen, inputs, project};

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

/// Files that are read and judged before the next ones: enough for every core,
/// and few enough that memory does not grow with their number. House rule.
const AT_ONCE: usize = 256;

impl Validate {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        if let Err(why) = self.formats.files() {
            screen.note(&why);
            return Ending::Unusable;
        }
        let path = match project::table(self.table.as_deref(), &self.paths) {
            Ok(Some(path)) => path,
            Ok(None) => {
                screen.note(
                    "no tolerance table is named: add `--table FILE`, or name one in a settings \
                     file (`table: …` in ringrule.yaml)",
                );
                return Ending::Unusable;
            }
            Err(invalid_file) => {
                screen.invalid_file(&invalid_file);
                return Ending::Unusable;
            }
        };
        let accepts = |doubt| self.accept.contains(&doubt);
        let mut run = Run {
            screen,
            command: self,
            text: String::new(),
            json: None,
            checks: FindingChecks::new(accepts(Doubt::Inconclusive), accepts(Doubt::Unchecked)),
            counts: Counts::default(),
            read: vec![path.clone()],
            ending: Ending::Good,
        };
        let shelf = shelf_of(&path);
        let table = inputs::read(&path).map_err(InvalidFiles::from);
        let table = match table.and_then(|source| Table::read(source, &shelf)) {
            Ok(table) => table,
            Err(InvalidFiles(invalid_files)) => {
                // A machine format is one document all the same.
                run.json = self.wanted_json(None);
                for invalid_file in &invalid_files {
                    run.refuse(invalid_file);
                }
                return run.deliver();
            }
        };
        run.json = self.wanted_json(Some(&table));
        let mut judge = Judge::new(&table);
        if let Some(choice) = self.nominal {
            judge = judge.beside(choice.into());
        }
        let found = inputs::collect(&self.paths, Wanted::Yaml);
        let found = project::without_excluded(found, &self.paths);
        for invalid_file in &found.invalid_files {
            run.refuse(invalid_file);
        }
        run.read.extend(found.files.iter().cloned());
        for files in found.files.chunks(AT_ONCE) {
            let read: Vec<_> = files.par_iter().map(|path| self.read(path)).collect();
            let judged: Vec<_> = read
                .par_iter()
                .map(|read| match read {
                    Read::Board(board) => Some(self.judge(&judge, board)),
                    _ => None,
                })
                .collect();
            for (read, judged) in read.iter().zip(judged) {
                match (read, judged) {
                    (Read::Refused(invalid_file), _) => run.refuse(invalid_file),
                    (Read::Other(note), _) => run.screen.note(note),
                    (Read::Board(_), Some(assessment)) => run.add(&assessment),
                    (Read::Board(_), None) => {}
                }
            }
        }
        run.end(&table)
    }

    fn wanted_json(&self, table: Option<&Table>) -> Option<FindingsReport> {
        let wanted = self.formats.wants(Format::Json);
        wanted.then(|| FindingsReport::new(table))
    }

    fn read(&self, path: &PathBuf) -> Read {
        let document = match inputs::read_as(path, &self.stdin_name).and_then(parse) {
            Ok(document) => document,
            Err(invalid_file) => return Read::Refused(invalid_file),
        };
        if let Some(kind) = inputs::other_kind(&document)
            && !self.paths.contains(path)
        {
            let name = document.source.name();
            return Read::Other(format!("note: {name} is {kind} and was left out"));
        }
        match Board::from_document(document) {
            Ok(board) => Read::Board(Box::new(board)),
            Err(invalid_file) => Read::Refused(invalid_file),
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

/// What a file came to.
enum Read {
    Board(Box<Board>),
    /// It is something else, and was found in a folder; a note that says so.
    Other(String),
    Refused(InvalidFile),
}

/// What a run has come to so far.
struct Run<'a> {
    screen: &'a mut Screen,
    command: &'a Validate,
    /// The text so far, where a file wants it.
    text: String,
    json: Option<FindingsReport>,
    checks: FindingChecks,
    counts: Counts,
    read: Vec<PathBuf>,
    ending: Ending,
}

impl Run<'_> {
    fn refuse(&mut self, invalid_file: &InvalidFile) {
        self.counts.refused += 1;
        self.ending = Ending::Unusable;
        if let Some(json) = &mut self.json {
            json.refuse(invalid_file);
        }
        self.checks.refuse(invalid_file);
        self.screen.invalid_file(invalid_file);
    }

    fn add(&mut self, assessment: &Assessment<'_>) {
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
        self.checks.add(assessment);
        let detail = match self.command.show {
            Show::Verdicts => Detail::Verdict,
            Show::Deviations => Detail::Deviations,
            Show::Everything => Detail::Everything,
        };
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_board(&mut text, assessment, detail, columns());
        self.show(&text);
    }

    /// Text on the screen as it comes, and for a file.
    fn show(&mut self, text: &str) {
        if self.command.formats.format == Format::Text {
            self.screen.report(text);
        }
        if self.command.formats.wants(Format::Text) {
            self.text.push_str(text);
        }
    }

    fn end(mut self, table: &Table) -> Ending {
        if self.counts.boards() == 0 && self.counts.refused == 0 {
            self.screen
                .note("there was no board to check: name board files or their folder");
            self.ending = Ending::Unusable;
        }
        if self.counts.boards() > 0 {
            let mut text = String::new();
            if self.command.show == Show::Verdicts {
                text.push('\n');
            }
            let _ = write_summary(&mut text, &self.counts, table, columns());
            self.show(&text);
        }
        self.deliver()
    }

    fn deliver(self) -> Ending {
        let json = self.json.as_ref();
        let written = Written {
            text: &self.text,
            json: json.and_then(|json| json.to_json().ok()),
            checks: self.checks.checks(),
        };
        let formats = &self.command.formats;
        let ending = formats.deliver(&written, &self.read, self.screen);
        self.ending.max(ending)
    }
}

/// How wide the text may be: as wide as the terminal says that it is, but no
/// wider than is easy to read.
fn columns() -> usize {
    /// House rule.
    const MOST: usize = 120;
    let told = std::env::var("COLUMNS").ok();
    let columns = told.and_then(|columns| columns.trim().parse().ok());
    columns.unwrap_or(MOST).min(MOST)
}
