//! How a sheet's CSV is written.

use clap::{Args, ValueEnum};
use ringrule::document::{CsvFormat, DecimalMark, Separator};

#[derive(Debug, Args)]
pub(crate) struct SheetFormat {
    /// What stands between the cells of a sheet.
    #[arg(long, value_enum, default_value_t = SeparatorChoice::Comma, value_name = "CHARACTER")]
    separator: SeparatorChoice,
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
    pub(crate) const fn separator(&self) -> Separator {
        match self.separator {
            SeparatorChoice::Comma => Separator::Comma,
            SeparatorChoice::Semicolon => Separator::Semicolon,
            SeparatorChoice::Tab => Separator::Tab,
        }
    }

    pub(crate) const fn csv(&self, decimal: DecimalChoice) -> CsvFormat {
        CsvFormat {
            separator: self.separator(),
            decimal: match decimal {
                DecimalChoice::Point => DecimalMark::Point,
                DecimalChoice::Comma => DecimalMark::Comma,
            },
        }
    }
}
