//! The boards of a comparison.

use std::path::{Path, PathBuf};

use clap::Args;
use ringrule::board::Board;
use ringrule::comparison::{
    AreaSubject, CompareError, Subject, nominal_mounting, set_metal, tell_apart, tell_areas_apart,
};
use ringrule::table::Table;

use super::context::{Context, Stop, all_read};

/// What metal does, for every command that asks what boards do to throws.
#[derive(Debug, Args)]
pub(super) struct MetalChoice {
    /// What a dart on metal does: `lost`, `glances`, or the share that bounces
    /// out, such as `30 %`; for one board as `ID=SETTING`. May be given
    /// several times.
    #[arg(long, value_name = "SETTING", allow_negative_numbers = true)]
    metal: Vec<String>,
}

impl MetalChoice {
    pub(super) const fn is_given(&self) -> bool {
        !self.metal.is_empty()
    }

    /// The boards with metal as the run says.
    pub(super) fn on(&self, subjects: Vec<Subject>) -> Result<Vec<Subject>, Stop> {
        let mut settings = self.metal.iter();
        settings
            .try_fold(subjects, |subjects, setting| set_metal(subjects, setting))
            .map(tell_apart)
            .map_err(Stop::said)
    }
}

/// What stands in for lengths that were not measured.
#[derive(Debug, Args)]
pub(super) struct FillChoice {
    /// Complete half-measured boards from this table's nominal board of the same mounting: a
    /// file, or the name of a table that is built in, such as `wdf`. Every length that is filled
    /// in is listed as nominal, not measured, and states no uncertainty.
    #[arg(long, value_name = "TABLE")]
    fill: Option<PathBuf>,
}

impl FillChoice {
    fn table(&self, context: &mut Context) -> Result<Option<Table>, Stop> {
        match &self.fill {
            Some(named) => context.table_if_any(Some(named), &[]),
            None => Ok(None),
        }
    }
}

/// Boards as they were read, and the table that completes them.
pub(super) struct Boards {
    all: Vec<Described>,
    fill: Option<Table>,
}

/// A board from its file, or a table's nominal board.
enum Described {
    Board(Box<Board>),
    Nominal(Box<Subject>),
}

impl Boards {
    /// Reads all, every invalid file reported.
    pub(super) fn read(
        boards: &[PathBuf],
        table: Option<&Path>,
        fill: &FillChoice,
        context: &mut Context,
    ) -> Result<Self, Stop> {
        let mut files = boards.to_vec();
        files.retain(|path| mounting_of(path).is_none());
        let table = if table.is_some() || files.len() < boards.len() {
            context.table_if_any(table, &files)?
        } else {
            None
        };
        let fill = fill.table(context)?;
        let inputs = context.inputs();
        let read = all_read(boards.iter().map(|path| match mounting_of(path) {
            Some(_) => Ok(None),
            None => inputs.text(path).and_then(Board::read).map(Some),
        }))?;
        let all = boards.iter().zip(read);
        let all = all.map(|(path, board)| match (board, mounting_of(path), &table) {
            (Some(board), ..) => Ok(Described::Board(Box::new(board))),
            (None, Some(mounting), Some(table)) => Subject::of_nominal_word(table, mounting)
                .map(|subject| Described::Nominal(Box::new(subject)))
                .map_err(Stop::said),
            (None, ..) => {
                let name = path.display();
                Err(Stop::Said(format!(
                    "`{name}` needs a table: add `--table wdf`, or `--table FILE`"
                )))
            }
        });
        Ok(Self {
            all: all.collect::<Result<_, _>>()?,
            fill,
        })
    }

    /// All of them, completed where that was asked for; fails for one that is not
    /// measured whole.
    pub(super) fn whole(&self) -> Result<Vec<Subject>, CompareError> {
        let whole = |described: &Described| match (described, &self.fill) {
            (Described::Nominal(subject), _) => Ok(Subject::clone(subject)),
            (Described::Board(board), None) => Subject::of_board(board),
            (Described::Board(board), Some(table)) => Subject::of_completed(board, table),
        };
        self.all.iter().map(whole).collect()
    }

    /// What is known of the areas of each.
    pub(super) fn by_area(&self) -> Result<Vec<AreaSubject>, CompareError> {
        let known = |described: &Described| match (described, &self.fill) {
            (Described::Board(board), None) => AreaSubject::of_board(board),
            (Described::Board(board), Some(table)) => {
                Subject::of_completed(board, table).map(AreaSubject::of)
            }
            (Described::Nominal(subject), _) => Ok(AreaSubject::of(Subject::clone(subject))),
        };
        let known: Result<Vec<_>, _> = self.all.iter().map(known).collect();
        known.map(tell_areas_apart)
    }

    /// Why boards cannot be used, with what would help here.
    pub(super) fn why(&self, error: &CompareError) -> Stop {
        match error {
            CompareError::HalfMeasured { .. } if self.fill.is_some() => Stop::Said(format!(
                "{error}, and so does the nominal board that should complete it; name another \
                 table with `--fill`"
            )),
            CompareError::HalfMeasured {
                has_rings: true, ..
            } => Stop::Said(format!(
                "{error}; measure them, or let a table's nominal board stand in for them: `--fill \
                 wdf`"
            )),
            CompareError::HalfMeasured { .. } => Stop::Said(format!("{error}; measure them")),
            error => Stop::said(error),
        }
    }
}

/// The boards, every invalid file reported, with metal as the run says.
pub(super) fn subjects(
    boards: &[PathBuf],
    table: Option<&Path>,
    fill: &FillChoice,
    metal: &MetalChoice,
    context: &mut Context,
) -> Result<Vec<Subject>, Stop> {
    let boards = Boards::read(boards, table, fill, context)?;
    metal.on(boards.whole().map_err(|error| boards.why(&error))?)
}

/// The mounting in a name such as `nominal:staples`; nothing of a file's path.
fn mounting_of(path: &Path) -> Option<&str> {
    nominal_mounting(path.to_str()?)
}
