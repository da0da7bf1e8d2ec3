//! The boards of a comparison.

use std::path::{Path, PathBuf};

use clap::Args;
use ringrule::board::Board;
use ringrule::comparison::{Subject, nominal_mounting, set_metal, tell_apart};

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

/// The boards, every invalid file reported, with metal as the run says.
pub(super) fn subjects(
    boards: &[PathBuf],
    table: Option<&Path>,
    metal: &MetalChoice,
    context: &mut Context,
) -> Result<Vec<Subject>, Stop> {
    let mut files = boards.to_vec();
    files.retain(|path| mounting_of(path).is_none());
    let table = if table.is_some() || files.len() < boards.len() {
        context.table_if_any(table, &files)?
    } else {
        None
    };
    let inputs = context.inputs();
    let read = all_read(boards.iter().map(|path| match mounting_of(path) {
        Some(_) => Ok(None),
        None => inputs.text(path).and_then(Board::read).map(Some),
    }))?;
    let subjects = boards.iter().zip(&read);
    let subjects = subjects.map(|(path, board)| match (board, mounting_of(path), &table) {
        (Some(board), ..) => Subject::of_board(board).map_err(Stop::said),
        (None, Some(mounting), Some(table)) => {
            Subject::of_nominal_word(table, mounting).map_err(Stop::said)
        }
        (None, ..) => {
            let name = path.display();
            Err(Stop::Said(format!(
                "`{name}` needs a table: add `--table wdf`, or `--table FILE`"
            )))
        }
    });
    let subjects: Result<Vec<_>, Stop> = subjects.collect();
    let mut settings = metal.metal.iter();
    settings
        .try_fold(subjects?, |subjects, setting| set_metal(subjects, setting))
        .map(tell_apart)
        .map_err(Stop::said)
}

/// The mounting in a name such as `nominal:staples`; nothing of a file's path.
fn mounting_of(path: &Path) -> Option<&str> {
    nominal_mounting(path.to_str()?)
}
