//! `ringrule report`: what an organiser reads, signs and files.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use rayon::prelude::*;
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::{InvalidFile, InvalidFiles, parse};
use ringrule::event::{Event, Person};
use ringrule::report::{Compliance, PaperSize, ReportFormat};
use ringrule::table::{Table, shelf_of};

use super::inputs::Wanted;
use super::report_files::{Format, Run, format_of};
use super::{Ending, Screen, inputs, project};

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
    0  every report was written, whatever the verdicts (`validate` ends with 1 for those)\n  \
    2  a file could not be used, and nothing was written")]
pub(crate) struct ReportCommand {
    /// Board files, and folders with board files.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// The tolerance table.
    #[arg(long, short, value_name = "FILE")]
    table: PathBuf,
    /// Write the report to this file; its ending says as what: .html, .pdf, .md
    /// or .json. May be given several times.
    #[arg(long, short, value_name = "FILE")]
    output: Vec<PathBuf>,
    /// Write a report of its own for each board, `{id}` in the name standing for
    /// the board's mark. May be given several times.
    #[arg(long, value_name = "PATTERN")]
    each: Vec<String>,
    /// Replace files that are there already.
    #[arg(long)]
    overwrite: bool,
    /// What to write to standard output when no file is named.
    #[arg(long, value_enum, default_value_t = Choice::Html, value_name = "FORMAT",
        conflicts_with_all = ["output", "each"])]
    format: Choice,
    /// The paper of a PDF.
    #[arg(long, value_enum, default_value_t = Paper::A4, value_name = "SIZE")]
    paper: Paper,
    /// A font file for characters that the built-in font does not have; for PDF.
    /// May be given several times.
    #[arg(long, value_name = "FILE")]
    font: Vec<PathBuf>,
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
    /// The report's number; each board's part adds its mark.
    #[arg(long, value_name = "TEXT")]
    number: Option<String>,
    /// The day of issue.
    #[arg(long, value_name = "YYYY-MM-DD")]
    issued: Option<jiff::civil::Date>,
    /// The day of inspection, for boards whose file does not say.
    #[arg(long, value_name = "YYYY-MM-DD")]
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
    Html,
    Markdown,
    Json,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Paper {
    A4,
    Letter,
}

/// Boards with the files that they were read from.
type Boards = Vec<(PathBuf, Board)>;

/// What stops a run.
pub(super) enum Fault {
    Files(Vec<InvalidFile>),
    Said(String),
}

impl From<InvalidFile> for Fault {
    fn from(invalid_file: InvalidFile) -> Self {
        Self::Files(vec![invalid_file])
    }
}

impl EventChoice {
    fn read(&self) -> Result<Event, Fault> {
        let mut event = match &self.event {
            Some(path) => Event::read(inputs::read(path)?)?,
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
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        match self.write(screen) {
            Ok(()) => Ending::Good,
            Err(fault) => {
                match fault {
                    Fault::Files(invalid_files) => {
                        for invalid_file in &invalid_files {
                            screen.invalid_file(invalid_file);
                        }
                    }
                    Fault::Said(why) => screen.note(&why),
                }
                screen.note("nothing was written");
                Ending::Unusable
            }
        }
    }

    fn write(&self, screen: &mut Screen) -> Result<(), Fault> {
        let outputs = self.outputs()?;
        let each = self.patterns()?;
        let (event, table, boards) = self.read(screen)?;
        let judge = Judge::new(&table);
        let mut report = Compliance::new(&event, &table);
        for (_, board) in &boards {
            report.add(&judge.judge(board));
        }
        let mut fonts = Vec::new();
        for path in &self.font {
            let bytes = std::fs::read(path);
            fonts.push(bytes.map_err(|error| {
                Fault::Said(format!("font `{}` cannot be read: {error}", path.display()))
            })?);
        }
        let run = Run {
            report: &report,
            judge: &judge,
            boards: &boards,
            paper: match self.paper {
                Paper::A4 => PaperSize::A4,
                Paper::Letter => PaperSize::Letter,
            },
            fonts,
            overwrite: self.overwrite,
            read: self.files_read(&boards, &table),
        };
        if outputs.is_empty() && each.is_empty() {
            let format = match self.format {
                Choice::Html => ReportFormat::Html,
                Choice::Markdown => ReportFormat::Markdown,
                Choice::Json => ReportFormat::Json,
            };
            run.print(format, screen);
            return Ok(());
        }
        let written = run.files(&outputs, &each).map_err(Fault::Said)?;
        if written.paths.len() > 5 {
            screen.note(&format!("written: {} files", written.paths.len()));
        } else {
            for path in &written.paths {
                screen.note(&format!("written: {}", path.display()));
            }
        }
        if !written.unprinted.is_empty() {
            let characters: Vec<String> =
                written.unprinted.iter().map(|c| format!("{c}")).collect();
            screen.note(&format!(
                "note: no font has {}, printed by number: add `--font FILE` with one that does",
                characters.join(" ")
            ));
        }
        Ok(())
    }

    fn outputs(&self) -> Result<Vec<(PathBuf, Format)>, Fault> {
        let mut seen = BTreeSet::new();
        let mut outputs = Vec::new();
        for path in &self.output {
            if !seen.insert(path) {
                let name = path.display();
                return Err(Fault::Said(format!("`{name}` is named twice as an output")));
            }
            outputs.push((path.clone(), format_of(path).map_err(Fault::Said)?));
        }
        Ok(outputs)
    }

    fn patterns(&self) -> Result<Vec<(String, Format)>, Fault> {
        let patterns = self.each.iter().map(|pattern| {
            if !pattern.contains("{id}") {
                return Err(Fault::Said(format!(
                    "`{pattern}` would give every board the same file: put `{{id}}` into the name"
                )));
            }
            let format = format_of(Path::new(pattern)).map_err(Fault::Said)?;
            Ok((pattern.clone(), format))
        });
        patterns.collect()
    }

    /// Event, table and boards, every faulty file reported.
    fn read(&self, screen: &mut Screen) -> Result<(Event, Table, Boards), Fault> {
        let mut invalid_files = Vec::new();
        let event = match self.event.read() {
            Ok(event) => Some(event),
            Err(Fault::Files(faulty)) => {
                invalid_files.extend(faulty);
                None
            }
            Err(said @ Fault::Said(_)) => return Err(said),
        };
        let source = inputs::read(&self.table).map_err(InvalidFiles::from);
        let table = source.and_then(|source| Table::read(source, &shelf_of(&self.table)));
        let table = table
            .map_err(|InvalidFiles(faulty)| invalid_files.extend(faulty))
            .ok();
        let found = inputs::collect(&self.paths, Wanted::Yaml);
        let found = project::without_excluded(found, &self.paths);
        invalid_files.extend(found.invalid_files);
        let read: Vec<Result<(PathBuf, Board), Skipped>> = found
            .files
            .into_par_iter()
            .map(|path| {
                let document = inputs::read(&path).and_then(parse);
                let document =
                    document.map_err(|invalid_file| Skipped::Refused(Box::new(invalid_file)))?;
                if let Some(kind) = inputs::other_kind(&document)
                    && !self.paths.contains(&path)
                {
                    return Err(Skipped::Other(path, kind));
                }
                let board = Board::from_document(document);
                let board =
                    board.map_err(|invalid_file| Skipped::Refused(Box::new(invalid_file)))?;
                Ok((path, board))
            })
            .collect();
        let mut boards = Vec::new();
        for one in read {
            match one {
                Ok(board) => boards.push(board),
                Err(Skipped::Refused(invalid_file)) => invalid_files.push(*invalid_file),
                Err(Skipped::Other(path, kind)) => {
                    let name = path.display();
                    screen.note(&format!("note: {name} is {kind} and was left out"));
                }
            }
        }
        match (event, table) {
            (Some(event), Some(table)) if invalid_files.is_empty() => {
                if boards.is_empty() {
                    return Err(Fault::Said(
                        "there is no board to report on: name board files or their folder".into(),
                    ));
                }
                Ok((event, table, boards))
            }
            _ => Err(Fault::Files(invalid_files)),
        }
    }

    /// Every file that the run reads, and may not write over.
    fn files_read(&self, boards: &[(PathBuf, Board)], table: &Table) -> Vec<PathBuf> {
        let boards = boards.iter().map(|(path, _)| path.clone());
        let tables = table.documents.iter();
        let tables = tables.map(|document| PathBuf::from(document.source.name()));
        let others = self.event.event.iter().chain(&self.font).cloned();
        boards.chain(tables).chain(others).collect()
    }
}

/// Why a file gave no board.
enum Skipped {
    Refused(Box<InvalidFile>),
    Other(PathBuf, &'static str),
}
