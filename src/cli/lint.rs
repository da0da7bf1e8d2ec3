//! `ringrule lint`: can these files be trusted?

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use jiff::civil::Date;
use ringrule::document::{FileKind, Level};
use ringrule::lint::{FileFindings, Job, Levels, Linted, Options, Rule, RuleLevel, Settings, lint};
use ringrule::report::{LintHead, TextLayout, lint_checks, lint_json, lint_rows, lint_text};

use super::context::{Context, Ending, Stop, Wanted, usable};
use super::formats::{Findings, Formats};
use super::only_ours::OnlyOurs;
use super::tidy;
use super::values::{day, rule_and_level, today};

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
    /// Use this settings file for every file, and not those found in the folders. Left out, the
    /// one that `RINGRULE_SETTINGS` names, if it names one.
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
    #[arg(long, requires = "tidy", conflicts_with_all = ["format", "also"])]
    preview: bool,
    #[command(flatten)]
    only_ours: OnlyOurs,
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

impl Lint {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let inputs = context.inputs();
        inputs.name_standard_input(&self.stdin_name);
        let findings = self.formats.begin(context)?;
        if let Some(path) = &self.settings {
            context.use_settings(Settings::read(inputs.text(path)?)?);
        } else if self.no_settings {
            context.use_settings(Settings::default());
        }
        let mut found = context.find(&self.paths, Wanted::YamlAndSheets);
        let nothing_ours = self
            .only_ours
            .pass_over(&mut found, &FileKind::ALL, context);
        if self.tidy {
            return tidy::run(found, self.preview, context);
        }
        let mut levels = Levels::default();
        for &(rule, level) in &self.level {
            levels.set(rule, level);
        }
        let options = Options {
            levels,
            today: self.on.unwrap_or_else(today),
        };
        let mut invalid_files = found.invalid_files;
        let mut jobs = Vec::new();
        for path in &found.files {
            let settings = context.settings_for(path);
            let input = usable(inputs.to_lint(path), &mut invalid_files)?;
            jobs.extend(input.map(|input| Job { input, settings }));
        }
        if jobs.is_empty() && invalid_files.is_empty() && !nothing_ours {
            return Err(Stop::said(
                "there was nothing to look at: every file was excluded",
            ));
        }
        let mut linted = lint(&jobs, &options, &*inputs);
        let unusable = !invalid_files.is_empty() || linted.unreadable();
        let invalid_files = invalid_files.iter().map(FileFindings::from);
        linted.files.extend(invalid_files);
        if linted.dated && self.on.is_none() {
            context.note(&format!(
                "note: waivers expire by today's date, {} (UTC); `--on` names another day",
                options.today
            ));
        }
        self.write(&linted, options.today, findings, context)?;
        let counts = |worst| worst >= Level::from(self.fail_at);
        Ok(if unusable {
            Ending::Unusable
        } else if linted.worst().is_some_and(counts) {
            Ending::Findings
        } else {
            Ending::Good
        })
    }

    fn write(
        &self,
        linted: &Linted,
        on: Date,
        findings: Findings,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let threshold = Level::from(self.fail_at);
        let text = |layout: TextLayout| lint_text(linted, self.waived, layout.coloured(true));
        findings.text(text, context)?;
        let json = findings.json(|| lint_json(linted, &LintHead { on, threshold }));
        let checks = findings.checks(|| lint_checks(linted, threshold));
        let rows = findings.rows(|| lint_rows(linted));
        let rows = rows.as_deref().unwrap_or_default();
        findings.finish(json, &[("findings", rows)], checks.as_ref(), context)
    }
}
