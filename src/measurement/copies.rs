//! Is one sheet a copy of another?

use super::cell::Cell;

/// Two sheets with the same readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CopiedSheet {
    /// The index of one sheet.
    pub first: usize,
    /// The index of the later one.
    pub second: usize,
    /// How many readings they have in common, which is all of them.
    pub readings: usize,
}

/// Sheets whose readings are all the same, row by row and in the same order,
/// whoever is said to have taken them; the order of rows says nothing. Each
/// sheet is named once, with the first one that it is a copy of. Sheets without
/// readings are none.
///
/// Two people who really measured will differ by a step somewhere: with a
/// scatter of one step two readings are equal in 27 % of cases, nine single
/// ones all in one of 120 000 (recomputed). A sheet of one or two readings may be equal by
/// chance, so the number of readings is given.
pub fn copies(sheets: &[Vec<Cell<'_>>]) -> Vec<CopiedSheet> {
    let mut found: Vec<CopiedSheet> = Vec::new();
    for (second, sheet) in sheets.iter().enumerate() {
        let earlier = sheets.iter().take(second).enumerate();
        let original = earlier
            .filter(|(_, other)| other.len() == sheet.len())
            .find(|(_, other)| sheet.iter().all(|cell| has(other, cell)));
        let readings = sheet.iter().map(|cell| cell.series.readings().len()).sum();
        if let Some((first, _)) = original.filter(|_| readings > 0) {
            found.push(CopiedSheet {
                first,
                second,
                readings,
            });
        }
    }
    found
}

/// Whether a sheet has this row with these readings.
fn has(sheet: &[Cell<'_>], cell: &Cell<'_>) -> bool {
    let same = |other: &&Cell<'_>| other.row == cell.row;
    sheet.iter().find(same).is_some_and(|other| {
        let (a, b) = (other.series.readings(), cell.series.readings());
        a.len() == b.len() && a.iter().zip(b).all(|(a, b)| equal(*a, *b))
    })
}

/// Equal but for the rounding of a conversion between units.
fn equal(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;
    use crate::units::Series;

    fn sheet(person: usize, rows: &[(usize, Series)]) -> Vec<Cell<'_>> {
        let cells = rows.iter().map(|(row, series)| Cell {
            row: *row,
            person,
            series,
            step: None,
            max_error: None,
        });
        cells.collect()
    }

    fn row(row: usize, readings: &[f64]) -> (usize, Series) {
        (row, Series::new(readings.to_vec()).expect("readings"))
    }

    #[test]
    fn a_sheet_given_twice() {
        let one = [row(0, &[8.01, 7.98]), row(1, &[107.0])];
        let turned = [row(1, &[107.0]), row(0, &[8.01, 7.98])];
        let inches = [row(0, &[8.01 / 25.4 * 25.4, 7.98]), row(1, &[107.0])];
        let other = [row(0, &[7.98, 8.01]), row(1, &[107.0])];
        let shorter = [row(0, &[8.01, 7.98])];
        let sheets = [
            sheet(0, &one),
            sheet(1, &other),
            sheet(2, &turned),
            sheet(3, &shorter),
            sheet(4, &inches),
        ];
        let copy = |second| CopiedSheet {
            first: 0,
            second,
            readings: 3,
        };
        assert_eq!(copies(&sheets), [copy(2), copy(4)]);
        assert_eq!(copies(&[Vec::new(), Vec::new()]), []);
    }
}
