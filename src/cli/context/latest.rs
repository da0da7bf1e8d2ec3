//! Of several inspections of one board the latest decides, unless a run names an
//! earlier one itself.

use std::path::{Path, PathBuf};

use jiff::civil::Date;
use rayon::prelude::*;
use ringrule::board::{Board, Due};
use ringrule::document::parse;
use ringrule::history::{Standing, standings};

use super::inputs::STANDARD_INPUT;
use super::{Context, Inputs};

impl Context {
    /// Files without those whose inspections others among them supersede. Looks
    /// into every file and keeps none, so that memory does not grow with them.
    pub(crate) fn latest_files(&mut self, files: Vec<PathBuf>, named: &[PathBuf]) -> Vec<PathBuf> {
        if files.len() < 2 {
            return files;
        }
        let inputs = self.inputs();
        let keys = files.par_iter().map(|path| key_in(path, &inputs));
        let keys: Vec<(String, Option<Date>)> = keys.collect();
        let standings = standings(&keys);
        let all = files.into_iter().zip(standings);
        let before = all.len();
        let all = all.filter(|(path, standing)| decides(*standing) || named.contains(path));
        let latest: Vec<PathBuf> = all.map(|(path, _)| path).collect();
        self.say_left_out(before - latest.len());
        latest
    }

    /// The boards whose inspections decide, each with the inspection before it.
    pub(crate) fn latest(
        &mut self,
        boards: Vec<Board>,
        named: &[PathBuf],
    ) -> Vec<(Board, Option<Board>)> {
        let keys: Vec<_> = boards.iter().map(Board::key).collect();
        let standings = standings(&keys);
        let is_named = |board: &Board| named.contains(&PathBuf::from(board.document.source.name()));
        let stays = |index: usize| {
            let standing = standings.get(index).copied().is_some_and(decides);
            standing || boards.get(index).is_some_and(is_named)
        };
        let stays: Vec<bool> = (0..boards.len()).map(stays).collect();
        let before = |index: usize| match standings.get(index)? {
            Standing::Decides { before } => boards.get((*before)?).cloned(),
            Standing::Superseded { .. } => None,
        };
        let before: Vec<_> = (0..boards.len()).map(before).collect();
        let count = boards.len();
        let all = boards.into_iter().zip(before).zip(stays);
        let latest: Vec<_> = all.filter(|(_, stays)| *stays).map(|(of, _)| of).collect();
        self.say_left_out(count - latest.len());
        latest
    }

    /// Where a board's inspection stands on a day, if the settings of its file say
    /// how long one is valid.
    pub(crate) fn due(&mut self, board: &Board, on: Date) -> Option<Due> {
        let day = board.key().1?;
        self.validity(board)?.due(day, on)
    }

    fn say_left_out(&mut self, number: usize) {
        let what = match number {
            0 => return,
            1 => "1 earlier inspection was".to_owned(),
            number => format!("{number} earlier inspections were"),
        };
        self.note(&format!(
            "note: {what} left out: the latest of each board decides (`ringrule history` \
             compares them)"
        ));
    }
}

const fn decides(standing: Standing) -> bool {
    matches!(standing, Standing::Decides { .. })
}

/// The board and the day of a file; a name of its own where there are none.
fn key_in(path: &Path, inputs: &Inputs) -> (String, Option<Date>) {
    let own = || (path.display().to_string(), None);
    if path.as_os_str() == STANDARD_INPUT {
        return own();
    }
    let document = inputs.text(path).ok().and_then(|text| parse(text).ok());
    let key = document.and_then(|document| Board::key_in(&document));
    key.map_or_else(own, |(id, day)| (id, Some(day)))
}
