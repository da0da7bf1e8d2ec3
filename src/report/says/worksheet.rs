//! A blank inspection sheet as CSV to fill in, and what it shares with the page to print.

use super::phrases;
use crate::board::{Mounting, Profile};
use crate::document::Separator;
use crate::readings::{COLUMNS, PlannedItem, PlannedPlace, READING_COLUMNS};
use crate::report::escape;
use crate::table::{Extent, Table};
use crate::units::{Instrument, Length};

/// What heads a sheet.
#[derive(Clone, Copy, Debug)]
pub struct SheetHead<'a> {
    /// The board's id, if known.
    pub board: Option<&'a str>,
    /// Where it hangs, or what people call it.
    pub name: Option<&'a str>,
    /// How its spider is held.
    pub mounting: Mounting,
    /// The cross-section of its wires.
    pub profile: Profile,
    /// The table that the sheet is made for.
    pub table: &'a Table,
    /// Who will take the readings, if known.
    pub inspector: Option<&'a str>,
    /// What with, if known.
    pub instrument: Option<&'a Instrument>,
}

/// A sheet: its head and what has to be measured.
pub type PlannedSheet<'a> = (SheetHead<'a>, Vec<PlannedItem>);

impl SheetHead<'_> {
    /// The rows about the whole: the word in the file, what it is, its value.
    pub(super) fn facts(&self) -> [(&'static str, &'static str, String); 10] {
        let known = |text: Option<&str>| text.unwrap_or_default().to_owned();
        let with = self.instrument;
        let length = |of: Option<Length>| of.map(|of| format!("{} mm", of.as_mm()));
        let resolution = length(with.and_then(|with| with.resolution));
        let error = length(with.and_then(|with| with.max_error));
        let calibrated = with.and_then(|with| with.calibrated);
        [
            ("board", "the id on the board", known(self.board)),
            ("name", "where it hangs", known(self.name)),
            ("mounting", "staples or embedded", self.mounting.to_string()),
            ("profile", "round or strip", self.profile.to_string()),
            ("inspector", "who takes the readings", known(self.inspector)),
            ("date", "the day, such as 2026-11-14", String::new()),
            (
                "instrument",
                "what it is, and which one",
                known(with.and_then(|with| with.name.as_deref())),
            ),
            (
                "resolution",
                "the step of its display, with unit",
                resolution.unwrap_or_default(),
            ),
            (
                "max error",
                "its permissible error, with unit",
                error.unwrap_or_default(),
            ),
            (
                "calibrated",
                "the day of its last calibration",
                calibrated.map(|day| day.to_string()).unwrap_or_default(),
            ),
        ]
    }
}

/// The limits that a row serves, in words.
pub(super) fn limits(row: &PlannedItem) -> String {
    let words = row.limits.iter().map(|(measurand, interval, of)| {
        let mut interval = phrases::interval(*interval, phrases::decimals(*measurand));
        // Whoever reads a length at places sees which of them a limit speaks of.
        if !row.places.is_empty() && !measurand.is_of_a_ring() {
            interval += match of {
                Extent::EveryPlace => ", at every place",
                _ => ", in the mean",
            };
        }
        // A limit on a ring's form is none on the length in this row.
        if row.limits.len() > 1 || measurand.is_of_a_ring() {
            format!("{measurand} {interval}")
        } else {
            interval
        }
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Whether anything is asked for at places.
pub(super) fn has_places(rows: &[PlannedItem]) -> bool {
    rows.iter().any(|row| !row.places.is_empty())
}

/// Every row to fill in: a planned one, or one for each of its places.
pub(super) fn each_place(
    rows: &[PlannedItem],
) -> impl Iterator<Item = (&PlannedItem, Option<PlannedPlace>)> {
    rows.iter().flat_map(|row| {
        let mean = row.places.is_empty().then_some((row, None));
        let places = row.places.iter().map(move |place| (row, Some(*place)));
        mean.into_iter().chain(places)
    })
}

/// How to measure, and at which place.
pub(super) fn how(row: &PlannedItem, place: Option<PlannedPlace>) -> String {
    match place {
        Some(place) if row.item.is_across() => format!(
            "from place {} to place {}, {}",
            place.number,
            place.facing().number,
            row.how
        ),
        Some(place) => format!("at place {}, {}", place.number, row.how),
        None => row.how.clone(),
    }
}

/// The sheet as CSV. Where a limit speaks of every place it has a column for
/// places, and a row for each.
pub fn worksheet_csv(head: &SheetHead<'_>, rows: &[PlannedItem], separator: Separator) -> String {
    let readings: Vec<String> = (1..=READING_COLUMNS)
        .map(|n| format!("reading {n}"))
        .collect();
    let [columns @ .., instrument, remark] = COLUMNS;
    let with_places = has_places(rows);
    let columns = columns.iter();
    let mut lines = vec![
        columns
            .filter(|&&column| with_places || column != "at")
            .map(|&column| column.to_owned())
            .chain(readings)
            .chain([instrument.to_owned(), remark.to_owned()])
            .collect::<Vec<_>>(),
    ];
    let blanks = |count: usize| std::iter::repeat_n(String::new(), count);
    for (word, how, value) in head.facts() {
        let cells = [word.to_owned()].into_iter();
        let cells = cells.chain(blanks(3 + usize::from(with_places)));
        let cells = cells.chain([how.to_owned(), value]);
        lines.push(cells.chain(blanks(READING_COLUMNS + 1)).collect());
    }
    for (row, place) in each_place(rows) {
        let edge = row.edge.map_or_else(String::new, |edge| edge.to_string());
        let at = place.map_or_else(String::new, |place| place.at.to_string());
        let cells = [row.item.to_string()].into_iter();
        let cells = cells.chain(with_places.then_some(at));
        let cells = cells.chain([edge, "mm".to_owned(), limits(row), how(row, place)]);
        lines.push(cells.chain(blanks(READING_COLUMNS + 2)).collect());
    }
    let separator = separator.character();
    let line = |cells: Vec<String>| {
        let cells = cells.iter().map(|cell| escape::csv(cell, separator));
        cells.collect::<Vec<_>>().join(&separator.to_string())
    };
    lines.into_iter().map(|cells| line(cells) + "\n").collect()
}

/// What to mind while measuring.
pub(super) const CAUTIONS: [&str; 2] = [
    "Take the darts out and the board down before measuring. Old spiders have sprung wire ends and \
     loose staples: wear eye protection, and mind your fingers. Rehang the board on sound fixings.",
    "The governing body's current rules and the venue's own safety rules prevail over this sheet, \
     which is not an official approval.",
];
