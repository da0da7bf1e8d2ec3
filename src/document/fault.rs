//! The faults that make a file invalid, with their codes.

words! {
    /// The kinds of fault that a file can have, one code each.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    #[non_exhaustive]
    pub enum Fault {
        /// The file cannot be opened or is not UTF-8.
        Unreadable = "unreadable" / "the file cannot be opened or is not UTF-8",
        /// Larger or deeper than [`super::budget`] allows.
        TooLarge = "too-large" / "the file is too large or too deeply nested",
        /// Not well-formed YAML.
        Syntax = "syntax" / "the file is not well-formed YAML or CSV",
        /// A second document behind `---`.
        SeveralDocuments = "several-documents" / "a second document follows after `---`",
        /// A key that its mapping already has.
        DuplicateKey = "duplicate-key" / "a key, column or row is given twice",
        /// `<<`, or a key that is not a plain word.
        KeyNotPlain = "key-not-plain" / "`<<`, or a key that is not a plain word",
        /// A tag such as `!!float`.
        Tag = "tag" / "a tag such as `!!float`",
        /// A scalar that different YAML programs read differently.
        AmbiguousScalar = "ambiguous-scalar" / "a value that YAML programs read differently",
        /// The `format` line is absent or names another format.
        WrongFormat = "wrong-format" / "the `format` line is absent or names another format",
        /// A key that the format does not have.
        UnknownKey = "unknown-key" / "a key or column that the format does not have",
        /// A key that the format requires.
        MissingKey = "missing-key" / "a key or row that the format requires is missing",
        /// A value of another kind than the format has there.
        WrongKind = "wrong-kind" / "a value of the wrong type, such as a text in place of a number",
        /// A word that is none of those allowed.
        UnknownWord = "unknown-word" / "a word that is not one of those allowed",
        /// A text that cannot be read as a length, wire size, percentage or day.
        Notation = "notation" / "a text that cannot be read as a length, wire size, percentage or day",
        /// A length that no board has.
        OutOfRange = "out-of-range" / "a length that no board has",
        /// Keys of which exactly one may be given.
        OneOf = "one-of" / "keys of which exactly one may be given",
        /// A group that says the same thing twice, differently.
        Contradiction = "contradiction" / "two statements that exclude each other, such as overlapping wires",
        /// A lower limit above the upper one.
        LimitsInverted = "limits-inverted" / "a lower limit above the upper one",
        /// An `extends` that cannot be followed.
        Extends = "extends" / "an `extends` that cannot be followed, or that leads back to itself",
    }

    /// The code that diagnostics and JSON print.
    fn code;
    /// What it means, in a line.
    fn meaning;
}

impl Fault {
    /// The fault with this code.
    pub fn with_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|fault| fault.code() == code)
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
