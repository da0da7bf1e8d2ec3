//! `ringrule lint --tidy`: notation put right, with a preview.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use ringrule::lint::tidy;
use ringrule::report::escape;
use similar::TextDiff;

use super::output::Pending;
use super::{Ending, Screen, inputs};

/// Tidies files, or shows what that would change. Nothing is written if a file
/// cannot be read.
pub(super) fn run(files: &[PathBuf], preview: bool, screen: &mut Screen) -> Ending {
    let read: Vec<_> = files
        .par_iter()
        .map(|path| {
            let source = inputs::read(path)?;
            let tidied = tidy(&source);
            Ok((path.as_path(), source, tidied))
        })
        .collect();
    let mut changes = Vec::new();
    let mut ending = Ending::Good;
    for one in read {
        match one {
            Ok((path, source, Some(tidied))) => changes.push((path, source, tidied)),
            Ok((_, _, None)) => {}
            Err(invalid_file) => {
                screen.invalid_file(&invalid_file);
                ending = Ending::Unusable;
            }
        }
    }
    for (path, source, tidied) in &changes {
        screen.report(&difference(path, source.text(), tidied));
    }
    let count = changes.len();
    if ending == Ending::Unusable {
        screen.note("nothing was written");
        return ending;
    }
    if preview {
        screen.note(&match count {
            0 => "every file is tidy".to_owned(),
            1 => "1 file would change".to_owned(),
            _ => format!("{count} files would change"),
        });
        return if count == 0 {
            Ending::Good
        } else {
            Ending::Findings
        };
    }
    match write(
        &changes
            .iter()
            .map(|(p, _, t)| (*p, t.as_str()))
            .collect::<Vec<_>>(),
    ) {
        Ok(()) => {
            screen.note(&match count {
                0 => "every file is tidy".to_owned(),
                1 => "1 file tidied".to_owned(),
                _ => format!("{count} files tidied"),
            });
            Ending::Good
        }
        Err(why) => {
            screen.note(&why);
            Ending::Unusable
        }
    }
}

/// All files are complete before the first takes its place.
fn write(changes: &[(&Path, &str)]) -> Result<(), String> {
    let mut ready = Vec::new();
    for (path, text) in changes {
        let mut file = Pending::begin(path, true, &[])?;
        file.put(text.as_bytes())?;
        ready.push(file.finish()?);
    }
    ready
        .into_iter()
        .try_for_each(|file| file.keep().map(|_| ()))
}

/// The difference as `diff -u` writes it, control characters spelt out.
fn difference(path: &Path, before: &str, after: &str) -> String {
    let name = path.display().to_string();
    let difference = TextDiff::from_lines(before, after);
    let text = difference
        .unified_diff()
        .context_radius(2)
        .header(&name, &name)
        .missing_newline_hint(true)
        .to_string();
    text.split_inclusive('\n')
        .map(|line| {
            let (line, end) = match line.strip_suffix('\n') {
                Some(line) => (line, "\n"),
                None => (line, ""),
            };
            escape::terminal(line).into_owned() + end
        })
        .collect()
}
