//! `ringrule worksheet`: a blank inspection sheet.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::board::{Board, Mounting, Profile};
use ringrule::readings::plan;
use ringrule::report::{PlannedSheet, SheetHead, worksheet_csv, worksheet_html, worksheet_pdf};
use ringrule::units::Instrument;

use super::MountingChoice;
use super::board_name::each_path;
use super::context::{Context, Ending, Output, Stop, by_ending, usable};
use super::pdf_choice::PdfChoice;
use super::sheet_format::SheetFormat;
use super::table_choice::TableChoice;

/// Make blank inspection sheets for boards and a table.
///
/// One row for each length that the table needs, in the order in which a person
/// goes round the board: what to measure, how and to which edge, the limits,
/// and room for several readings. As CSV to fill in, or as pages to print. Of several
/// boards, the pages of all stand in one file; CSV is a file for each (`--each`).
///
/// What a limit on every place speaks of, or one on how round or how far off centre
/// a ring is, has a row for each of eight numbered places, clockwise from the top (of
/// a diameter, four), in the column `at`, and the page a drawing of them.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule worksheet --table tolerances/wdf.yaml --mounting staples --output sheet.csv\n  \
    ringrule worksheet specs/demo/01-round-to-rule.yaml --table tolerances/wdf.yaml \\\n    \
    --output sheet.html\n  \
    ringrule worksheet boards --table wdf --by \"A. Ashdown\" --output sheets.pdf \\\n    \
    --each 'sheets/{id}.csv'\n\n\
    What a limit on every place speaks of, or one on a ring's form, has a row for each of eight \
    places,\nnumbered clockwise from the top (of a diameter, four).\n\n\
    Fill in several readings of each, taken afresh, and bring the sheets of all inspectors \
    together with `ringrule pool`.")]
pub(crate) struct Worksheet {
    /// Board files, and folders with board files, to take each board's id, name, mounting and
    /// profile from.
    #[arg(value_name = "BOARD")]
    boards: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    /// How the spider is held, where no board file says it.
    #[arg(
        long,
        value_enum,
        value_name = "MOUNTING",
        required_unless_present = "boards",
        conflicts_with = "boards"
    )]
    mounting: Option<MountingChoice>,
    /// The cross-section of the wires; left out, it follows from the mounting.
    #[arg(long, value_enum, value_name = "PROFILE", conflicts_with = "boards")]
    profile: Option<ProfileChoice>,
    /// Who will take the readings: filled in on each sheet.
    #[arg(long, value_name = "NAME")]
    by: Option<String>,
    /// What with, by the name that a board file gives it: filled in with its resolution,
    /// permissible error and day of calibration, as the latest file has them.
    #[arg(long, value_name = "NAME")]
    instrument: Option<String>,
    /// CSV to fill in, or a page to print [default: by the ending of --output, else csv].
    #[arg(long, value_enum, value_name = "FORMAT")]
    format: Option<Format>,
    /// Write a sheet of its own for each board, `{id}` in the name standing for the board's id;
    /// its ending says as what. May be given several times.
    #[arg(long, value_name = "PATTERN", requires = "boards")]
    each: Vec<String>,
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
        let mut invalid_files = Vec::new();
        let table = context.table(self.table.named(), &self.boards);
        let table = usable(table, &mut invalid_files)?;
        let (boards, invalid) = context.boards(&self.boards);
        invalid_files.extend(invalid);
        let Some(table) = table.filter(|_| invalid_files.is_empty()) else {
            return Err(Stop::Files(invalid_files));
        };
        let boards = context.latest(boards, &self.boards).into_iter();
        let boards: Vec<Board> = boards.map(|(board, _)| board).collect();
        let names: Vec<_> = boards.iter().map(Board::hangs).collect();
        let instrument = self.instrument(&boards)?;
        let all = boards.iter().map(Some);
        let nameless = boards.is_empty().then_some(None);
        let sheets: Vec<_> = all
            .chain(nameless)
            .enumerate()
            .map(|(index, board)| {
                let (mounting, profile) = self.kind(board);
                let head = SheetHead {
                    board: board.map(|board| board.id.as_str()),
                    name: names.get(index).and_then(Option::as_deref),
                    mounting,
                    profile,
                    table: &table,
                    inspector: self.by.as_deref(),
                    instrument: instrument.as_ref(),
                };
                (head, plan(&table, mounting, profile))
            })
            .collect();
        let forms = self.forms(format, &boards)?;
        let results = context.begin(forms, self.output.overwrite)?;
        context.write(results, |(format, of), _, context| {
            let sheets = match of {
                Of::All => sheets.as_slice(),
                Of::One(index) => sheets.get(*index..=*index).unwrap_or_default(),
            };
            self.made(*format, sheets, context)
        })?;
        Ok(Ending::Good)
    }

    fn kind(&self, board: Option<&Board>) -> (Mounting, Profile) {
        if let Some(board) = board {
            return (board.construction.mounting, board.construction.profile);
        }
        // Clap asks for a mounting where there is no board.
        let mounting = self.mounting.map_or(Mounting::Staples, Mounting::from);
        let profile = self.profile.map(|profile| match profile {
            ProfileChoice::Round => Profile::Round,
            ProfileChoice::Strip => Profile::Strip,
        });
        (mounting, profile.unwrap_or(mounting.usual_profile()))
    }

    /// The instrument that is named, as the latest file that knows it describes it.
    fn instrument(&self, boards: &[Board]) -> Result<Option<Instrument>, Stop> {
        let Some(named) = &self.instrument else {
            return Ok(None);
        };
        let all = boards.iter().flat_map(|board| {
            let of = board.instruments.iter();
            of.map(move |of| (board.key().1, of))
        });
        let is_it = |(_, of): &(_, &Instrument)| of.name.as_ref() == Some(named);
        let known = all.clone().filter(is_it).max_by_key(|(day, _)| *day);
        if boards.is_empty() {
            let mut bare = Instrument::default();
            bare.name = Some(named.clone());
            return Ok(Some(bare));
        }
        known.map(|(_, of)| Some(of.clone())).ok_or_else(|| {
            let mut names: Vec<&str> = all.filter_map(|(_, of)| of.name.as_deref()).collect();
            names.sort_unstable();
            names.dedup();
            Stop::Said(match names.as_slice() {
                [] => {
                    format!("no board file names an instrument `{named}`: leave `--instrument` out")
                }
                names => format!(
                    "no board file names an instrument `{named}`; they name {}",
                    names.join(", ")
                ),
            })
        })
    }

    /// Where each sheet goes; CSV holds one.
    fn forms(&self, format: Format, boards: &[Board]) -> Result<Vec<Form>, Stop> {
        let mut forms = Vec::new();
        if self.output.output.is_some() || self.each.is_empty() {
            if format == Format::Csv && boards.len() > 1 {
                return Err(Stop::said(
                    "a CSV file holds the sheet of one board: give `--each 'sheets/{id}.csv'` for a \
                     file for each, or `--output sheets.pdf` for pages to print",
                ));
            }
            forms.push((self.output.output.clone(), (format, Of::All)));
        }
        for pattern in &self.each {
            let format = by_ending(Path::new(pattern), &ENDINGS)?;
            for (index, path) in each_path(pattern, boards.iter().map(Board::key))?
                .into_iter()
                .enumerate()
            {
                forms.push((Some(path), (format, Of::One(index))));
            }
        }
        Ok(forms)
    }

    fn made(
        &self,
        format: Format,
        sheets: &[PlannedSheet<'_>],
        context: &mut Context,
    ) -> Result<Vec<u8>, Stop> {
        Ok(match format {
            Format::Csv => {
                let separator = self.sheet.separator(self.output.output.as_deref());
                let csv = sheets
                    .iter()
                    .map(|(head, rows)| worksheet_csv(head, rows, separator));
                csv.collect::<String>().into_bytes()
            }
            Format::Html => worksheet_html(sheets).into_bytes(),
            Format::Pdf => self
                .pdf
                .make(context, |paper, fonts| worksheet_pdf(sheets, paper, fonts))?,
        })
    }
}

/// Which sheets a file holds.
#[derive(Clone, Copy, Debug)]
enum Of {
    All,
    One(usize),
}

type Form = (Option<PathBuf>, (Format, Of));
