//! How a sheet's CSV is written.

use std::path::Path;

use clap::{Args, ValueEnum};
use ringrule::document::{CsvFormat, DecimalMark, Separator};

#[derive(Debug, Args)]
pub(crate) struct SheetFormat {
    /// What stands between the cells of a sheet [default: comma, or tab in a
    /// .tsv file].
    #[arg(long, value_enum, value_name = "CHARACTER")]
    separator: Option<SeparatorChoice>,
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

    pub(crate) fn csv(&self, file: &Path, decimal: DecimalChoice) -> CsvFormat {
        CsvFormat {
            separator: self.separator(Some(file)),
            decimal: match decimal {
                DecimalChoice::Point => DecimalMark::Point,
                DecimalChoice::Comma => DecimalMark::Comma,
            },
        }
    }
}
