//! What readings come to while they are being typed.

use ringrule::board::{Board, Mounting, Profile};
use ringrule::conformity::{Assessment, Judge};
use ringrule::document::InvalidFile;
use ringrule::readings::{Pooled, Sheet, pool};
use ringrule::report::{LengthRemark, length_remarks, problems_of};
use ringrule::table::Table;

use super::draft::Draft;
use super::drafts::Round;
use super::folder::Folder;
use super::round::{Step, steps};

/// An inspection as far as it has come.
pub(super) struct Live {
    pub(super) steps: Vec<Step>,
    pub(super) profile: Profile,
    /// What each person has typed.
    pub(super) drafts: Vec<Draft>,
    /// What can be used of it, together; nothing before the first reading.
    pub(super) pooled: Option<Pooled>,
    /// Why it cannot be brought together.
    pub(super) problems: Vec<String>,
}

impl Live {
    /// Reads the drafts of a round, and brings them together as `pool` does.
    pub(super) fn of(folder: &Folder, table: &Table, round: &Round, board: &Board) -> Self {
        let (mounting, profile) = kind(board);
        let steps = steps(table, mounting, profile);
        let drafts = folder.drafts.of(round);
        let mut problems = Vec::new();
        let mut say = |why: InvalidFile| problems.extend(problems_of(&why));
        let sheets = drafts.iter().filter_map(|draft| draft.sheet(&steps));
        let sheets: Vec<Sheet> = sheets
            .filter_map(|sheet| sheet.map_err(&mut say).ok())
            .collect();
        let pooled = match sheets.as_slice() {
            [] => None,
            sheets => match pool(sheets) {
                Ok(pooled) => Some(pooled),
                Err(faults) => {
                    faults.into_iter().for_each(&mut say);
                    None
                }
            },
        };
        Self {
            steps,
            profile,
            drafts,
            pooled,
            problems,
        }
    }

    /// What the table says of it so far.
    pub(super) fn assessment<'a>(&'a self, judge: &'a Judge<'a>) -> Option<Assessment<'a>> {
        let pooled = self.pooled.as_ref()?;
        Some(judge.judge(&pooled.board))
    }

    /// What has to be said beside one step.
    pub(super) fn remarks(step: &Step, of: Option<&Assessment<'_>>) -> Vec<LengthRemark> {
        let all = of.map(length_remarks).unwrap_or_default();
        let own = all
            .into_iter()
            .filter(|remark| remark.quantity == step.item.item.0);
        own.collect()
    }
}

/// How a board is built, as far as what must be measured hangs on it.
pub(super) const fn kind(board: &Board) -> (Mounting, Profile) {
    (board.construction.mounting, board.construction.profile)
}
