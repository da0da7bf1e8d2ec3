//! How a sheet's CSV is written.

use std::path::Path;

use clap::{Args, ValueEnum};
use ringrule::document::{CsvFormat, DecimalMark, Encoding, InvalidFile, Separator, Source};
use ringrule::workbook::Workbook;

use super::context::Context;

/// Bytes of a CSV file of boards. House rule: some ten times one of 10,000 rows.
const MOST_BYTES: usize = 32 << 20;

#[derive(Debug, Args)]
pub(crate) struct SheetFormat {
    /// What stands between the cells of a sheet [default: as the file itself says;
    /// of one that is written, comma, or tab in a .tsv file].
    #[arg(long, value_enum, value_name = "CHARACTER")]
    separator: Option<SeparatorChoice>,
}

/// How a CSV file that is read is written, as far as it does not say so itself.
#[derive(Debug, Args)]
pub(crate) struct CsvChoice {
    /// What stands before the decimals of numbers that are written as text [default: as the
    /// file itself says].
    #[arg(long, value_enum, value_name = "MARK")]
    decimal: Option<DecimalChoice>,
    /// The characters of a CSV file that is not UTF-8 and does not begin with the mark
    /// of UTF-16.
    #[arg(long, value_enum, value_name = "NAME")]
    encoding: Option<EncodingName>,
    #[command(flatten)]
    sheet: SheetFormat,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum EncodingName {
    #[value(name = "utf-8")]
    Utf8,
    #[value(name = "windows-1252")]
    Windows1252,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum SeparatorChoice {
    Comma,
    Semicolon,
    Tab,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum DecimalChoice {
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
}

impl CsvChoice {
    pub(crate) fn encoding(&self) -> Option<Encoding> {
        self.encoding.map(|name| match name {
            EncodingName::Utf8 => Encoding::Utf8,
            EncodingName::Windows1252 => Encoding::Windows1252,
        })
    }

    pub(crate) fn decimal(&self) -> Option<DecimalMark> {
        self.decimal.map(DecimalMark::from)
    }

    /// A spreadsheet: a workbook, or a CSV file of boards.
    pub(crate) fn workbook(&self, path: &Path, context: &Context) -> Result<Workbook, InvalidFile> {
        let name = path.display().to_string();
        let bytes = context.inputs().bytes(path).map_err(|error| {
            let why = format!("this file cannot be read: {error}");
            InvalidFile::unreadable(&name, &why, "check the path")
        })?;
        if Workbook::is_one(&bytes) {
            return Workbook::read(&name, bytes);
        }
        let source = Source::of_bytes(&name, bytes, self.encoding(), MOST_BYTES)?;
        let format = self.format(path, source.text());
        Workbook::of_csv(source, format)
    }

    /// How a file is written: as is declared, else as it says itself.
    pub(crate) fn format(&self, file: &Path, text: &str) -> CsvFormat {
        let told = CsvFormat::told(text);
        let separator = match told {
            Some(told) if self.sheet.separator.is_none() => told.separator,
            _ => self.sheet.separator(Some(file)),
        };
        // What was told of decimals holds for the separator that was told.
        let told = told.filter(|told| told.separator == separator);
        CsvFormat {
            separator,
            decimal: self
                .decimal()
                .or(told.map(|told| told.decimal))
                .unwrap_or_default(),
        }
    }
}
