//! The faults that make a file invalid, with their codes.

/// The kinds of fault that a file can have, one code each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
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
    /// `<<`, or a key that is not a plain word.
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
    /// A text that cannot be read as a length, wire size, percentage or day.
    Notation,
    /// A length that no board has.
    OutOfRange,
    /// Keys of which exactly one may be given.
    OneOf,
    /// A group that says the same thing twice, differently.
    Contradiction,
    /// A lower limit above the upper one.
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

    /// The fault with this code.
    pub fn with_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|fault| fault.code() == code)
    }

    /// What it means, in a line.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Unreadable => "the file cannot be opened or is not UTF-8",
            Self::TooLarge => "the file is too large or too deeply nested",
            Self::Syntax => "the file is not well-formed YAML or CSV",
            Self::SeveralDocuments => "a second document follows after `---`",
            Self::DuplicateKey => "a key, column or row is given twice",
            Self::KeyNotPlain => "`<<`, or a key that is not a plain word",
            Self::Tag => "a tag such as `!!float`",
            Self::AmbiguousScalar => "a value that YAML programs read differently",
            Self::WrongFormat => "the `format` line is absent or names another format",
            Self::UnknownKey => "a key or column that the format does not have",
            Self::MissingKey => "a key or row that the format requires is missing",
            Self::WrongKind => "a value of the wrong type, such as a text in place of a number",
            Self::UnknownWord => "a word that is not one of those allowed",
            Self::Notation => {
                "a text that cannot be read as a length, wire size, percentage or day"
            }
            Self::OutOfRange => "a length that no board has",
            Self::OneOf => "keys of which exactly one may be given",
            Self::Contradiction => {
                "two statements that exclude each other, such as overlapping wires"
            }
            Self::LimitsInverted => "a lower limit above the upper one",
            Self::Extends => "an `extends` that cannot be followed, or that leads back to itself",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_leads_to_its_fault() {
        for fault in Fault::ALL {
            assert_eq!(Fault::with_code(fault.code()), Some(fault));
        }
    }
}
