//! `ringrule digitise`: points become a board file.

use std::path::{Path, PathBuf};

use clap::Args;
use ringrule::readings::{Digitised, PointTable, digitise, to_yaml};
use ringrule::report::{draw_residuals, picture, write_digitised};

use super::context::{Context, Ending, Output, Stop, also};
use super::sheet_format::CsvChoice;

/// Make a board file of points from a scan or a coordinate table.
///
/// A CSV file with the columns feature, x, y and edge: points on the edges of ring
/// wires (`treble_outer`), on the middle of sector wires (`sector 5/20`), on marks
/// of a ruler (`ruler 300 mm`) and on the rim (`overall`). Circles and lines are
/// laid through them by least squares of distances, and their radii become a board
/// file with the uncertainty that the scatter of the points shows.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule digitise specs/demo/points/fl-15.csv --output fl-15.yaml\n  \
    ringrule digitise scan.csv --output board.yaml --also residuals.svg\n  \
    ringrule digitise scan.csv --separator semicolon --decimal comma --output board.yaml\n\n\
    The file begins with a row `feature,x,y,edge`. Rows such as `board,FL-15`, `mounting,staples`, \
    `unit,px` (or mm, in) and `y axis,down` (or up) say what holds for the whole; so may `edge`, \
    `ring wires`, `sector wires`, `dots per inch`, `diameter double_outer`, `scale uncertainty`, \
    `inspector` and `date`.\n\n\
    Exit codes:\n  \
    0  a board file was made\n  \
    2  the points could not be used, or a file not written\n\n\
    Without --output the board file goes to standard output and the fits to standard error.")]
pub(crate) struct DigitiseCommand {
    /// The points.
    #[arg(value_name = "POINTS")]
    points: PathBuf,
    #[command(flatten)]
    csv: CsvChoice,
    #[command(flatten)]
    output: Output,
    /// Also draw each point's deviation, exaggerated, to this file (svg, png). May be given
    /// several times.
    #[arg(long, value_name = "FILE", requires = "output")]
    also: Vec<PathBuf>,
}

/// One thing that is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    Board,
    Svg,
    Png,
}

/// How many pixels wide a drawing is as PNG.
const DRAWING_WIDTH: u32 = 1600;

impl DigitiseCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let boards = [("yaml", Form::Board), ("yml", Form::Board)];
        let own = self.output.format(None, &boards, Form::Board)?;
        let drawings = [("svg", Form::Svg), ("png", Form::Png)];
        let forms = also((self.output.output.as_deref(), own), &self.also, &drawings)?;
        let inputs = context.inputs();
        let source = inputs.csv(&self.points, self.csv.encoding())?;
        let format = self.csv.format(&self.points, source.text());
        let table = PointTable::read(source, format)?;
        let digitised = digitise(&table)?;
        let results = context.begin(forms, self.output.overwrite)?;
        let mut text = String::new();
        // Writing into a string cannot fail.
        let _ = write_digitised(&mut text, &digitised);
        context.beside(&self.output, &text);
        context.write(results, |form, _, _| match form {
            Form::Board => board_file(&digitised, &self.points),
            Form::Svg => Ok(draw_residuals(&digitised).into_bytes()),
            Form::Png => picture(&draw_residuals(&digitised), DRAWING_WIDTH).map_err(Stop::said),
        })?;
        Ok(Ending::Good)
    }
}

fn board_file(digitised: &Digitised, points: &Path) -> Result<Vec<u8>, Stop> {
    let name = points.file_name().unwrap_or_default().to_string_lossy();
    let note = format!(
        "Made by `ringrule digitise` from the points in {}.",
        name.escape_debug()
    );
    let yaml = to_yaml(&digitised.file, &note);
    let yaml = yaml.ok_or_else(|| Stop::said("the board file cannot be written as YAML"))?;
    Ok(yaml.into_bytes())
}
