//! Where around the board the rows of a sheet were taken.

use super::item::Item;
use super::sheet::{Entry, name};
use crate::board::{Bearing, BearingText, LengthText, read_bearing};
use crate::document::{Cell, CsvFormat, Fault, Located, Problem, Problems};

/// The place of a row: `Some(None)` if it names none, `None` if it names one that
/// is none.
#[allow(clippy::option_option)]
pub(super) fn read_place(
    item: Item,
    cell: Option<&Cell>,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<Option<Bearing>> {
    let Some(cell) = cell else {
        return Some(None);
    };
    if !item.has_places() {
        problems.add(Problem::new(
            Fault::Contradiction,
            cell.span,
            format!("`{item}` has no place around the board"),
            "leave the cell empty",
        ));
        return None;
    }
    let text = format.with_point(&cell.text).into_owned();
    let text = Located {
        value: BearingText(LengthText::Text(text)),
        span: cell.span,
    };
    read_bearing(&text, problems).map(Some)
}

/// What is wrong with a row of an item that has another one already.
pub(super) fn second_row(
    entries: &[Entry],
    item: Item,
    at: Option<Bearing>,
    cell: &Cell,
) -> Option<Problem> {
    let mut rows = entries.iter().filter(|entry| entry.item == item);
    let mixed = |entry: &&Entry| entry.at.is_some() != at.is_some();
    if let Some(other) = rows.clone().find(mixed) {
        let message = format!("`{item}` says where it was taken in one row, and not in another");
        let remedy = "name the place in the column `at` of each of its rows, or of none";
        let problem = Problem::new(Fault::Contradiction, cell.span, message, remedy);
        return Some(problem.and(other.span, "the other row"));
    }
    let first = rows.find(|entry| item.is_one_place(entry.at, at))?;
    let (message, remedy) = match (at, first.at) {
        (Some(at), Some(first)) if !first.is(at) => (
            format!("`{item}` from {at} is the one from {first}, read from the other side"),
            "put all readings of a diameter into one row, whichever way they were taken",
        ),
        (Some(_), _) => (
            format!("`{}` has two rows", name(item, at)),
            "put all readings of an item at one place into one row",
        ),
        _ => (
            format!("`{item}` has two rows"),
            "put all readings of an item into one row",
        ),
    };
    let problem = Problem::new(Fault::DuplicateKey, cell.span, message, remedy);
    Some(problem.and(first.span, "the first row"))
}
