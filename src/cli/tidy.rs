//! `ringrule lint --tidy`: notation put right, with a preview.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringrule::document::InvalidFile;
use ringrule::lint::tidy;
use ringrule::report::escape;
use similar::TextDiff;

use super::context::{Context, Ending, Found, STANDARD_INPUT, Stop, Wanted, usable};

/// Tidies the YAML files among these, or shows what that would change. Nothing is
/// written if a file cannot be read; a link that was not followed is none of these files,
/// and only said.
pub(super) fn run(found: Found, preview: bool, context: &mut Context) -> Result<Ending, Stop> {
    let standard_input = |path: &PathBuf| path.as_os_str() == STANDARD_INPUT;
    if found.files.iter().any(standard_input) {
        return Err(Stop::said(
            "standard input cannot be tidied in place: name a file",
        ));
    }
    let invalid_files = found.invalid_files.into_iter();
    let (links, mut invalid_files): (Vec<_>, Vec<_>) =
        invalid_files.partition(|file| found.links.contains(file));
    if !invalid_files.is_empty() {
        return Err(Stop::Files(invalid_files));
    }
    // A sheet is written by a spreadsheet, which has its own ways.
    let mut files = found.files;
    files.retain(|path| Wanted::Yaml.includes(path));
    let inputs = context.inputs();
    let mut outputs = context.rewrites();
    let read = files.par_iter().map(|path| {
        let source = inputs.text(path)?;
        let tidied = tidy(&source)?;
        Ok((path, source, tidied))
    });
    let mut count = 0;
    for one in read.collect::<Vec<Result<_, InvalidFile>>>() {
        if let Some((path, source, Some(tidied))) = usable(one, &mut invalid_files)? {
            context.report(&difference(path, source.text(), &tidied));
            if !preview {
                outputs.claim(path)?.append(tidied.as_bytes())?;
            }
            count += 1;
        }
    }
    if !invalid_files.is_empty() {
        return Err(Stop::Files(invalid_files));
    }
    outputs.keep()?;
    context.note(&match (count, preview) {
        (0, _) => "every file is tidy".to_owned(),
        (1, true) => "1 file would change".to_owned(),
        (_, true) => format!("{count} files would change"),
        (1, false) => "1 file tidied".to_owned(),
        (_, false) => format!("{count} files tidied"),
    });
    if !links.is_empty() {
        return Err(Stop::Files(links));
    }
    Ok(if preview && count > 0 {
        Ending::Findings
    } else {
        Ending::Good
    })
}

/// The difference as `diff -u` writes it, control characters spelt out.
fn difference(path: &Path, before: &str, after: &str) -> String {
    let name = escape::terminal(&path.display().to_string()).into_owned();
    let difference = TextDiff::from_lines(before, after);
    let text = difference
        .unified_diff()
        .context_radius(2)
        .header(&name, &name)
        .missing_newline_hint(true)
        .to_string();
    escape::lines(&text)
}
