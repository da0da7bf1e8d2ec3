//! The table of what each of several people read.

use super::super::people;
use super::tables::text;
use crate::board::Board;
use crate::report::page::{Column, ColumnKind, Grid, Row};

/// Every person's readings of every length that several people took, so that a
/// reader can work out the weighted mean again; `None` if nobody did.
pub(super) fn takings(board: &Board) -> Option<Grid> {
    let mut rows = Vec::new();
    for input in &board.construction.inputs {
        let Some(taken) = input.taken() else { continue };
        let decimals = people::decimals(input.quantity);
        for (index, taking) in taken.takings.iter().enumerate() {
            let readings = taking.series.readings().iter();
            let readings: Vec<String> = readings.map(|reading| format!("{reading:.2}")).collect();
            let own = taking.series.deviation();
            let day = taking.date.map(|day| format!(", {day}"));
            let instrument = people::instrument(board, taking);
            let instrument = instrument.unwrap_or("an instrument that is not identified");
            let repeatability = taking.repeatability.as_ref();
            rows.push(Row::keyed(
                format!("{}, {}", input.name(), index + 1),
                vec![
                    text(input.name()),
                    text(format!(
                        "{}{}, {instrument}",
                        taking.by,
                        day.unwrap_or_default()
                    )),
                    text(readings.join(" ")),
                    text(format!("{:.decimals$}", taking.value.as_mm())),
                    text(own.map_or_else(|| "–".to_owned(), |s| format!("{s:.4}"))),
                    text(repeatability.map_or_else(|| "–".to_owned(), people::repeatability)),
                    text(format!("{:.3}", taking.weight)),
                ],
            ));
        }
    }
    (!rows.is_empty()).then(|| Grid {
        caption: "What each person read, in mm. Mean: with the instrument's correction. s: the \
                  standard deviation of these readings. Single reading: the standard deviation of \
                  a single reading by which they were weighted, and what it was taken from. The \
                  value of a length is the sum of the means, each times its weight."
            .to_owned(),
        rows,
        columns: vec![
            Column::new("length", ColumnKind::Head, 20.0),
            Column::new("by", ColumnKind::Words, 24.0),
            Column::new("readings", ColumnKind::Figures, 22.0),
            Column::new("mean", ColumnKind::Figures, 10.0),
            Column::new("s", ColumnKind::Figures, 8.0),
            Column::new("single reading", ColumnKind::Words, 18.0),
            Column::new("weight", ColumnKind::Figures, 8.0),
        ],
    })
}
