//! `ringrule draw`: a judged board as a picture.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::conformity::Judge;
use ringrule::report::{What, draw_png, draw_svg};

use super::context::{Context, Ending, Output, Stop};
use super::table_choice::TableChoice;
use super::values::whole;

/// Draw a board and sections through its rings, with its deviations.
///
/// The board is drawn to scale, each bed shaded by how far its free area
/// deviates from that of the table's nominal board: ochre with lines for smaller,
/// blue with dots for larger. Free areas stand beside the nominal ones, and the
/// two lengths that break a limit most, or come closest to one, are marked on the
/// board and magnified. The sections show the wires of the treble and the double
/// ring as if cut, with the limits below them.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule draw specs/demo/03-narrow-treble.yaml --table tolerances/wdf.yaml > fl-03.svg\n  \
    ringrule draw fl-03.yaml --table tolerances/wdf.yaml --what section --output fl-03.svg\n  \
    ringrule draw fl-03.yaml --table league.yaml --output fl-03.png --width 2400\n\n\
    The file's ending, .svg or .png, says how it is written; without a file, SVG goes to standard \
    output.\n\n\
    Exit codes:\n  \
    0  the drawing was made, with any verdict\n  \
    2  a file could not be used, there was nothing to draw, or the drawing was not written")]
pub(crate) struct Draw {
    /// The board file.
    #[arg(value_name = "BOARD")]
    board: PathBuf,
    #[command(flatten)]
    table: TableChoice,
    /// What the drawing shows.
    #[arg(long, value_enum, default_value_t = WhatChoice::Both, value_name = "WHAT")]
    what: WhatChoice,
    /// Pixels across; for PNG only.
    // House rule: at 300 dots an inch a board in its own size has 5300; half of that is sharp,
    // and more takes more memory than a picture is worth.
    #[arg(
        long,
        value_name = "PIXELS",
        default_value_t = 1600,
        value_parser = whole::<u32>(100..=3200, 1600),
        allow_negative_numbers = true,
        requires = "output"
    )]
    width: u32,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum WhatChoice {
    /// The board, and what is magnified of it.
    Board,
    /// The sections through the treble and the double ring.
    Section,
    /// One below the other.
    Both,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    Svg,
    Png,
}

const ENDINGS: [(&str, Format); 2] = [("svg", Format::Svg), ("png", Format::Png)];

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
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let format = self.output.format(None, &ENDINGS, Format::Svg)?;
        let (table, board) = context.table_and_board(self.table.named(), &self.board)?;
        let judge = Judge::new(&table);
        let assessment = judge.judge(&board);
        let what = self.what.into();
        let drawn = match format {
            Format::Svg => draw_svg(&assessment, what).map(String::into_bytes),
            Format::Png => draw_png(&assessment, what, self.width),
        };
        let name = self.board.display();
        let bytes = drawn.map_err(|error| Stop::Said(format!("`{name}`: {error}")))?;
        context.deliver(&self.output, &bytes)?;
        Ok(Ending::Good)
    }
}
