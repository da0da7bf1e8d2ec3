//! `ringrule intake --blank`: a workbook of many boards to fill in.

use std::path::{Path, PathBuf};

use clap::Args;
use ringrule::board::{Mounting, Profile};
use ringrule::document::InvalidFiles;
use ringrule::report::{BlankHead, blank_workbook};

use super::MountingChoice;
use super::context::{Context, Ending, Output, Stop, by_ending};

#[derive(Debug, Args)]
pub(crate) struct BlankChoice {
    /// Make this workbook to fill in instead (.xlsx): a column for every reading that the
    /// table needs.
    #[arg(long, value_name = "FILE")]
    pub(crate) blank: Option<PathBuf>,
    /// Boards whose rows are begun in the workbook to fill in: files or folders.
    #[arg(long, value_name = "PATH", requires = "blank")]
    boards: Vec<PathBuf>,
    /// Who will measure: a row for each of them, of every board. May be given several times.
    #[arg(long, value_name = "NAME", requires = "boards")]
    by: Vec<String>,
    /// How the spiders are held, where no boards are given [default: a sheet for each].
    #[arg(
        long,
        value_enum,
        value_name = "MOUNTING",
        requires = "blank",
        conflicts_with = "boards"
    )]
    mounting: Option<MountingChoice>,
    /// How many columns each length has.
    #[arg(long, value_name = "COUNT", default_value_t = 3, requires = "blank",
        value_parser = clap::value_parser!(u8).range(1..=20))]
    readings: u8,
}

impl BlankChoice {
    pub(crate) fn run(
        &self,
        path: &Path,
        table: Option<&Path>,
        overwrite: bool,
        context: &mut Context,
    ) -> Result<Ending, Stop> {
        by_ending(path, &[("xlsx", ())])?;
        let table = context.table(table, &self.boards)?;
        let (boards, invalid_files) = context.boards(&self.boards);
        if !invalid_files.is_empty() {
            return Err(InvalidFiles(invalid_files).into());
        }
        let mut kinds: Vec<(Mounting, Profile)> = Vec::new();
        for board in &boards {
            let kind = (board.construction.mounting, board.construction.profile);
            if !kinds.contains(&kind) {
                kinds.push(kind);
            }
        }
        if kinds.is_empty() {
            let only = self.mounting.map(Mounting::from);
            let all = Mounting::ALL.into_iter();
            let all = all.filter(|mounting| only.is_none_or(|only| only == *mounting));
            kinds.extend(all.map(|mounting| (mounting, mounting.usual_profile())));
        }
        let head = BlankHead {
            table: &table,
            kinds: &kinds,
            boards: &boards,
            inspectors: &self.by,
            readings: usize::from(self.readings),
        };
        let bytes = blank_workbook(&head).map_err(Stop::said)?;
        let output = Output {
            output: Some(path.to_owned()),
            overwrite,
        };
        context.deliver(&output, &bytes)?;
        Ok(Ending::Good)
    }
}
