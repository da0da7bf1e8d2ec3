//! `ringrule lint`: can these files be trusted?

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, ValueEnum};
use jiff::civil::Date;
use jiff::{Timestamp, tz::TimeZone};
use ringrule::document::{InvalidFile, Level, Source};
use ringrule::lint::{
    FileFindings, Finder, Input, Job, Levels, Linted, Options, Rule, RuleLevel, Settings, lint,
};
use ringrule::report::{Checks, LintHead, lint_checks, lint_json, lint_text};

use super::formats::{Format, Formats, Written};
use super::inputs::{self, Inputs, STANDARD_INPUT, Wanted};
use super::screen::DIAGNOSTIC_WIDTH;
use super::{Ending, Screen, tidy};

/// Say whether files can be trusted to say what was measured.
///
/// Looks at the files themselves: units, digits, edges, who measured and when,
/// ids, limits that contradict one another. Whether a board is built to rule is
/// the business of `validate`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule lint specs/demo tolerances\n  \
    ringrule lint 'boards/**/fl-*.yaml' --level unit-mixed=ignore\n  \
    ringrule lint - --stdin-name fl-03.yaml < draft.yaml\n  \
    ringrule lint boards --format github --also lint.sarif --also lint.xml\n  \
    ringrule lint boards --tidy --preview\n  \
    ringrule rules missing-date\n\n\
    A finding that is known and accepted is waived by a comment on its line or above it,\n  \
    # ringrule: waive missing-date until 2027-03-01 because the sheet was lost\n\
    or in a settings file, ringrule.yaml.\n\n\
    Exit codes:\n  \
    0  nothing was found at the level of `--fail-at` or above\n  \
    1  something was\n  \
    2  a file could not be read, a settings file could not be used, or there was nothing to look at")]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a flag of the command line"
)]
pub(crate) struct Lint {
    /// Board files, tables, sheets and event files; folders with them; patterns such as
    /// `boards/**/fl-*.yaml`; `-` for standard input.
    #[arg(required = true, value_name = "PATH")]
    paths: Vec<PathBuf>,
    /// What to call the file that comes from standard input.
    #[arg(long, value_name = "NAME", default_value = "standard input")]
    stdin_name: String,
    /// Use this settings file for every file, whatever lies in the folders.
    #[arg(long, value_name = "FILE", conflicts_with = "no_settings")]
    settings: Option<PathBuf>,
    /// Use no settings file.
    #[arg(long)]
    no_settings: bool,
    /// How much a rule's findings count, over the settings; may be given again.
    #[arg(long, value_name = "RULE=LEVEL", value_parser = rule_and_level)]
    level: Vec<(&'static Rule, RuleLevel)>,
    /// The least level that leads to exit code 1.
    #[arg(long, value_name = "LEVEL", value_enum, default_value_t = FailAt::Warning)]
    fail_at: FailAt,
    /// The day by which waivers expire; left out, today.
    #[arg(long, value_name = "DAY", value_parser = day)]
    on: Option<Date>,
    /// Also list findings that are waived.
    #[arg(long)]
    waived: bool,
    /// Put notation right: spaces around units, gauges and percent signs, and
    /// white space that nobody sees. No value, comment or layout changes; the
    /// difference is shown.
    #[arg(long, conflicts_with_all = ["format", "also"])]
    tidy: bool,
    /// Show what `--tidy` would change, and change nothing.
    #[arg(long, requires = "tidy")]
    preview: bool,
    #[command(flatten)]
    formats: Formats,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum FailAt {
    /// Anything that was found.
    Note,
    /// The file may say something other than what was measured.
    Warning,
    /// The file cannot be trusted as it stands.
    Error,
}

impl From<FailAt> for Level {
    fn from(choice: FailAt) -> Self {
        match choice {
            FailAt::Note => Self::Note,
            FailAt::Warning => Self::Warning,
            FailAt::Error => Self::Error,
        }
    }
}

fn rule_and_level(text: &str) -> Result<(&'static Rule, RuleLevel), String> {
    let (code, level) = text
        .split_once('=')
        .ok_or("write a rule and a level, such as `unit-mixed=ignore`")?;
    let rule = Rule::find(code)
        .ok_or_else(|| format!("there is no rule `{code}`: `ringrule rules` lists them"))?;
    let level = level.parse::<RuleLevel>();
    Ok((rule, level.map_err(|error| error.to_string())?))
}

fn day(text: &str) -> Result<Date, String> {
    let date = text.parse::<Date>().ok();
    date.filter(|date| date.to_string() == text)
        .ok_or_else(|| "write year, month and day, such as `2026-11-25`".to_owned())
}

impl Lint {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        if let Err(why) = self.formats.files() {
            screen.note(&why);
            return Ending::Unusable;
        }
        let mut settings = match self.chosen_settings() {
            Ok(settings) => settings,
            Err(invalid_file) => {
                screen.invalid_file(&invalid_file);
                return Ending::Unusable;
            }
        };
        let found = inputs::collect(&self.paths, Wanted::YamlAndSheets);
        if self.tidy {
            return self.tidied(&found, &mut settings, screen);
        }
        let mut levels = Levels::default();
        for &(rule, level) in &self.level {
            levels.set(rule, level);
        }
        let options = Options {
            levels,
            today: self.on.unwrap_or_else(today),
        };
        let mut refused: Vec<InvalidFile> = found.invalid_files;
        let mut jobs = Vec::new();
        for path in &found.files {
            let own = settings.of(path).unwrap_or_else(|invalid_file| {
                if !refused.contains(&invalid_file) {
                    refused.push(invalid_file);
                }
                Arc::default()
            });
            if !self.paths.contains(path) && own.excludes(path) {
                continue;
            }
            match self.input(path) {
                Ok(input) => jobs.push(Job {
                    input,
                    settings: own,
                }),
                Err(invalid_file) => refused.push(invalid_file),
            }
        }
        if jobs.is_empty() && refused.is_empty() {
            screen.note("there was nothing to look at: every file was excluded");
            return Ending::Unusable;
        }
        let mut linted = lint(&jobs, &options);
        let unusable = !refused.is_empty() || linted.unreadable();
        linted.files.extend(refused.iter().map(FileFindings::from));
        if linted.dated && self.on.is_none() {
            screen.note(&format!(
                "note: waivers expire by today's date, {} (UTC); `--on` names another day",
                options.today
            ));
        }
        self.finish(&linted, options.today, unusable, screen)
    }

    /// Tidies the YAML files among these.
    fn tidied(&self, found: &Inputs, settings: &mut Chosen, screen: &mut Screen) -> Ending {
        let mut ending = Ending::Good;
        for invalid_file in &found.invalid_files {
            screen.invalid_file(invalid_file);
            ending = Ending::Unusable;
        }
        let mut files = Vec::new();
        for path in &found.files {
            if path.as_os_str() == STANDARD_INPUT {
                screen.note("standard input cannot be tidied in place: name a file");
                return Ending::Unusable;
            }
            match settings.of(path) {
                Ok(own) if !self.paths.contains(path) && own.excludes(path) => {}
                // A sheet is written by a spreadsheet, which has its own ways.
                Ok(_) if Wanted::Yaml.includes(path) => files.push(path.clone()),
                Ok(_) => {}
                Err(invalid_file) => {
                    screen.invalid_file(&invalid_file);
                    ending = Ending::Unusable;
                }
            }
        }
        if ending == Ending::Unusable {
            screen.note("nothing was written");
            return ending;
        }
        tidy::run(&files, self.preview, screen)
    }

    fn finish(&self, linted: &Linted, on: Date, unusable: bool, screen: &mut Screen) -> Ending {
        let threshold = Level::from(self.fail_at);
        let ending = if unusable {
            Ending::Unusable
        } else if linted.worst().is_some_and(|worst| worst >= threshold) {
            Ending::Findings
        } else {
            Ending::Good
        };
        let text = lint_text(linted, self.waived, DIAGNOSTIC_WIDTH);
        if self.formats.format == Format::Text {
            screen.report(&text);
        }
        // Where nothing asks for checks, none are put together.
        let checks = if self.formats.wants_checks() {
            lint_checks(linted)
        } else {
            Checks::default()
        };
        let wants_json = self.formats.wants(Format::Json);
        let json = wants_json.then(|| lint_json(linted, &LintHead { on, threshold }));
        let written = Written {
            text: &text,
            json: json.and_then(Result::ok),
            checks: &checks,
        };
        let read: Vec<PathBuf> = linted.files.iter().map(|f| f.file.clone().into()).collect();
        ending.max(self.formats.deliver(&written, &read, screen))
    }

    fn input(&self, path: &Path) -> Result<Input, InvalidFile> {
        if path.as_os_str() != STANDARD_INPUT {
            return Ok(Input::File(path.to_owned()));
        }
        let source = Source::from_reader(std::io::stdin().lock(), &self.stdin_name)?;
        Ok(Input::Text(Box::new(source)))
    }

    fn chosen_settings(&self) -> Result<Chosen, InvalidFile> {
        if self.no_settings {
            return Ok(Chosen::One(Arc::default()));
        }
        match &self.settings {
            None => Ok(Chosen::Found(Finder::default(), self.stdin_name.clone())),
            Some(path) => {
                let settings = Settings::read(inputs::read(path)?)?;
                Ok(Chosen::One(Arc::new(settings)))
            }
        }
    }
}

/// Whose settings hold.
enum Chosen {
    /// The same for every file.
    One(Arc<Settings>),
    /// Those of each file's folder; standard input has that of its name.
    Found(Finder, String),
}

impl Chosen {
    fn of(&mut self, path: &Path) -> Result<Arc<Settings>, InvalidFile> {
        match self {
            Self::One(settings) => Ok(Arc::clone(settings)),
            Self::Found(finder, name) if path.as_os_str() == STANDARD_INPUT => {
                finder.settings_for(Path::new(name))
            }
            Self::Found(finder, _) => finder.settings_for(path),
        }
    }
}

/// The day by the system's clock, in UTC: no file of time zones is needed, and
/// a waiver's last day is not a matter of hours.
fn today() -> Date {
    TimeZone::UTC.to_datetime(Timestamp::now()).date()
}
