//! How well a single reading repeats: pooled over a sheet where that is sound.

use super::basis::{Apart, Basis};
use super::cell::{Cell, known};
use super::equal_scatter::{Squares, scatters_more};
use crate::units::Uncertainty;

/// The standard deviation of a single reading where nobody repeated one, in
/// steps of the display. House rule, the same two steps that a reading may lie
/// from the others before it can be a slip.
const HOUSE_STEPS: f64 = 2.0;

/// The degrees of freedom of that: 1/(2r²) for a value that is itself taken as
/// known to a relative standard uncertainty r of 20 % (JCGM 100, G.4.2, from
/// memory; the 20 % are a house rule).
const HOUSE_DEGREES: f64 = 12.5;

/// How improbable a scatter has to be for people to be compared by it. House
/// rule: a tenth of the level at which it is set apart, so that chance adds
/// at most 0.5 % to the level of their test.
const SURE: f64 = 0.005;

/// By how much people's touch differs, as a multiple of the repeatability: the
/// standard deviation of one person's bias. House rule, chosen by simulated
/// coverage (see [`super::combine()`]): the least factor, in quarters, with
/// which intervals cover the truth in 93 % of cases where people's biases have
/// a standard deviation of 1.5 times the repeatability.
const HOUSE_TOUCH: f64 = 1.25;

/// The standard deviation of a single reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeatability {
    /// The standard deviation.
    pub deviation: f64,
    /// Its degrees of freedom; infinite where it is taken as known.
    pub degrees_of_freedom: f64,
    /// What it was estimated from.
    pub basis: Basis,
    /// Whether the readings scatter less than the display can show, so that
    /// step/√12 stands for it.
    pub floored: bool,
}

/// What is known of the repeatability on one sheet, or on several of one board.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetRepeatability {
    /// The pooled one, not yet compared with anybody's display; `None` if
    /// nobody repeated a reading.
    pub pooled: Option<Repeatability>,
    /// What keeps its own, in the order in which it was found.
    pub apart: Vec<Apart>,
    /// That of each entry of `apart`.
    own: Vec<Repeatability>,
    /// How many entries of `apart` are beyond doubt.
    sure: usize,
    /// That of all that is not among these.
    of_the_others: Option<Repeatability>,
}

/// Pools the scatter of a sheet's cells: s² = Σ (n − 1)s² / Σ (n − 1), with
/// Σ (n − 1) degrees of freedom (JCGM 100, H.3.6 and H.5.2; ISO 5725-2, both
/// from memory). A person, a row or a cell that scatters more than the rest
/// (Cochran's test, one error rate of 5 %) is set apart and keeps its own; then
/// the rest is looked at again.
///
/// ```
/// use ringrule::measurement::{Basis, Cell, repeatability};
/// use ringrule::units::Series;
///
/// let three = Series::new(vec![8.01, 7.98, 8.02])?;
/// let one = Series::new(vec![8.03])?;
/// let cell = |row, series| Cell { row, person: 0, series, step: Some(0.01), max_error: None };
/// let cells = [cell(0, &three), cell(1, &one)];
/// let borrowed = repeatability(&cells).of(&cells[1]);
/// assert_eq!(borrowed.map(|found| found.basis), Some(Basis::Pooled));
/// # Ok::<(), ringrule::units::SeriesError>(())
/// ```
pub fn repeatability(cells: &[Cell<'_>]) -> SheetRepeatability {
    let mut rest: Vec<&Cell<'_>> = cells.iter().collect();
    let mut apart = Vec::new();
    let mut own = Vec::new();
    let pooled_of = |rest: &[&Cell<'_>]| estimate(Squares::of(rest.iter().copied()), Basis::Pooled);
    let mut doubtful = None;
    while let Some(found) = scatters_more(&rest) {
        if found.probability >= SURE && doubtful.is_none() {
            doubtful = Some((own.len(), pooled_of(&rest)));
        }
        let members = rest.iter().copied().filter(|cell| found.what.holds(cell));
        own.extend(estimate(Squares::of(members), found.what));
        apart.push(found);
        rest.retain(|cell| !found.what.holds(cell));
    }
    let pooled = pooled_of(&rest);
    let (sure, of_the_others) = doubtful.unwrap_or((own.len(), pooled));
    SheetRepeatability {
        pooled,
        apart,
        own,
        sure,
        of_the_others,
    }
}

fn estimate(squares: Squares, basis: Basis) -> Option<Repeatability> {
    (squares.degrees > 0.0).then(|| Repeatability {
        deviation: libm::sqrt(squares.pooled()),
        degrees_of_freedom: squares.degrees,
        basis,
        floored: false,
    })
}

impl SheetRepeatability {
    /// The one that holds for a cell: that of its person, row or itself if set
    /// apart, else the pooled one, which a single reading borrows. Not below
    /// step/√12: equal readings do not make the scatter better
    /// known than others do. Where nobody repeated a reading:
    /// two steps of the display or, if the step is not known, the standard
    /// uncertainty of the permissible error, MPE/√3 (house rules); `None` if that is
    /// not known either.
    pub fn of(&self, cell: &Cell<'_>) -> Option<Repeatability> {
        of(cell, &self.own, self.pooled)
    }

    /// The one with which people are compared: as [`Self::of`], except that only
    /// what is beyond doubt keeps its own (a probability below 0.5 %). One sheet
    /// in twenty has something set apart by chance. What is left then scatters
    /// less than people do, and in a sheet of one row that alone would make a
    /// dispute of every third of them.
    pub fn to_compare(&self, cell: &Cell<'_>) -> Option<Repeatability> {
        of(cell, self.own.get(..self.sure)?, self.of_the_others)
    }

    /// The standard deviation of the bias of one person's touch, which none of
    /// that person's readings can show: the pooled repeatability times 1.25
    /// (house rule), or that of the house rule for the cell where nobody
    /// repeated a reading, with its degrees of freedom. Zero if nothing is
    /// known.
    pub fn touch(&self, cell: &Cell<'_>) -> Uncertainty {
        let known = match &self.pooled {
            Some(pooled) => not_below_rounding(*pooled, cell),
            None => house(cell),
        };
        let touch = known.map(|known| {
            Uncertainty::with_degrees(HOUSE_TOUCH * known.deviation, known.degrees_of_freedom)
        });
        touch.unwrap_or(Uncertainty::finite(0.0))
    }
}

fn of(
    cell: &Cell<'_>,
    own: &[Repeatability],
    pooled: Option<Repeatability>,
) -> Option<Repeatability> {
    let apart = own.iter().find(|own| own.basis.holds(cell));
    match apart.copied().or(pooled) {
        Some(found) => not_below_rounding(found, cell),
        None => house(cell),
    }
}

/// Or step/√12, on the same degrees of freedom; `None` where neither shows any scatter.
fn not_below_rounding(found: Repeatability, cell: &Cell<'_>) -> Option<Repeatability> {
    let least = cell.least_deviation();
    if found.deviation > least {
        return Some(found);
    }
    (least > 0.0).then_some(Repeatability {
        deviation: least,
        degrees_of_freedom: found.degrees_of_freedom,
        basis: found.basis,
        floored: true,
    })
}

fn house(cell: &Cell<'_>) -> Option<Repeatability> {
    let step = known(cell.step) * HOUSE_STEPS;
    let error = known(cell.max_error) / libm::sqrt(3.0);
    let deviation = if step > 0.0 { step } else { error };
    (deviation > 0.0).then_some(Repeatability {
        deviation,
        degrees_of_freedom: HOUSE_DEGREES,
        basis: Basis::House,
        floored: false,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;
    use crate::units::Series;

    /// A sheet of readings by row and person.
    struct Sheet(Vec<(usize, usize, Series)>);

    impl Sheet {
        fn new(readings: &[(usize, usize, &[f64])]) -> Self {
            let series = |readings: &[f64]| Series::new(readings.to_vec()).expect("readings");
            let cells = readings
                .iter()
                .map(|&(row, person, of)| (row, person, series(of)));
            Self(cells.collect())
        }

        fn cells(&self, step: Option<f64>) -> Vec<Cell<'_>> {
            let cells = self.0.iter().map(|(row, person, series)| Cell {
                row: *row,
                person: *person,
                series,
                step,
                max_error: None,
            });
            cells.collect()
        }
    }

    #[test]
    fn scatter_is_pooled_over_rows_and_people() {
        // By hand: sums of squares 0.0002 (2 readings), 0.0008 (3), 0.0002 (3);
        // 0.0012 on 5 degrees.
        let sheet = Sheet::new(&[
            (0, 0, &[8.00, 8.02]),
            (1, 0, &[107.00, 107.02, 107.04]),
            (0, 1, &[8.01, 8.02, 8.03]),
            (1, 1, &[107.05]),
        ]);
        let cells = sheet.cells(Some(0.01));
        let found = repeatability(&cells);
        assert_eq!(found.apart, []);
        for cell in &cells {
            let of = found.of(cell).expect("pooled");
            assert_eq!(of.basis, Basis::Pooled);
            assert!((of.deviation - libm::sqrt(0.0012 / 5.0)).abs() < 1e-12);
            assert!((of.degrees_of_freedom - 5.0).abs() < 1e-12);
        }
    }

    /// Two people, six rows, scatter about 0.02. Invented.
    fn people_alike() -> Vec<(usize, usize, &'static [f64])> {
        vec![
            (0, 0, &[8.01, 7.98, 8.02]),
            (1, 0, &[7.00, 7.03, 6.99]),
            (2, 0, &[9.61, 9.60, 9.64]),
            (3, 0, &[5.02, 5.02, 4.98]),
            (4, 0, &[6.70, 6.72, 6.69]),
            (5, 0, &[4.80, 4.78, 4.83]),
            (0, 1, &[8.02, 8.02, 8.02]),
            (1, 1, &[7.04, 7.00, 7.01]),
            (2, 1, &[9.59, 9.63, 9.62]),
            (3, 1, &[5.00, 4.97, 5.01]),
            (4, 1, &[6.73, 6.70, 6.72]),
            (5, 1, &[4.82, 4.79, 4.80]),
        ]
    }

    fn apart(readings: &[(usize, usize, &[f64])]) -> Vec<Basis> {
        let sheet = Sheet::new(readings);
        let found = repeatability(&sheet.cells(Some(0.01)));
        found.apart.iter().map(|apart| apart.what).collect()
    }

    #[test]
    fn what_scatters_more_keeps_its_own() {
        assert_eq!(apart(&people_alike()), []);
        let mut cell = people_alike();
        cell[7].2 = &[7.04, 7.00, 7.30];
        assert_eq!(apart(&cell), [Basis::Cell { row: 1, person: 1 }]);
        let mut row = people_alike();
        row[3].2 = &[5.02, 5.14, 4.90];
        row[9].2 = &[5.10, 4.87, 5.01];
        assert_eq!(apart(&row), [Basis::Row(3)]);
        let sheet = Sheet::new(&row);
        let cells = sheet.cells(Some(0.01));
        let found = repeatability(&cells);
        let own = found.of(&cells[3]).expect("its own");
        assert!((own.degrees_of_freedom - 4.0).abs() < 1e-12);
        assert!(own.deviation > 0.1);
        assert!(found.of(&cells[0]).expect("pooled").deviation < 0.025);
        let wild: Vec<Vec<f64>> = people_alike()
            .iter()
            .map(|(_, _, of)| of.iter().map(|x| x + 6.0 * (x - of[0])).collect())
            .collect();
        let mut person = people_alike();
        for (cell, wild) in person.iter_mut().zip(&wild).filter(|(cell, _)| cell.1 == 0) {
            cell.2 = wild;
        }
        assert_eq!(apart(&person), [Basis::Person(0)]);
    }

    #[test]
    fn people_are_compared_by_what_is_beyond_doubt() {
        let compared = |readings: &'static [f64]| {
            let mut rows = people_alike();
            rows[7].2 = readings;
            let sheet = Sheet::new(&rows);
            let cells = sheet.cells(Some(0.01));
            let found = repeatability(&cells);
            let one = Basis::Cell { row: 1, person: 1 };
            assert_eq!(found.of(&cells[7]).expect("its own").basis, one);
            let probability = found.apart.first().expect("apart").probability;
            let compared = found.to_compare(&cells[7]).expect("known");
            (probability, compared.basis, compared.degrees_of_freedom)
        };
        // By hand: twelve cells of three readings have 24 degrees of freedom.
        let (probability, basis, degrees) = compared(&[7.04, 7.00, 7.13]);
        assert!(probability > SURE, "{probability}");
        assert_eq!((basis, degrees.round()), (Basis::Pooled, 24.0));
        let (probability, basis, degrees) = compared(&[7.04, 7.00, 7.30]);
        assert!(probability < SURE, "{probability}");
        assert_eq!(
            (basis, degrees.round()),
            (Basis::Cell { row: 1, person: 1 }, 2.0)
        );
    }

    #[test]
    fn equal_readings_are_not_without_scatter() {
        let sheet = Sheet::new(&[(0, 0, &[8.0, 8.0, 8.0]), (1, 0, &[7.0, 7.0])]);
        let cells = sheet.cells(Some(0.01));
        let floored = repeatability(&cells).of(&cells[0]).expect("floored");
        assert!(floored.floored);
        // By hand: 2 + 1, as of readings that are not equal.
        assert!((floored.degrees_of_freedom - 3.0).abs() < 0.5);
        assert!((floored.deviation - 0.01 / libm::sqrt(12.0)).abs() < 1e-15);
        let cells = sheet.cells(None);
        assert_eq!(repeatability(&cells).of(&cells[0]), None);
    }

    #[test]
    fn one_step_on_a_sheet_of_equal_readings_is_not_striking() {
        let mut rows: Vec<(usize, usize, &[f64])> = Vec::new();
        for row in 0..8 {
            rows.push((row, 0, &[8.0, 8.0, 8.0]));
        }
        rows.push((8, 0, &[8.0, 8.0, 8.01]));
        assert_eq!(apart(&rows), []);
    }

    #[test]
    fn where_nobody_repeated_a_reading_a_house_rule_stands_in() {
        let sheet = Sheet::new(&[(0, 0, &[8.0]), (0, 1, &[8.02])]);
        let cells = sheet.cells(Some(0.01));
        let house = repeatability(&cells).of(&cells[0]).expect("a house rule");
        assert_eq!(house.basis, Basis::House);
        assert!((house.deviation - 0.02).abs() < 1e-15);
        let mut cells = sheet.cells(None);
        assert_eq!(repeatability(&cells).of(&cells[0]), None);
        cells[0].max_error = Some(0.03);
        let house = repeatability(&cells).of(&cells[0]).expect("a house rule");
        assert!((house.deviation - 0.03 / libm::sqrt(3.0)).abs() < 1e-15);
    }
}
