//! Where the result goes, and as what: a file's ending decides.

use std::path::{Path, PathBuf};

use clap::Args;

use super::Stop;

/// Where the result goes.
#[derive(Debug, Args)]
pub(crate) struct Output {
    /// Write to this file instead of standard output; its ending says as what.
    #[arg(long, short, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
    /// Replace files that are there already.
    #[arg(long, requires = "output")]
    pub(crate) overwrite: bool,
}

impl Output {
    /// The format that was asked for, by name or by the file's ending; the first
    /// of those known if neither says.
    pub(crate) fn format<F: Copy>(
        &self,
        named: Option<F>,
        known: &[(&str, F)],
        otherwise: F,
    ) -> Result<F, Stop> {
        match (named, &self.output) {
            (Some(named), _) => Ok(named),
            (None, Some(path)) => by_ending(path, known),
            (None, None) => Ok(otherwise),
        }
    }
}

/// Every file of a run with the format that its ending asks for, after the first.
pub(crate) fn also<'p, F: Copy>(
    first: (Option<&'p Path>, F),
    paths: &'p [PathBuf],
    known: &[(&str, F)],
) -> Result<Vec<(Option<&'p Path>, F)>, Stop> {
    let rest = paths
        .iter()
        .map(|path| Ok((Some(path.as_path()), by_ending(path, known)?)));
    std::iter::once(Ok(first)).chain(rest).collect()
}

/// The format that a file's ending asks for, or which endings there are.
pub(crate) fn by_ending<F: Copy>(path: &Path, known: &[(&str, F)]) -> Result<F, Stop> {
    let ending = path.extension().and_then(|ending| ending.to_str());
    let ending = ending.unwrap_or_default();
    let found = known.iter().find(|(e, _)| e.eq_ignore_ascii_case(ending));
    found.map(|&(_, format)| format).ok_or_else(|| {
        let known: Vec<String> = known
            .iter()
            .map(|(ending, _)| format!(".{ending}"))
            .collect();
        let known = match known.as_slice() {
            [rest @ .., last] if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
            all => all.join(""),
        };
        Stop::Said(format!(
            "`{}` has no ending that says how to write it: end it with {known}",
            path.display()
        ))
    })
}
