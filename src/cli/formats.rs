//! The formats that `validate` and `lint` share, and their files.

use std::fmt::Display;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::report::{
    AnnotationHost, Checks, TextLayout, annotations, junit, results_workbook, sarif,
};

use super::context::{Context, Results, Stop, also};

/// As what findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// To read.
    Text,
    /// For other programs, with everything (`ringrule schema`).
    Json,
    /// A row for each board and check, or for each finding, for spreadsheets.
    Csv,
    /// SARIF 2.1.0, for hosts and editors that show findings.
    Sarif,
    /// `JUnit` XML: a suite for each file, a case for each check.
    Junit,
    /// Workflow commands of GitHub Actions.
    Github,
    /// Logging commands of Azure Pipelines.
    Azure,
    /// The code quality report of GitLab CI.
    Gitlab,
    // What only the ending of a file asks for.
    #[value(skip)]
    Xlsx,
}

const ENDINGS: [(&str, Format); 6] = [
    ("txt", Format::Text),
    ("json", Format::Json),
    ("csv", Format::Csv),
    ("xlsx", Format::Xlsx),
    ("sarif", Format::Sarif),
    ("xml", Format::Junit),
];

/// Where findings go.
#[derive(Debug, Args)]
pub(crate) struct Formats {
    /// What to write to standard output.
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    format: Format,
    /// Also write the findings to this file; its ending says as what: .txt,
    /// .json, .csv, .xlsx, .sarif, or .xml for `JUnit`. May be given several times.
    #[arg(long, value_name = "FILE")]
    also: Vec<PathBuf>,
    /// Replace files that are there already.
    #[arg(long, requires = "also")]
    overwrite: bool,
}

impl Formats {
    /// Begins every file, or says which cannot be written.
    pub(crate) fn begin(&self, context: &mut Context) -> Result<Findings, Stop> {
        let forms = also((None, self.format), &self.also, &ENDINGS)?;
        context.begin(forms, self.overwrite).map(Findings)
    }
}

/// A run's findings on their way out.
pub(crate) struct Findings(Results<Format>);

impl Findings {
    /// What JSON is made of, if it is wanted anywhere.
    pub(crate) fn json<T>(&self, make: impl FnOnce() -> T) -> Option<T> {
        let wanted = self.0.any(|format| format == Format::Json);
        wanted.then(make)
    }

    /// What rows are made of, if they are wanted anywhere.
    pub(crate) fn rows<T>(&self, make: impl FnOnce() -> T) -> Option<T> {
        let tables = [Format::Csv, Format::Xlsx];
        self.0.any(|format| tables.contains(&format)).then(make)
    }

    /// Whether a workbook is wanted.
    pub(crate) fn has_workbook(&self) -> bool {
        self.0.any(|format| format == Format::Xlsx)
    }

    /// What checks are made of, if any format is wanted that is made of them.
    pub(crate) fn checks<T>(&self, make: impl FnOnce() -> T) -> Option<T> {
        let other = |format| {
            let plain = [Format::Text, Format::Json, Format::Csv, Format::Xlsx];
            !plain.contains(&format)
        };
        self.0.any(other).then(make)
    }

    /// Text as it comes, wherever it is wanted.
    pub(crate) fn text(
        &self,
        make: impl Fn(TextLayout) -> String,
        context: &mut Context,
    ) -> Result<(), Stop> {
        context.put_text(&self.0, Format::Text, make)
    }

    /// Everything else, once all is known: standard output, then the files,
    /// all of them or none. The first of the sheets is what CSV holds.
    pub(crate) fn finish(
        self,
        json: Option<Result<String, impl Display>>,
        sheets: &[(&str, &str)],
        checks: Option<&Checks>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let json = json.transpose().map_err(Stop::said)?.unwrap_or_default();
        let none = Checks::default();
        let checks = checks.unwrap_or(&none);
        let host = |host| annotations(checks, host).map_err(Stop::said);
        context.write(self.0, |format, _, _| {
            let text = match format {
                // It was written as it came.
                Format::Text => Ok(String::new()),
                Format::Json => Ok(json.clone()),
                Format::Csv => Ok(sheets.first().map_or("", |(_, rows)| rows).to_owned()),
                Format::Xlsx => return results_workbook(sheets).map_err(Stop::said),
                Format::Sarif => sarif(checks).map_err(Stop::said),
                Format::Junit => junit(checks).map_err(Stop::said),
                Format::Github => host(AnnotationHost::GitHub),
                Format::Azure => host(AnnotationHost::Azure),
                Format::Gitlab => host(AnnotationHost::GitLab),
            };
            text.map(String::into_bytes)
        })
    }
}
