//! `ringrule worksheet`: a blank inspection sheet.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::board::{Board, Mounting, Profile};
use ringrule::readings::plan;
use ringrule::report::{SheetHead, worksheet_csv, worksheet_html, worksheet_pdf};

use super::MountingChoice;
use super::context::{Context, Ending, Output, Stop};
use super::pdf_choice::PdfChoice;
use super::sheet_format::SheetFormat;
use super::table_choice::TableChoice;

/// Make a blank inspection sheet for a board and a table.
///
/// One row for each length that the table needs, in the order in which a person
/// goes round the board: what to measure, how and to which edge, the limits,
/// and room for several readings. As CSV to fill in, or as a page to print.
///
/// What a limit on every place speaks of, or one on how round or how far off centre
/// a ring is, has a row for each of eight numbered places, clockwise from the top (of
/// a diameter, four), in the column `at`, and the page a drawing of them.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule worksheet --table tolerances/wdf.yaml --mounting staples --output sheet.csv\n  \
    ringrule worksheet specs/demo/01-round-to-rule.yaml --table tolerances/wdf.yaml \\\n    \
    --output sheet.html\n\n\
    What a limit on every place speaks of, or one on a ring's form, has a row for each of eight \
    places,\nnumbered clockwise from the top (of a diameter, four).\n\n\
    Fill in several readings of each, taken afresh, and bring the sheets of all inspectors \
    together with `ringrule pool`.")]
pub(crate) struct Worksheet {
    /// A board file to take the board's id, name, mounting and profile from.
    #[arg(value_name = "BOARD")]
    board: Option<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
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
    /// CSV to fill in, or a page to print [default: by the ending of --output, else csv].
    #[arg(long, value_enum, value_name = "FORMAT")]
    format: Option<Format>,
    #[command(flatten)]
    sheet: SheetFormat,
    #[command(flatten)]
    pdf: PdfChoice,
    #[command(flatten)]
    output: Output,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    Csv,
    Html,
    Pdf,
}

const ENDINGS: [(&str, Format); 4] = [
    ("csv", Format::Csv),
    ("tsv", Format::Csv),
    ("html", Format::Html),
    ("pdf", Format::Pdf),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum ProfileChoice {
    Round,
    Strip,
}

impl Worksheet {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let format = self.output.format(self.format, &ENDINGS, Format::Csv)?;
        let (table, board) = match &self.board {
            Some(path) => {
                let (table, board) = context.table_and_board(self.table.named(), path)?;
                (table, Some(board))
            }
            None => (context.table(self.table.named(), &[])?, None),
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
        let name = board.as_ref().and_then(Board::hangs);
        let head = SheetHead {
            board: board.as_ref().map(|board| board.id.as_str()),
            name: name.as_deref(),
            mounting,
            profile,
            table: &table,
        };
        let rows = plan(&table, mounting, profile);
        let file = self.output.output.as_deref();
        let bytes = match format {
            Format::Csv => worksheet_csv(&head, &rows, self.sheet.separator(file)).into_bytes(),
            Format::Html => worksheet_html(&head, &rows).into_bytes(),
            Format::Pdf => self.pdf.make(context, |paper, fonts| {
                worksheet_pdf(&head, &rows, paper, fonts)
            })?,
        };
        context.deliver(&self.output, &bytes)?;
        Ok(Ending::Good)
    }
}
