//! `ringrule report`: what an organiser reads, signs and files.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::InvalidFile;
use ringrule::event::{Event, Person};
use ringrule::report::{Compliance, ReportFormat};
use ringrule::table::Table;

use super::context::{Context, Ending, Read, Stop, Wanted, by_ending, read_board};
use super::number::day;
use super::pdf_choice::{PdfChoice, say_missing};
use super::report_files::{ENDINGS, Run};

/// Write the report that an organiser signs.
///
/// One board gives one report; several give a summary of the event first, then
/// a part for each board. What an event file or an option does not say is
/// printed as not stated: nothing is made up, and no date comes from the clock.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule report fl-03.yaml --table tolerances/wdf.yaml --output fl-03.pdf\n  \
    ringrule report specs/demo --table tolerances/wdf.yaml \\\n    \
    --event specs/events/fenwick-lane-autumn.yaml -o autumn.html -o autumn.pdf -o autumn.json\n  \
    ringrule report boards --table league.yaml --event spring.yaml --each 'reports/{id}.pdf'\n  \
    ringrule report fl-03.yaml --table league.yaml --number 2026-7 --issued 2026-11-20 > fl-03.html\n\n\
    Exit codes:\n  \
    0  every report was written, with any verdict (`validate` ends with 1 for those)\n  \
    2  a file could not be used: nothing was written, or with `--skip-invalid` a report without it")]
pub(crate) struct ReportCommand {
    /// Board files, and folders with board files.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// The tolerance table; left out, the one that the settings file names (`ringrule.yaml` in
    /// the first path's folder or above).
    #[arg(long, short, value_name = "FILE")]
    table: Option<PathBuf>,
    /// Write the report to this file; its ending says as what: .txt, .html, .pdf,
    /// .md or .json. May be given several times.
    #[arg(long, short, value_name = "FILE")]
    output: Vec<PathBuf>,
    /// Write a report of its own for each board, `{id}` in the name standing for
    /// the board's id. May be given several times.
    #[arg(long, value_name = "PATTERN")]
    each: Vec<String>,
    /// Replace files that are there already.
    #[arg(long)]
    overwrite: bool,
    /// Report on the other boards where files are invalid; they are listed on the first page, and
    /// the exit code stays 2.
    #[arg(long, visible_alias = "skip-refused")]
    skip_invalid: bool,
    /// What to write to standard output when no file is named.
    #[arg(long, value_enum, default_value_t = Choice::Html, value_name = "FORMAT",
        conflicts_with_all = ["output", "each"])]
    format: Choice,
    #[command(flatten)]
    pdf: PdfChoice,
    #[command(flatten)]
    event: EventChoice,
}

/// What a report says beside the boards: from a file, and from options, which
/// count before the file.
#[derive(Debug, Args)]
#[command(next_help_heading = "The inspection")]
struct EventChoice {
    /// The event file (`ringrule schema event`).
    #[arg(long, value_name = "FILE")]
    event: Option<PathBuf>,
    /// What the boards were inspected for.
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    /// Where the inspection took place.
    #[arg(long, value_name = "TEXT")]
    place: Option<String>,
    /// The report's number; each board's part adds its id.
    #[arg(long, value_name = "TEXT")]
    number: Option<String>,
    /// The day of issue.
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    issued: Option<jiff::civil::Date>,
    /// The day of inspection, for boards whose file does not say.
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    inspected: Option<jiff::civil::Date>,
    /// Who ordered the inspection.
    #[arg(long, value_name = "NAME")]
    ordered_by: Option<String>,
    /// Who inspected boards whose file does not say.
    #[arg(long, value_name = "NAME")]
    inspected_by: Option<String>,
    /// Who will sign.
    #[arg(long, value_name = "NAME")]
    authorised_by: Option<String>,
    /// Anything else that a reader should know.
    #[arg(long, value_name = "TEXT")]
    remarks: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Choice {
    Text,
    Html,
    Markdown,
    Json,
}

impl EventChoice {
    fn read(&self, context: &Context) -> Result<Event, Stop> {
        let mut event = match &self.event {
            Some(path) => Event::read(context.inputs().text(path)?)?,
            None => Event::default(),
        };
        let text = |own: &Option<String>, field: &mut Option<String>| {
            if own.is_some() {
                field.clone_from(own);
            }
        };
        text(&self.name, &mut event.name);
        text(&self.place, &mut event.place);
        text(&self.number, &mut event.report_number);
        text(&self.remarks, &mut event.remarks);
        let person = |own: &Option<String>, field: &mut Option<Person>| {
            if let Some(name) = own {
                *field = Some(Person::named(name));
            }
        };
        person(&self.ordered_by, &mut event.ordered_by);
        person(&self.inspected_by, &mut event.inspected_by);
        person(&self.authorised_by, &mut event.authorised_by);
        event.issued = self.issued.or(event.issued);
        event.inspected = self.inspected.or(event.inspected);
        Ok(event)
    }
}

impl ReportCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        if let Some(pattern) = self.each.iter().find(|each| !each.contains("{id}")) {
            return Err(Stop::Said(format!(
                "`{pattern}` would give every board the same file: put `{{id}}` into the name"
            )));
        }
        let of_name = |path: &Path| by_ending(path, &ENDINGS);
        let whole = self
            .output
            .iter()
            .map(|path| Ok((path.as_path(), of_name(path)?)));
        let whole: Vec<_> = whole.collect::<Result<_, Stop>>()?;
        let each = self.each.iter();
        let each = each.map(|pattern| Ok((pattern.as_str(), of_name(Path::new(pattern))?)));
        let each: Vec<_> = each.collect::<Result<_, Stop>>()?;

        let mut outputs = context.outputs(self.overwrite);
        let fonts = self.pdf.fonts(context)?;
        let (event, table, boards, invalid_files) = self.read(context)?;
        let ending = if invalid_files.is_empty() {
            Ending::Good
        } else {
            Ending::Unusable
        };
        let judge = Judge::new(&table);
        let mut report = Compliance::new(&event, &table);
        for board in &boards {
            report.add(&judge.judge(board));
        }
        for invalid_file in invalid_files {
            context.invalid_file(&invalid_file);
            report.leave_out(invalid_file);
        }
        let run = Run {
            report: &report,
            judge: &judge,
            boards: &boards,
            paper: self.pdf.paper(),
            fonts,
        };
        if whole.is_empty() && each.is_empty() {
            let format = match self.format {
                Choice::Text => ReportFormat::Text(Context::layout()),
                Choice::Html => ReportFormat::Html,
                Choice::Markdown => ReportFormat::Markdown,
                Choice::Json => ReportFormat::Json,
            };
            run.print(format, context);
            return Ok(ending);
        }
        let unprinted = run.files(&whole, &each, &mut outputs)?;
        context.keep(outputs)?;
        say_missing(&unprinted, context);
        Ok(ending)
    }

    /// Event, table and boards, with the invalid files that are left out; every
    /// faulty file reported where none may be.
    fn read(&self, context: &mut Context) -> Result<Material, Stop> {
        let mut invalid_files = Vec::new();
        let event = self.event.read(context);
        let event = usable(event, &mut invalid_files)?;
        let table = context.table(self.table.as_deref(), &self.paths);
        let table = usable(table, &mut invalid_files)?;
        let found = context.find(&self.paths, Wanted::Yaml);
        invalid_files.extend(found.invalid_files);
        let inputs = context.inputs();
        let read = found.files.par_iter();
        let read = read.map(|path| read_board(path, self.paths.contains(path), &inputs));
        let mut boards = Vec::new();
        for one in read.collect::<Vec<_>>() {
            match one {
                Read::Board(board) => boards.push(*board),
                Read::Invalid(invalid_file) => invalid_files.push(invalid_file),
                Read::Other(note) => context.note(&note),
            }
        }
        if boards.is_empty() && invalid_files.is_empty() {
            return Err(Stop::said(
                "there is no board to report on: name board files or their folder",
            ));
        }
        let skip = self.skip_invalid && !boards.is_empty();
        match (event, table) {
            (Some(event), Some(table)) if skip || invalid_files.is_empty() => {
                Ok((event, table, boards, invalid_files))
            }
            _ => Err(Stop::Files(invalid_files)),
        }
    }
}

/// What a report is made of, and what was left out of it.
type Material = (Event, Table, Vec<Board>, Vec<InvalidFile>);

/// What was read, or nothing where files are invalid and others shall be read
/// before that is said.
fn usable<T>(read: Result<T, Stop>, invalid: &mut Vec<InvalidFile>) -> Result<Option<T>, Stop> {
    match read {
        Ok(read) => Ok(Some(read)),
        Err(Stop::Files(files)) => {
            invalid.extend(files);
            Ok(None)
        }
        Err(said) => Err(said),
    }
}
