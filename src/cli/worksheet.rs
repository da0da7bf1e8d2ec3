//! `ringrule worksheet`: a blank inspection sheet.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::board::{Board, Mounting, Profile};
use ringrule::document::InvalidFiles;
use ringrule::readings::plan;
use ringrule::report::{SheetHead, worksheet_csv, worksheet_html};
use ringrule::table::{Table, shelf_of};

use super::output::Output;
use super::sheet_format::SheetFormat;
use super::{Ending, MountingChoice, Screen, inputs};

/// Make a blank inspection sheet for a board and a table.
///
/// One row for each length that the table needs, in the order in which a person
/// goes round the board: what to measure, how and to which edge, the limits,
/// and room for several readings. As CSV to fill in, or as a page to print.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule worksheet --table tolerances/wdf.yaml --mounting staples --output sheet.csv\n  \
    ringrule worksheet specs/demo/01-round-to-rule.yaml --table tolerances/wdf.yaml \\\n    \
    --format html --output sheet.html\n\n\
    Fill in several readings of each, taken afresh, and bring the sheets of all inspectors \
    together with `ringrule pool`.")]
pub(crate) struct Worksheet {
    /// A board file to take the board's mark, name, mounting and profile from.
    #[arg(value_name = "BOARD")]
    board: Option<PathBuf>,
    /// The tolerance table.
    #[arg(long, short, value_name = "FILE")]
    table: PathBuf,
    /// How the spider is held, where no board file says it.
    #[arg(
        long,
        value_enum,
        value_name = "MOUNTING",
        required_unless_present = "board",
        conflicts_with = "board"
    )]
    mounting: Option<MountingChoice>,
    /// The cross-section of the wires; left out, it follows from the mounting.
    #[arg(long, value_enum, value_name = "PROFILE", conflicts_with = "board")]
    profile: Option<ProfileChoice>,
    /// CSV to fill in, or a page to print.
    #[arg(long, value_enum, default_value_t = Format::Csv, value_name = "FORMAT")]
    format: Format,
    #[command(flatten)]
    sheet: SheetFormat,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    Csv,
    Html,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum ProfileChoice {
    Round,
    Strip,
}

impl Worksheet {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        match self.text() {
            Ok(text) => {
                let read: Vec<_> = self.board.iter().chain([&self.table]).cloned().collect();
                screen.deliver(&self.output, &text, &read, Ending::Good)
            }
            Err(invalid_files) => {
                for invalid_file in &invalid_files.0 {
                    screen.invalid_file(invalid_file);
                }
                Ending::Unusable
            }
        }
    }

    fn text(&self) -> Result<String, InvalidFiles> {
        let source = inputs::read(&self.table)?;
        let table = Table::read(source, &shelf_of(&self.table))?;
        let board = match &self.board {
            Some(path) => Some(Board::read(inputs::read(path)?)?),
            None => None,
        };
        let (mounting, profile) = if let Some(board) = &board {
            (board.construction.mounting, board.construction.profile)
        } else {
            // Clap asks for a mounting where there is no board.
            let mounting = self.mounting.map_or(Mounting::Staples, Mounting::from);
            let profile = self.profile.map(|profile| match profile {
                ProfileChoice::Round => Profile::Round,
                ProfileChoice::Strip => Profile::Strip,
            });
            (mounting, profile.unwrap_or(mounting.usual_profile()))
        };
        let head = SheetHead {
            board: board.as_ref().map(|board| board.id.as_str()),
            name: board.as_ref().and_then(|board| board.name.as_deref()),
            mounting,
            profile,
            table: &table,
        };
        let rows = plan(&table, mounting, profile);
        Ok(match self.format {
            Format::Csv => worksheet_csv(&head, &rows, self.sheet.separator()),
            Format::Html => worksheet_html(&head, &rows),
        })
    }
}
