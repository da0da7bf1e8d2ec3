//! What readings come to while they are being typed.

use ringrule::board::{Board, Mounting, Profile};
use ringrule::conformity::{Assessment, Judge};
use ringrule::document::InvalidFile;
use ringrule::readings::{Pooled, Sheet, pool};
use ringrule::report::{LengthRemark, length_remarks};
use ringrule::table::Table;

use super::draft::Draft;
use super::drafts::Round;
use super::folder::Folder;
use super::round::{Step, steps};
use super::typed::words_of;

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
        let (drafts, unreadable) = folder.drafts.of(round);
        let unreadable = unreadable.into_iter();
        let mut problems: Vec<String> = unreadable
            .map(|name| format!("`{name}` cannot be read as a draft, and is left as it is"))
            .collect();
        let mut sheets: Vec<Sheet> = Vec::new();
        for draft in &drafts {
            let by = draft.fact("inspector");
            let built = [mounting.to_string(), profile.to_string()];
            if [draft.fact("mounting"), draft.fact("profile")] != [&built[0], &built[1]] {
                problems.push(format!(
                    "the board file says {} and {} now, and {by} has begun with {} and {}: begin \
                     again under the same name, and all readings stay",
                    built[0],
                    built[1],
                    draft.fact("mounting"),
                    draft.fact("profile")
                ));
            }
            match draft.sheet(&steps) {
                None => {}
                Some(Ok(sheet)) => sheets.push(sheet),
                Some(Err(why)) => {
                    let words = words_of(&why).into_iter();
                    problems.extend(words.map(|words| {
                        format!(
                            "what {by} has typed is left out: {words}; begin again under the same \
                                 name to change it, and all readings stay"
                        )
                    }));
                }
            }
        }
        let mut say = |why: InvalidFile| problems.extend(words_of(&why));
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
