//! Many files, on every core, in a fixed order.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use jiff::civil::Date;
use rayon::prelude::*;

use super::engine::invalid;
use super::settle::{self, Looked};
use super::{Example, FileFindings, Finding, Levels, Settings, Subject, lint_file};
use crate::document::{Fault, Files, InvalidFile, Level, Source};
use crate::table::{Shelf, ShelfError, shelf_through};

/// Where a file comes from.
#[derive(Clone, Debug)]
pub enum Input {
    /// A path.
    File(PathBuf),
    /// A text that is at hand already. A table in it may extend files beside
    /// its name.
    Text(Box<Source>),
}

/// A file and the settings that hold for it.
#[derive(Clone, Debug)]
pub struct Job {
    /// The file.
    pub input: Input,
    /// The settings.
    pub settings: Arc<Settings>,
}

/// What holds for a whole run.
#[derive(Clone, Debug)]
pub struct Options {
    /// Levels that go before those of settings files.
    pub levels: Levels,
    /// The day of the run, by which waivers expire.
    pub today: Date,
}

/// What a run has found.
#[derive(Clone, Debug, Default)]
pub struct Linted {
    /// The files, in the order of the jobs.
    pub files: Vec<FileFindings>,
    /// What was found about settings files.
    pub settings: Vec<Finding>,
    /// Whether a waiver had a last day, so that the day of the run counts.
    pub dated: bool,
}

impl Linted {
    /// Every finding, in the order of the files.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        let files = self.files.iter().flat_map(|file| &file.findings);
        files.chain(&self.settings)
    }

    /// The greatest level that counts; `None` if nothing was found.
    pub fn worst(&self) -> Option<Level> {
        let counting = self.findings().filter(|finding| finding.waived.is_none());
        counting.map(|finding| finding.diagnostic.level).max()
    }

    /// Whether a file could not be opened or is no text.
    pub fn unreadable(&self) -> bool {
        self.findings()
            .any(|finding| finding.diagnostic.code == Fault::Unreadable.code())
    }
}

/// Looks at every file, in parallel; then at all of them together. The result
/// depends on the order of the jobs and on nothing else.
///
/// ```
/// use std::sync::Arc;
/// use jiff::civil::date;
/// use ringrule::document::{Disk, Source};
/// use ringrule::lint::{Input, Job, Levels, Options, lint};
///
/// let text = "format: ringrule/board/1\nboard: {}\n";
/// let job = Job {
///     input: Input::Text(Box::new(Source::new("fl-03.yaml", text))),
///     settings: Arc::default(),
/// };
/// let options = Options { levels: Levels::default(), today: date(2026, 11, 25) };
/// let linted = lint(&[job], &options, &Disk);
/// let first = linted.findings().next().map(|finding| &finding.diagnostic);
/// assert_eq!(first.map(|found| found.code.as_ref()), Some("missing-key"));
/// ```
pub fn lint(jobs: &[Job], options: &Options, files: &dyn Files) -> Linted {
    let looked = jobs.par_iter().map(|job| {
        let findings = one(&job.input, &job.settings, &options.levels, files);
        (findings, Arc::clone(&job.settings))
    });
    finish(looked.collect(), options)
}

fn finish(mut looked: Vec<Looked>, options: &Options) -> Linted {
    once_each(&mut looked);
    let dated = looked.iter().any(|(file, settings)| {
        file.waivers.iter().any(|waiver| waiver.until.is_some())
            || settings.waivers.iter().any(|waiver| waiver.until.is_some())
    });
    settle::repeated_ids(&mut looked, &options.levels);
    let settings = settle::waive(&mut looked, &options.levels, options.today);
    Linted {
        files: looked.into_iter().map(|(file, _)| file).collect(),
        settings,
        dated,
    }
}

fn one(input: &Input, settings: &Settings, over: &Levels, files: &dyn Files) -> FileFindings {
    let (source, shelf) = match input {
        Input::File(path) => (
            files.read(path, &path.display().to_string()),
            shelf_through(path, files),
        ),
        Input::Text(source) => (
            Ok(Source::clone(source)),
            shelf_through(Path::new(source.name()), files),
        ),
    };
    match source {
        Ok(source) => look(source, &shelf, settings, over),
        Err(invalid_file) => invalid(invalid_file.file.clone().name(), &[invalid_file]),
    }
}

fn look(source: Source, shelf: &dyn Shelf, settings: &Settings, over: &Levels) -> FileFindings {
    let name = source.name().to_owned();
    match Subject::read(source, shelf, settings.thresholds) {
        Ok(subject) => lint_file(&subject, settings, over),
        Err(invalid_files) => invalid(&name, &invalid_files),
    }
}

/// A table that several others extend is invalid to each of them: what is wrong
/// with it is said once, by itself if it is among the files.
fn once_each(looked: &mut [Looked]) {
    let own: std::collections::HashSet<String> =
        looked.iter().map(|(file, _)| file.file.clone()).collect();
    let mut said = std::collections::HashSet::new();
    for (file, _) in looked {
        let name = file.file.clone();
        file.findings.retain(|finding| {
            let found = &finding.diagnostic;
            let place = &found.place;
            *place.file == *name
                || !own.contains(&*place.file)
                    && said.insert((
                        place.file.clone(),
                        place.span,
                        found.code.clone(),
                        found.message.clone(),
                    ))
        });
    }
}

/// Looks at an example of a rule and the files beside it.
pub fn lint_example(example: &Example, options: &Options) -> Linted {
    let settings = Arc::<Settings>::default();
    let looked = example.files().map(|file| {
        let source = Source::new(file.name, file.text());
        let findings = look(source, &Beside(example.beside), &settings, &options.levels);
        (findings, Arc::clone(&settings))
    });
    finish(looked.collect(), options)
}

/// The files beside an example.
struct Beside(&'static [Example]);

impl Shelf for Beside {
    fn fetch(&self, _from: &str, name: &str) -> Result<Source, ShelfError> {
        let found = self.0.iter().find(|file| file.name == name);
        let source = found.map(|file| Source::new(name, file.text()));
        source.ok_or_else(|| ShelfError::Missing {
            name: name.to_owned(),
            source: None,
        })
    }
}

/// An invalid settings file, as findings.
impl From<&InvalidFile> for FileFindings {
    fn from(invalid_file: &InvalidFile) -> Self {
        invalid(invalid_file.file.name(), std::slice::from_ref(invalid_file))
    }
}
