//! The way round a board: what a table asks for, field by field.

use ringrule::board::{Mounting, Profile};
use ringrule::readings::{Item, PlannedItem, PlannedPlace, plan};
use ringrule::table::Table;

use super::draft::Draft;

/// Fields for readings of a length that is not taken at places: so many at first, one more
/// than are filled, and at most so many. House rules: three show a slip; nobody takes more.
const AT_FIRST: usize = 3;
pub(super) const AT_MOST: usize = 12;
/// Of a length at one place: a second one shows how well readings repeat. House rule.
const AT_A_PLACE: usize = 2;

/// One length to measure.
pub(super) struct Step {
    /// Its number, from 0.
    pub(super) number: usize,
    /// By which drawings name it.
    pub(super) letter: char,
    pub(super) item: PlannedItem,
}

/// A place in the round where one reading goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Field {
    pub(super) item: Item,
    pub(super) at: Option<PlannedPlace>,
    /// Which reading there, from 0.
    pub(super) nth: usize,
}

/// All lengths that the table needs of such a board, in the order in which one goes round.
pub(super) fn steps(table: &Table, mounting: Mounting, profile: Profile) -> Vec<Step> {
    let items = plan(table, mounting, profile).into_iter();
    let lettered = ('A'..='Z').cycle().zip(items).enumerate();
    lettered
        .map(|(number, (letter, item))| Step {
            number,
            letter,
            item,
        })
        .collect()
}

impl Step {
    /// Its fields, with room for another reading.
    pub(super) fn fields(&self, draft: &Draft) -> Vec<Field> {
        let field = |at: Option<PlannedPlace>| {
            let at_first = if at.is_some() { AT_A_PLACE } else { AT_FIRST };
            let filled = draft.readings(self.item.item, at).len();
            let room = (filled + 1).clamp(at_first, AT_MOST);
            (0..room).map(move |nth| Field {
                item: self.item.item,
                at,
                nth,
            })
        };
        if self.item.places.is_empty() {
            return field(None).collect();
        }
        let places = self.item.places.iter();
        places.flat_map(|place| field(Some(*place))).collect()
    }
}

impl Field {
    /// Its name in forms: the item, the place and the number.
    pub(super) fn key(&self) -> String {
        let place = self.at.map_or_else(String::new, |at| at.number.to_string());
        format!("{}|{place}|{}", self.item, self.nth)
    }

    /// The same for the ids of a page, which have no blanks.
    pub(super) fn id(&self) -> String {
        self.key().replace([' ', '|', '.'], "-")
    }

    /// The field of a name, if the round has it.
    pub(super) fn of_key(steps: &[Step], key: &str) -> Option<Self> {
        let mut parts = key.split('|');
        let item: Item = parts.next()?.parse().ok()?;
        let (place, nth) = (parts.next()?, parts.next()?.parse().ok()?);
        let step = steps.iter().find(|step| step.item.item == item)?;
        let at = if step.item.places.is_empty() {
            place.is_empty().then_some(None)?
        } else {
            let number: usize = place.parse().ok()?;
            let mut places = step.item.places.iter();
            Some(*places.find(|place| place.number == number)?)
        };
        (nth < AT_MOST && parts.next().is_none()).then_some(Self { item, at, nth })
    }
}
