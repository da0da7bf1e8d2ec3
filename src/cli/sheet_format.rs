//! How a sheet's CSV is written.

use std::path::Path;

use clap::{Args, ValueEnum};
use ringrule::document::{CsvFormat, DecimalMark, Encoding, Separator};

#[derive(Debug, Args)]
pub(crate) struct SheetFormat {
    /// What stands between the cells of a sheet [default: as the file itself says;
    /// of one that is written, comma, or tab in a .tsv file].
    #[arg(long, value_enum, value_name = "CHARACTER")]
    separator: Option<SeparatorChoice>,
}

/// In which characters a CSV file is written.
#[derive(Debug, Args)]
pub(crate) struct EncodingChoice {
    /// The characters of a CSV file that is not UTF-8 and does not begin with the mark
    /// of UTF-16.
    #[arg(long, value_enum, value_name = "NAME")]
    encoding: Option<EncodingName>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum EncodingName {
    #[value(name = "utf-8")]
    Utf8,
    #[value(name = "windows-1252")]
    Windows1252,
}

impl EncodingChoice {
    pub(crate) fn declared(&self) -> Option<Encoding> {
        self.encoding.map(|name| match name {
            EncodingName::Utf8 => Encoding::Utf8,
            EncodingName::Windows1252 => Encoding::Windows1252,
        })
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum SeparatorChoice {
    Comma,
    Semicolon,
    Tab,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DecimalChoice {
    Point,
    Comma,
}

impl From<DecimalChoice> for DecimalMark {
    fn from(choice: DecimalChoice) -> Self {
        match choice {
            DecimalChoice::Point => Self::Point,
            DecimalChoice::Comma => Self::Comma,
        }
    }
}

impl SheetFormat {
    pub(crate) fn separator(&self, file: Option<&Path>) -> Separator {
        let ending = file.and_then(Path::extension);
        match self.separator {
            None if ending.is_some_and(|e| e.eq_ignore_ascii_case("tsv")) => Separator::Tab,
            None | Some(SeparatorChoice::Comma) => Separator::Comma,
            Some(SeparatorChoice::Semicolon) => Separator::Semicolon,
            Some(SeparatorChoice::Tab) => Separator::Tab,
        }
    }

    /// How a file is written: as is declared, else as it says itself.
    pub(crate) fn csv(&self, file: &Path, text: &str, decimal: Option<DecimalChoice>) -> CsvFormat {
        let told = CsvFormat::told(text);
        let separator = match told {
            Some(told) if self.separator.is_none() => told.separator,
            _ => self.separator(Some(file)),
        };
        // What was told of decimals holds for the separator that was told.
        let told = told.filter(|told| told.separator == separator);
        let decimal = decimal.map(DecimalMark::from);
        CsvFormat {
            separator,
            decimal: decimal
                .or(told.map(|told| told.decimal))
                .unwrap_or_default(),
        }
    }
}
