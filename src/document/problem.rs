//! What makes a file unusable, as data.

use std::sync::Arc;

use super::{Source, Span};

/// The kinds of fault that a file can have, one code each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// The file cannot be opened or is not UTF-8.
    Unreadable,
    /// Larger or deeper than [`super::budget`] allows.
    TooLarge,
    /// Not well-formed YAML.
    Syntax,
    /// A second document behind `---`.
    SeveralDocuments,
    /// A key that its mapping already has.
    DuplicateKey,
    /// `<<`, or a key that is no plain word.
    KeyNotPlain,
    /// A tag such as `!!float`.
    Tag,
    /// A scalar that different YAML programs read differently.
    AmbiguousScalar,
    /// The `format` line is absent or names another format.
    WrongFormat,
    /// A key that the format does not have.
    UnknownKey,
    /// A key that the format requires.
    MissingKey,
    /// A value of another kind than the format has there.
    WrongKind,
    /// A word that is none of those allowed.
    UnknownWord,
    /// A text that is no length, wire size or percentage.
    Notation,
    /// A length that no board has.
    OutOfRange,
    /// Keys of which exactly one may be given.
    OneOf,
    /// A group that says the same thing twice, differently.
    Contradiction,
    /// Limits the wrong way round.
    LimitsInverted,
    /// An `extends` that cannot be followed.
    Extends,
}

impl Fault {
    /// Every fault, in the order of the definition.
    pub const ALL: [Self; 19] = [
        Self::Unreadable,
        Self::TooLarge,
        Self::Syntax,
        Self::SeveralDocuments,
        Self::DuplicateKey,
        Self::KeyNotPlain,
        Self::Tag,
        Self::AmbiguousScalar,
        Self::WrongFormat,
        Self::UnknownKey,
        Self::MissingKey,
        Self::WrongKind,
        Self::UnknownWord,
        Self::Notation,
        Self::OutOfRange,
        Self::OneOf,
        Self::Contradiction,
        Self::LimitsInverted,
        Self::Extends,
    ];

    /// The code that diagnostics and JSON print.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Unreadable => "unreadable",
            Self::TooLarge => "too-large",
            Self::Syntax => "syntax",
            Self::SeveralDocuments => "several-documents",
            Self::DuplicateKey => "duplicate-key",
            Self::KeyNotPlain => "key-not-plain",
            Self::Tag => "tag",
            Self::AmbiguousScalar => "ambiguous-scalar",
            Self::WrongFormat => "wrong-format",
            Self::UnknownKey => "unknown-key",
            Self::MissingKey => "missing-key",
            Self::WrongKind => "wrong-kind",
            Self::UnknownWord => "unknown-word",
            Self::Notation => "notation",
            Self::OutOfRange => "out-of-range",
            Self::OneOf => "one-of",
            Self::Contradiction => "contradiction",
            Self::LimitsInverted => "limits-inverted",
            Self::Extends => "extends",
        }
    }
}

/// One thing that is wrong, where it stands, and what to do about it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Problem {
    /// The kind of fault.
    pub fault: Fault,
    /// What is wrong, naming the value.
    pub message: String,
    /// What to write or do instead.
    pub remedy: String,
    /// Where it stands.
    pub span: Span,
    /// Another place that the message speaks of, such as a key's first use.
    pub related: Option<(Span, String)>,
}

impl Problem {
    /// A problem at one place.
    pub fn new(
        fault: Fault,
        span: Span,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Self {
        Self {
            fault,
            message: shortened(message.into()),
            remedy: shortened(remedy.into()),
            span,
            related: None,
        }
    }

    /// Points at a second place too.
    #[must_use]
    pub fn and(mut self, span: Span, label: impl Into<String>) -> Self {
        self.related = Some((span, label.into()));
        self
    }
}

/// Characters of a message that are worth reading. House rule: some five lines.
const LONGEST_MESSAGE: usize = 400;

/// A message that quotes a very long value is cut.
fn shortened(message: String) -> String {
    match message.char_indices().nth(LONGEST_MESSAGE) {
        Some((cut, _)) => format!("{}…", message.get(..cut).unwrap_or_default()),
        None => message,
    }
}

/// Problems of one file that are listed; the rest is counted. House rule: more
/// than a person mends in one go.
const MOST_LISTED: usize = 100;

/// A collection that every reading step adds to.
#[derive(Clone, Debug, Default)]
pub struct Problems(Vec<Problem>);

impl Problems {
    /// Adds one.
    pub fn add(&mut self, problem: Problem) {
        self.0.push(problem);
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether there is one of this kind.
    pub fn has(&self, fault: Fault) -> bool {
        self.0.iter().any(|problem| problem.fault == fault)
    }

    /// Forgets problems of every other kind.
    pub fn keep_only(&mut self, fault: Fault) {
        self.0.retain(|problem| problem.fault == fault);
    }

    /// The file as an invalid one if there are any, in the order of the file.
    pub fn into_result(mut self, source: &Arc<Source>) -> Result<(), InvalidFile> {
        if self.0.is_empty() {
            return Ok(());
        }
        self.0
            .sort_by(|a, b| (a.span, a.fault, &a.message).cmp(&(b.span, b.fault, &b.message)));
        self.0.dedup();
        let unlisted = self.0.len().saturating_sub(MOST_LISTED);
        self.0.truncate(MOST_LISTED);
        Err(InvalidFile {
            file: Arc::clone(source),
            problems: self.0,
            unlisted,
        })
    }
}

/// A file that cannot be used, with everything that is wrong with it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{} cannot be used: {}", file.name(), first(problems))]
pub struct InvalidFile {
    /// The file.
    pub file: Arc<Source>,
    /// At least one problem, in the order of the file.
    pub problems: Vec<Problem>,
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
        Self {
            file,
            problems: vec![problem],
            unlisted: 0,
        }
    }

    /// A file of which only the name is known.
    pub fn unreadable(name: &str, why: &str, remedy: &str) -> Self {
        let problem = Problem::new(Fault::Unreadable, Span::default(), why, remedy);
        Self::of(Arc::new(Source::new(name, "")), problem)
    }
}

fn first(problems: &[Problem]) -> String {
    match problems {
        [] => String::new(),
        [only] => only.message.clone(),
        [first, rest @ ..] => format!("{} (and {} more)", first.message, rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_is_unique_and_the_one_that_json_prints() {
        let mut codes: Vec<_> = Fault::ALL.iter().map(|f| f.code()).collect();
        for fault in Fault::ALL {
            let json = serde_json::to_value(fault).expect("a word");
            assert_eq!(json, fault.code());
        }
        codes.sort_unstable();
        codes.dedup();
        assert_eq!(codes.len(), Fault::ALL.len());
    }
}
