//! One way in and one way out: every file that a run reads or writes, and every
//! line that it prints, goes through its context.

mod endings;
mod error;
mod find;
mod inputs;
mod latest;
mod outputs;
mod read;
mod results;
mod screen;
mod settings;
mod temporary;

pub(crate) use endings::{Output, also, by_ending};
pub(crate) use error::OutputError;
#[cfg(feature = "desk")]
pub(crate) use find::collect;
pub(crate) use find::{Found, Wanted};
pub(crate) use inputs::{Inputs, STANDARD_INPUT};
pub(crate) use outputs::{Claim, Outputs};
pub(crate) use read::{all_read, usable};
pub(crate) use results::Results;
pub(crate) use screen::Colour;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use ringrule::board::{Board, Validity};
use ringrule::document::{InvalidFile, InvalidFiles};
use ringrule::lint::Settings;
use ringrule::report::TextLayout;
use ringrule::table::{BuiltIn, Table, TableName, shelf_through};

use screen::Screen;
use settings::Chosen;

/// Files named one by one when they are written; more are counted. House rule.
const NAMED: usize = 5;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Ending {
    /// Everything is in order.
    Good,
    /// Something was found.
    Findings,
    /// Input could not be used, or output not written.
    Unusable,
}

impl From<Ending> for ExitCode {
    fn from(ending: Ending) -> Self {
        Self::from(match ending {
            Ending::Good => 0,
            Ending::Findings => 1,
            Ending::Unusable => 2,
        })
    }
}

/// Why a run cannot go on: files, or what was asked of them.
#[derive(Debug)]
pub(crate) enum Stop {
    Files(Vec<InvalidFile>),
    Said(String),
}

impl Stop {
    pub(crate) fn said(why: impl std::fmt::Display) -> Self {
        Self::Said(why.to_string())
    }

    /// Says first what does not work for this reason. Files speak for themselves.
    pub(crate) fn so(self, what: &str) -> Self {
        match self {
            Self::Said(why) => Self::Said(format!("{what}: {why}")),
            Self::Files(files) => Self::Files(files),
        }
    }
}

impl From<InvalidFiles> for Stop {
    fn from(InvalidFiles(all): InvalidFiles) -> Self {
        Self::Files(all)
    }
}

impl From<InvalidFile> for Stop {
    fn from(invalid_file: InvalidFile) -> Self {
        Self::Files(vec![invalid_file])
    }
}

impl From<OutputError> for Stop {
    fn from(error: OutputError) -> Self {
        Self::said(error)
    }
}

/// What a run reads, writes and says.
pub(crate) struct Context {
    screen: Screen,
    inputs: Arc<Inputs>,
    settings: Chosen,
    /// Whether files were to be written.
    writes: bool,
}

impl Context {
    pub(crate) fn new(colour: Colour, quiet: bool) -> Self {
        Self {
            screen: Screen::new(colour, quiet),
            inputs: Arc::default(),
            settings: Chosen::by_environment(),
            writes: false,
        }
    }

    /// Ends the run as its command did, or says why that could not go on.
    pub(crate) fn finish(mut self, result: Result<Ending, Stop>) -> Ending {
        let ending = result.unwrap_or_else(|stop| {
            match stop {
                Stop::Files(invalid_files) => {
                    for invalid_file in &invalid_files {
                        self.invalid_file(invalid_file);
                    }
                }
                Stop::Said(why) => self.complain(&why),
            }
            if self.writes {
                self.complain("nothing was written");
            }
            Ending::Unusable
        });
        self.screen.finish(ending)
    }

    /// Uses these settings for every file.
    pub(crate) fn use_settings(&mut self, settings: Settings) {
        self.settings = Chosen::One(Arc::new(settings));
    }

    /// The settings that hold for a file; where they are invalid, which is said
    /// when files are [found](Self::find), those that say nothing.
    pub(crate) fn settings_for(&mut self, path: &Path) -> Arc<Settings> {
        self.settings.of(path, &self.inputs).unwrap_or_default()
    }

    /// How long an inspection of a board counts, by the settings of its file.
    pub(crate) fn validity(&mut self, board: &Board) -> Option<Validity> {
        let path = Path::new(board.document.source.name()).to_owned();
        self.settings_for(&path).validity
    }

    /// What has been read, and reads more: on any thread.
    pub(crate) fn inputs(&self) -> Arc<Inputs> {
        Arc::clone(&self.inputs)
    }

    /// The files that paths, folders and patterns stand for, without those that
    /// settings exclude.
    pub(crate) fn find(&mut self, paths: &[PathBuf], wanted: Wanted) -> Found {
        let mut found = find::collect(paths, wanted);
        for note in self.settings.exclude(&mut found, paths, &self.inputs) {
            self.note(&note);
        }
        found
    }

    /// The table that is named, or that the settings for the first path name.
    pub(crate) fn table_if_any(
        &mut self,
        named: Option<&Path>,
        paths: &[PathBuf],
    ) -> Result<Option<Table>, Stop> {
        let name = match (named, paths.first()) {
            (Some(named), _) => Some(TableName::beside(Path::new(""), named)),
            (None, first) => {
                // Settings are those of the folder that a file is in: of a
                // folder, its own, and of nothing, those of the run's.
                let first = first.map_or(Path::new(""), |first| first);
                let folder = first.is_dir() || first.as_os_str().is_empty();
                let file = if folder {
                    first.join("board.yaml")
                } else {
                    first.to_owned()
                };
                self.settings.of(&file, &self.inputs)?.table.clone()
            }
        };
        let path = match name {
            None => return Ok(None),
            Some(TableName::BuiltIn(table)) => return Ok(Some(Table::read(table.source(), &())?)),
            Some(TableName::File(path)) => path,
        };
        let bare = path.extension().is_none() && path.components().count() == 1;
        if bare && !path.exists() {
            let name = path.display().to_string();
            let nearest = BuiltIn::nearest(&name);
            return Err(Stop::said(format!(
                "there is no file `{name}`, and no built-in table: {nearest}"
            )));
        }
        let shelf = shelf_through(&path, &*self.inputs);
        Ok(Some(Table::read(self.inputs.text(&path)?, &shelf)?))
    }

    /// The same for a command that cannot do without.
    pub(crate) fn table(&mut self, named: Option<&Path>, paths: &[PathBuf]) -> Result<Table, Stop> {
        self.table_if_any(named, paths)?.ok_or_else(|| {
            Stop::said(
                "no tolerance table is named: add `--table wdf` or `--table FILE`, or name one in a \
                 settings file (`table: …` in ringrule.yaml); `ringrule tables` lists what is \
                 built in",
            )
        })
    }

    /// Says from now on, where a run cannot go on, that nothing was written.
    pub(crate) fn will_write(&mut self) {
        self.writes = true;
    }

    /// Files that the run will write.
    fn outputs(&mut self, overwrite: bool) -> Outputs {
        self.will_write();
        Outputs::new(self.inputs(), overwrite)
    }

    /// Files that the run has read and will write anew.
    pub(crate) fn rewrites(&mut self) -> Outputs {
        self.writes = true;
        Outputs::rewriting(self.inputs())
    }

    /// Gives every file its name, and says which were written.
    fn keep(&mut self, outputs: Outputs) -> Result<(), Stop> {
        let paths = outputs.keep()?;
        if paths.len() > NAMED {
            self.note(&format!("written: {} files", paths.len()));
        } else {
            for path in &paths {
                self.note(&format!("written: {}", path.display()));
            }
        }
        Ok(())
    }

    /// The one result of a command: into the file that was asked for, or to
    /// standard output.
    pub(crate) fn deliver(&mut self, output: &Output, bytes: &[u8]) -> Result<(), Stop> {
        let results = self.begin([(output.output.as_ref(), ())], output.overwrite)?;
        self.write(results, |(), _, _| Ok(bytes.to_owned()))
    }

    /// How wide text for the person at the terminal may be.
    pub(crate) fn layout() -> TextLayout {
        screen::layout()
    }

    /// Whether somebody sits at the terminal.
    #[cfg(feature = "desk")]
    pub(crate) fn is_watched() -> bool {
        std::io::IsTerminal::is_terminal(&std::io::stdout())
    }

    /// Part of the report, on standard output.
    pub(crate) fn report(&mut self, text: &str) {
        self.screen.report(text);
    }

    /// The same for a reader who waits for it.
    pub(crate) fn report_at_once(&mut self, text: &str) {
        self.screen.report(text);
        self.screen.write_out();
    }

    /// Whether what is printed reaches nobody any more.
    pub(crate) const fn has_lost_its_reader(&self) -> bool {
        self.screen.has_failed()
    }

    /// What is said beside the one result of a command: on standard output, unless
    /// the result has that for itself.
    pub(crate) fn beside(&mut self, output: &Output, text: &str) {
        if output.output.is_some() {
            self.report(text);
        } else {
            self.aside(text);
        }
    }

    /// Findings beside a result that has standard output for itself.
    pub(crate) fn aside(&mut self, text: &str) {
        self.screen.aside(text);
    }

    /// Why a run failed: said even where notes are not wanted.
    pub(crate) fn complain(&mut self, text: &str) {
        self.screen.complain(text);
    }

    /// A line for the person at the terminal, unless no notes are wanted.
    pub(crate) fn note(&mut self, text: &str) {
        self.screen.note(text);
    }

    /// A file that cannot be used.
    pub(crate) fn invalid_file(&mut self, invalid_file: &InvalidFile) {
        self.screen.invalid_file(invalid_file);
    }
}
