//! `ringrule draw`: a judged board as a picture.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::board::Board;
use ringrule::conformity::Judge;
use ringrule::document::InvalidFiles;
use ringrule::report::{DrawingError, What, draw_png, draw_svg};
use ringrule::table::{Table, shelf_of};

use super::output::Output;
use super::{Ending, Screen, inputs};

/// Draw a board and a section through its rings, with its deviations.
///
/// The board is drawn to scale, each band hatched by how far its free area
/// deviates from that of the table's nominal board: lines for smaller, dots for
/// larger. The section shows the wires of the treble and the double ring as if
/// cut, with the limits below them.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule draw specs/demo/03-narrow-treble.yaml --table tolerances/wdf.yaml > fl-03.svg\n  \
    ringrule draw fl-03.yaml --table tolerances/wdf.yaml --what section --output fl-03.svg\n  \
    ringrule draw fl-03.yaml --table league.yaml --output fl-03.png --width 2400\n\n\
    The file's ending, .svg or .png, says how it is written; without a file, SVG goes to standard \
    output.\n\n\
    Exit codes:\n  \
    0  the drawing was made, whatever the board's verdict\n  \
    2  a file could not be used, there was nothing to draw, or the drawing was not written")]
pub(crate) struct Draw {
    /// The board file.
    #[arg(value_name = "BOARD")]
    board: PathBuf,
    /// The tolerance table.
    #[arg(long, short, value_name = "FILE")]
    table: PathBuf,
    /// What the drawing shows.
    #[arg(long, value_enum, default_value_t = WhatChoice::Both, value_name = "WHAT")]
    what: WhatChoice,
    /// Pixels across; for PNG only.
    // House rule: a larger picture than 6000 fills no wall that hangs a board.
    #[arg(
        long,
        value_name = "PIXELS",
        default_value_t = 1600,
        value_parser = clap::value_parser!(u32).range(100..=6000),
        requires = "output"
    )]
    width: u32,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum WhatChoice {
    /// The board.
    Board,
    /// The section through the treble and the double ring.
    Section,
    /// One below the other.
    Both,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    Svg,
    Png,
}

impl From<WhatChoice> for What {
    fn from(choice: WhatChoice) -> Self {
        match choice {
            WhatChoice::Board => Self::Board,
            WhatChoice::Section => Self::Section,
            WhatChoice::Both => Self::Both,
        }
    }
}

impl Draw {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        let format = match self.output.output.as_deref().map(format_of) {
            None => Format::Svg,
            Some(Ok(format)) => format,
            Some(Err(why)) => {
                screen.note(&why);
                return Ending::Unusable;
            }
        };
        match self.read() {
            Ok((table, board)) => self.draw(&table, &board, format, screen),
            Err(invalid_files) => {
                for invalid_file in &invalid_files.0 {
                    screen.invalid_file(invalid_file);
                }
                Ending::Unusable
            }
        }
    }

    /// The table and the board, or what is wrong with either.
    fn read(&self) -> Result<(Table, Board), InvalidFiles> {
        let table = inputs::read(&self.table).map_err(InvalidFiles::from);
        let table = table.and_then(|source| Table::read(source, &shelf_of(&self.table)));
        let board = inputs::read(&self.board).and_then(Board::read);
        match (table, board) {
            (Ok(table), Ok(board)) => Ok((table, board)),
            (Err(mut invalid_files), Err(invalid_file)) => {
                invalid_files.0.push(invalid_file);
                Err(invalid_files)
            }
            (Err(invalid_files), Ok(_)) => Err(invalid_files),
            (Ok(_), Err(invalid_file)) => Err(invalid_file.into()),
        }
    }

    fn draw(&self, table: &Table, board: &Board, format: Format, screen: &mut Screen) -> Ending {
        let judge = Judge::new(table);
        let assessment = judge.judge(board);
        let what = self.what.into();
        let drawn: Result<Vec<u8>, DrawingError> = match format {
            Format::Svg => draw_svg(&assessment, what).map(String::into_bytes),
            Format::Png => draw_png(&assessment, what, self.width),
        };
        let bytes = match drawn {
            Ok(bytes) => bytes,
            Err(error) => {
                screen.note(&format!("`{}`: {error}", self.board.display()));
                return Ending::Unusable;
            }
        };
        // The table may extend others: they are inputs too.
        let tables = table.documents.iter();
        let tables = tables.map(|document| PathBuf::from(document.source.name()));
        let read: Vec<PathBuf> = [self.board.clone()].into_iter().chain(tables).collect();
        let Some(path) = &self.output.output else {
            screen.report(&String::from_utf8_lossy(&bytes));
            return Ending::Good;
        };
        match self.output.write(path, &bytes, &read) {
            Ok(path) => {
                screen.note(&format!("written: {}", path.display()));
                Ending::Good
            }
            Err(why) => {
                screen.note(&why);
                Ending::Unusable
            }
        }
    }
}

/// The format that a file's ending asks for.
fn format_of(path: &Path) -> Result<Format, String> {
    let ending = path.extension().and_then(|ending| ending.to_str());
    match ending {
        Some(ending) if ending.eq_ignore_ascii_case("svg") => Ok(Format::Svg),
        Some(ending) if ending.eq_ignore_ascii_case("png") => Ok(Format::Png),
        _ => Err(format!(
            "`{}` names no format: end it with .svg or .png",
            path.display()
        )),
    }
}
