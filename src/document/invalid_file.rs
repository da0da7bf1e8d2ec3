//! A file that cannot be used.

use std::sync::Arc;

use super::{Diagnostic, Document, Fault, Place, Problem, Problems, Source, Span};

/// A file that cannot be used, with everything that is wrong with it.
///
/// ```
/// use ringrule::document::{Fault, Source, parse};
///
/// let invalid_file = parse(Source::new("fl-03.yaml", "a: 1\na: 2\n")).unwrap_err();
/// assert_eq!(invalid_file.faults(), [Fault::DuplicateKey]);
/// let found = &invalid_file.diagnostics[0];
/// assert_eq!(found.to_string(), "fl-03.yaml:2:1: `a` is given twice");
/// assert_eq!(found.related[0].place.from.line, 1);
/// ```
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{} cannot be used: {}", file.name(), first(diagnostics))]
pub struct InvalidFile {
    /// The file.
    pub file: Arc<Source>,
    /// At least one, in the order of the file; each has the code of a
    /// [`Fault`].
    pub diagnostics: Vec<Diagnostic>,
    /// How many more there are than are listed.
    pub unlisted: usize,
}

/// Everything that is wrong with a file and with the files that it leads to.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
pub struct InvalidFiles(pub Vec<InvalidFile>);

impl From<InvalidFile> for InvalidFiles {
    fn from(invalid_file: InvalidFile) -> Self {
        Self(vec![invalid_file])
    }
}

impl InvalidFile {
    /// A file with a single problem.
    pub fn of(file: Arc<Source>, problem: Problem) -> Self {
        let place = |span| Place::in_text(&file, span).with_line_before(&file);
        let diagnostics = vec![problem.into_diagnostic(place)];
        Self {
            file,
            diagnostics,
            unlisted: 0,
        }
    }

    /// A file of which only the name is known.
    pub fn unreadable(name: &str, why: &str, remedy: &str) -> Self {
        let problem = Problem::new(Fault::Unreadable, Span::default(), why, remedy);
        Self::of(Arc::new(Source::new(name, "")), problem)
    }

    /// The fault of each of the diagnostics.
    pub fn faults(&self) -> Vec<Fault> {
        let codes = self.diagnostics.iter().map(|found| &found.code);
        codes.filter_map(|code| Fault::with_code(code)).collect()
    }
}

impl Problems {
    /// The text as an invalid file if there are any, in the order of the file.
    pub fn into_result(self, source: &Arc<Source>) -> Result<(), InvalidFile> {
        self.placed(source, |span| Place::in_text(source, span))
    }

    /// The same for a parsed file: every place has its pointer too.
    pub fn into_result_in(self, document: &Document) -> Result<(), InvalidFile> {
        let place = |span| Place::in_document(document, span);
        self.placed(&document.source, place)
    }

    fn placed(
        self,
        source: &Arc<Source>,
        place: impl Fn(Span) -> Place,
    ) -> Result<(), InvalidFile> {
        if self.is_empty() {
            return Ok(());
        }
        let (problems, unlisted) = self.listed();
        let place = |span| place(span).with_line_before(source);
        let problems = problems.into_iter();
        Err(InvalidFile {
            file: Arc::clone(source),
            diagnostics: problems.map(|p| p.into_diagnostic(place)).collect(),
            unlisted,
        })
    }
}

fn first(diagnostics: &[Diagnostic]) -> String {
    match diagnostics {
        [] => String::new(),
        [only] => only.message.clone(),
        [first, rest @ ..] => format!("{} (and {} more)", first.message, rest.len()),
    }
}
