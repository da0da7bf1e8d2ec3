//! The formats that `validate` and `lint` share, and their files.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::report::{AnnotationHost, Checks, annotations, junit, sarif};

use super::output::Pending;
use super::{Ending, Screen};

/// As what findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// To read.
    Text,
    /// For other programs, with everything (`ringrule schema`).
    Json,
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
}

/// Where findings go.
#[derive(Debug, Args)]
pub(crate) struct Formats {
    /// What to write to standard output.
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    pub(crate) format: Format,
    /// Also write the findings to this file; its ending says as what: .txt,
    /// .json, .sarif, or .xml for `JUnit`. May be given several times.
    #[arg(long, value_name = "FILE")]
    also: Vec<PathBuf>,
    /// Replace files that are there already.
    #[arg(long, requires = "also")]
    overwrite: bool,
}

/// A run's findings in the forms that were asked for.
pub(crate) struct Written<'a> {
    pub(crate) text: &'a str,
    pub(crate) json: Option<String>,
    pub(crate) checks: &'a Checks,
}

impl Formats {
    /// The files, with their formats.
    pub(crate) fn files(&self) -> Result<Vec<(&Path, Format)>, String> {
        let files = self.also.iter().map(|path| {
            let ending = path.extension().and_then(|ending| ending.to_str());
            let format = match ending.unwrap_or_default() {
                "txt" => Format::Text,
                "json" => Format::Json,
                "sarif" => Format::Sarif,
                "xml" => Format::Junit,
                _ => {
                    return Err(format!(
                        "`{}` names no format: end it with .txt, .json, .sarif or .xml",
                        path.display()
                    ));
                }
            };
            Ok((path.as_path(), format))
        });
        files.collect()
    }

    /// Whether this format is wanted anywhere.
    pub(crate) fn wants(&self, format: Format) -> bool {
        let files = self.files().unwrap_or_default();
        self.format == format || files.iter().any(|(_, other)| *other == format)
    }

    /// Whether any format is wanted that is made of checks.
    pub(crate) fn wants_checks(&self) -> bool {
        let of_checks = |format| !matches!(format, Format::Text | Format::Json);
        let files = self.files().unwrap_or_default();
        of_checks(self.format) || files.iter().any(|(_, format)| of_checks(*format))
    }

    /// Writes all of it: the files whole or not at all, then standard output,
    /// where text has been shown as it came.
    pub(crate) fn deliver(
        &self,
        written: &Written<'_>,
        read: &[PathBuf],
        screen: &mut Screen,
    ) -> Ending {
        let mut ending = Ending::Good;
        if self.format != Format::Text {
            match form(self.format, written) {
                Ok(text) => screen.report(&text),
                Err(why) => {
                    screen.note(&why);
                    ending = Ending::Unusable;
                }
            }
        }
        match self.write_files(written, read) {
            Ok(paths) => {
                for path in paths {
                    screen.note(&format!("written: {}", path.display()));
                }
            }
            Err(why) => {
                screen.note(&why);
                ending = Ending::Unusable;
            }
        }
        ending
    }

    fn write_files(&self, written: &Written<'_>, read: &[PathBuf]) -> Result<Vec<PathBuf>, String> {
        let mut ready = Vec::new();
        for (path, format) in self.files()? {
            let mut file = Pending::begin(path, self.overwrite, read)?;
            file.put(form(format, written)?.as_bytes())?;
            ready.push(file.finish()?);
        }
        ready.into_iter().map(super::output::Ready::keep).collect()
    }
}

fn form(format: Format, written: &Written<'_>) -> Result<String, String> {
    let host = |host| annotations(written.checks, host).map_err(|error| error.to_string());
    match format {
        // A file has no colours.
        Format::Text => Ok(anstream::adapter::strip_str(written.text).to_string()),
        Format::Json => {
            let json = written.json.clone();
            json.ok_or_else(|| "the findings cannot be written as JSON".to_owned())
        }
        Format::Sarif => sarif(written.checks).map_err(|error| error.to_string()),
        Format::Junit => junit(written.checks).map_err(|error| error.to_string()),
        Format::Github => host(AnnotationHost::GitHub),
        Format::Azure => host(AnnotationHost::Azure),
        Format::Gitlab => host(AnnotationHost::GitLab),
    }
}
