//! Readings that stand apart from the others of their row.

use std::cmp::Ordering;

use super::cell::{Cell, ROUNDING, known};
use super::probability::t_beyond;

/// How rarely a sheet of sound readings is reported to have one. House rule:
/// the usual 5 %.
const LEVEL: f64 = 0.05;

/// The same after a reading that is not striking by itself: slips that hide
/// each other are gross ones, and the rest must not have many chances. House
/// rule.
const HIDDEN_LEVEL: f64 = 0.01;

/// How many steps of the display a sound reading may lie from the mean of its
/// row, however little the others scatter. House rule.
const STEPS_OF_CHANCE: f64 = 2.0;

/// One reading in so many may be a slip before the sheet is no longer one with
/// slips in it. House rule.
const AT_MOST_ONE_IN: usize = 8;

/// With fewer degrees of freedom than this nothing is said from the scatter: of
/// three readings alone, two equal ones would condemn any third.
const LEAST_DEGREES: f64 = 2.0;

/// With fewer degrees of freedom than this the scatter is hardly known, and a
/// reading is also compared with what the instrument explains. House rule.
const FEW_DEGREES: f64 = 5.0;

/// What one instrument does not explain between a reading and its neighbour, in
/// steps of its display. House rule.
const UNEXPLAINED_STEPS: f64 = 10.0;

/// The same in maximum permissible errors. The larger of the two counts. House
/// rule: readings of one length with one instrument have its error in common,
/// so that five times the error leaves ample room for the touch.
const UNEXPLAINED_ERRORS: f64 = 5.0;

/// The same, in mm, where nothing is known of the instrument: five times the
/// 0.05 mm of an ordinary vernier calliper (from memory of its standard). House
/// rule.
const UNEXPLAINED_UNKNOWN: f64 = 0.25;

/// The same as a share of the length, where nothing is known of the instrument:
/// long lengths may have been taken with a tape. House rule.
const UNEXPLAINED_SHARE: f64 = 0.003;

/// A reading that stands apart from the others of its row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandsApart {
    /// The row.
    pub row: usize,
    /// Whose reading.
    pub person: usize,
    /// Its index among the readings of that cell.
    pub index: usize,
    /// Its value.
    pub value: f64,
    /// Its distance from the mean of the other readings of the cell.
    pub distance: f64,
    /// Whether it may as well be the only other reading of the cell that is
    /// wrong.
    pub or_the_other: bool,
    /// Against what it was judged.
    pub by: JudgedBy,
}

/// Against what a reading was judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum JudgedBy {
    /// The scatter of all other readings about the means of their rows.
    Scatter {
        /// Their standard deviation.
        deviation: f64,
        /// Its degrees of freedom.
        degrees_of_freedom: f64,
        /// The probability of such a distance, corrected for the number of
        /// readings.
        probability: f64,
    },
    /// What the instrument explains: the scatter is hardly known.
    Instrument {
        /// The largest distance from the nearest other reading that is put down
        /// to instrument and touch.
        explained: f64,
    },
}

/// A candidate at one stage.
#[derive(Clone, Copy)]
struct Candidate {
    cell: usize,
    found: StandsApart,
    probability: f64,
    explained: Option<f64>,
}

/// The readings of a sheet that stand apart, most striking first. Give it one
/// person's sheet at a time, or those of people who scatter alike.
///
/// A reading's distance from the mean of the others in its cell is compared
/// with the pooled scatter of all readings but itself, Student's t with those
/// degrees of freedom (the externally studentised residual of a one-way layout;
/// Cook and Weisberg, Residuals and Influence in Regression, 1982, from
/// memory). For one row alone that is Grubbs' test. The most striking is taken
/// out and the rest looked at again, for one reading in eight; whatever was
/// taken out before the last striking one counts too, so that two slips cannot
/// hide each other (Rosner, Technometrics 25, 1983, from memory). Each stage
/// has an error rate of 5 % for all of its readings by Bonferroni, and of 1 %
/// after one that is not striking by itself.
///
/// Where fewer than five degrees of freedom are left, as in a row of three
/// readings alone, t is all but blind. There a reading also stands apart whose
/// nearest neighbour is farther away than ten steps of the display and five
/// times the permissible error, whichever is larger: 0.15 mm for a calliper
/// with 0.01 and 0.03; or, where neither is known, than 0.25 mm and 0.3 % of the
/// length (house rules). A reading within two steps of the mean of its cell
/// never stands apart.
pub fn standing_apart(cells: &[Cell<'_>]) -> Vec<StandsApart> {
    let mut kept: Vec<Vec<(usize, f64)>> = cells
        .iter()
        .map(|cell| cell.series.readings().iter().copied().enumerate().collect())
        .collect();
    let readings: usize = kept.iter().map(Vec::len).sum();
    let mut taken = Vec::new();
    let mut striking = 0;
    for _ in 0..readings.div_ceil(AT_MOST_ONE_IN) {
        let Some(candidate) = farthest(cells, &kept) else {
            break;
        };
        let level = if striking == taken.len() {
            LEVEL
        } else {
            HIDDEN_LEVEL
        };
        taken.push(candidate.found);
        if candidate.probability < level || candidate.explained.is_some() {
            striking = taken.len();
        }
        if let Some(cell) = kept.get_mut(candidate.cell) {
            cell.retain(|(index, _)| *index != candidate.found.index);
        }
    }
    taken.truncate(striking);
    taken
}

/// The scatter of all readings kept about the means of their cells.
#[derive(Clone, Copy, Default)]
struct Scatter {
    squares: f64,
    degrees: f64,
    readings: f64,
}

/// The reading farthest out among those kept: one that the instrument does not
/// explain, then the least probable, then the one at the largest distance.
fn farthest(cells: &[Cell<'_>], kept: &[Vec<(usize, f64)>]) -> Option<Candidate> {
    let mut scatter = Scatter::default();
    for readings in kept.iter().filter(|readings| readings.len() > 1) {
        let middle = mean(readings);
        let square = |reading: &(usize, f64)| (reading.1 - middle) * (reading.1 - middle);
        scatter.squares += readings.iter().map(square).sum::<f64>();
        scatter.degrees += readings.len() as f64 - 1.0;
        scatter.readings += readings.len() as f64;
    }
    let rank = |candidate: &Candidate| {
        let explained = f64::from(u8::from(candidate.explained.is_none()));
        [explained, candidate.probability, -candidate.found.distance]
    };
    let compare = |a: &Candidate, b: &Candidate| {
        let pairs = rank(a).into_iter().zip(rank(b));
        let orders = pairs.map(|(a, b)| a.total_cmp(&b));
        orders.fold(Ordering::Equal, Ordering::then)
    };
    let cells = cells.iter().zip(kept).enumerate();
    let candidates = cells.flat_map(|(place, (cell, readings))| {
        let judge = move |&(index, value)| judge(place, cell, readings, (index, value), scatter);
        readings.iter().filter_map(judge)
    });
    candidates.min_by(compare)
}

fn mean(readings: &[(usize, f64)]) -> f64 {
    readings.iter().map(|reading| reading.1).sum::<f64>() / readings.len() as f64
}

/// One reading against the others; `None` if it lies too near to be a slip.
fn judge(
    place: usize,
    cell: &Cell<'_>,
    readings: &[(usize, f64)],
    (index, value): (usize, f64),
    scatter: Scatter,
) -> Option<Candidate> {
    if readings.len() < 2 {
        return None;
    }
    let n = readings.len() as f64;
    let deviation = (value - mean(readings)).abs();
    let chance = STEPS_OF_CHANCE * known(cell.step) + ROUNDING * value.abs();
    if deviation <= chance {
        return None;
    }
    // Without this reading the sum of squares is smaller by that of its
    // distance from the others.
    let distance = deviation * n / (n - 1.0);
    let others = (scatter.squares - deviation * distance).max(0.0);
    let left = scatter.degrees - 1.0;
    let least = cell.least_deviation();
    let variance = (others / left).max(least * least);
    let t = distance / libm::sqrt(variance * n / (n - 1.0));
    let probability = if left >= LEAST_DEGREES {
        (t_beyond(t, left) * scatter.readings).min(1.0)
    } else {
        1.0
    };
    let explained = unexplained(cell, readings, index, value).filter(|_| left < FEW_DEGREES);
    let by = match explained {
        Some(explained) if probability >= LEVEL => JudgedBy::Instrument { explained },
        _ => JudgedBy::Scatter {
            deviation: libm::sqrt(variance),
            degrees_of_freedom: left,
            probability,
        },
    };
    Some(Candidate {
        cell: place,
        found: StandsApart {
            row: cell.row,
            person: cell.person,
            index,
            value,
            distance,
            or_the_other: readings.len() == 2,
            by,
        },
        probability,
        explained,
    })
}

/// What the instrument explains, if the reading is farther than that from its
/// nearest neighbour.
fn unexplained(
    cell: &Cell<'_>,
    readings: &[(usize, f64)],
    index: usize,
    value: f64,
) -> Option<f64> {
    let steps = UNEXPLAINED_STEPS * known(cell.step);
    let errors = UNEXPLAINED_ERRORS * known(cell.max_error);
    let explained = if steps.max(errors) > 0.0 {
        steps.max(errors)
    } else {
        UNEXPLAINED_UNKNOWN.max(UNEXPLAINED_SHARE * value.abs())
    };
    let others = readings.iter().filter(|reading| reading.0 != index);
    let nearest = others
        .map(|reading| (reading.1 - value).abs())
        .fold(f64::INFINITY, f64::min);
    (nearest.is_finite() && nearest > explained).then_some(explained)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;
    use crate::random::Random;
    use crate::units::Series;

    /// The readings that stand apart on a sheet of one person, by row and index.
    fn found(rows: &[&[f64]], step: Option<f64>, max_error: Option<f64>) -> Vec<StandsApart> {
        let rows: Vec<Series> = rows
            .iter()
            .map(|row| Series::new(row.to_vec()).expect("readings"))
            .collect();
        let cells = rows.iter().enumerate().map(|(row, series)| Cell {
            row,
            person: 0,
            series,
            step,
            max_error,
        });
        standing_apart(&cells.collect::<Vec<_>>())
    }

    fn places(found: &[StandsApart]) -> Vec<(usize, usize)> {
        found.iter().map(|one| (one.row, one.index)).collect()
    }

    /// Nine rows of three readings with a scatter of about 0.02. Invented.
    const SOUND: [[f64; 3]; 9] = [
        [8.01, 7.98, 8.02],
        [107.00, 107.03, 106.99],
        [9.61, 9.60, 9.64],
        [170.02, 170.02, 169.98],
        [12.70, 12.72, 12.69],
        [31.80, 31.78, 31.83],
        [1.62, 1.62, 1.63],
        [340.01, 339.97, 340.00],
        [8.03, 8.00, 8.04],
    ];

    #[test]
    fn a_mistyped_reading_of_three_alone() {
        // The scatter of the other two, 0.021 on one degree of freedom, proves
        // nothing (corrected p 0.08, scipy); 0.60 mm is more than a calliper
        // explains.
        let slip = found(&[&[8.00, 7.97, 8.60]], Some(0.01), Some(0.03));
        assert_eq!(places(&slip), [(0, 2)]);
        let by = slip.first().map(|one| one.by);
        assert_eq!(by, Some(JudgedBy::Instrument { explained: 0.15 }));
        assert_eq!(places(&found(&[&[8.00, 7.97, 8.60]], None, None)), [(0, 2)]);
    }

    #[test]
    fn three_that_scatter_as_usual_have_none() {
        for row in [[8.00, 7.98, 8.02], [8.00, 7.95, 8.05], [8.02, 8.02, 8.13]] {
            assert_eq!(places(&found(&[&row], Some(0.01), Some(0.03))), []);
            assert_eq!(places(&found(&[&row], None, None)), []);
        }
        // A tape on the whole board.
        assert_eq!(places(&found(&[&[451.0, 452.0, 450.0]], None, None)), []);
    }

    #[test]
    fn one_row_borrows_the_scatter_of_the_others() {
        let sound: Vec<&[f64]> = SOUND.iter().map(<[f64; 3]>::as_slice).collect();
        assert_eq!(places(&found(&sound, Some(0.01), None)), []);
        let mut rows = sound.clone();
        rows[4] = &[12.70, 12.72, 12.84];
        let slip = found(&rows, Some(0.01), None);
        assert_eq!(places(&slip), [(4, 2)]);
        let by = slip.first().map(|one| one.by);
        assert!(matches!(by, Some(JudgedBy::Scatter { probability, .. }) if probability < 0.01));
    }

    #[test]
    fn two_slips_do_not_hide_each_other() {
        let mut rows: Vec<&[f64]> = SOUND.iter().map(<[f64; 3]>::as_slice).collect();
        rows[0] = &[8.01, 7.98, 8.62];
        rows[5] = &[31.80, 38.17, 31.83];
        let slips = found(&rows, Some(0.01), None);
        assert_eq!(places(&slips), [(5, 1), (0, 2)]);
    }

    #[test]
    fn of_two_either_may_be_wrong() {
        let mut rows: Vec<&[f64]> = SOUND.iter().map(<[f64; 3]>::as_slice).collect();
        rows[0] = &[8.01, 8.31];
        let slips = found(&rows, Some(0.01), None);
        assert!(slips.len() == 1 && slips[0].row == 0 && slips[0].or_the_other);
    }

    #[test]
    fn one_row_alone_is_grubbs_test() {
        // Grubbs' critical value for five readings at 5 %, two-sided, is 1.715
        // (published tables, from memory): four at 0 and 1 standard scores
        // arranged so that G is just below and just above it.
        let row = |far: f64| [-0.6, -0.2, 0.2, 0.6, far];
        let g = |far: f64| {
            let series = Series::new(row(far).to_vec()).expect("five");
            (far - series.mean()) / series.deviation().expect("five")
        };
        for (far, striking) in [(3.3, false), (3.5, true)] {
            assert_eq!(g(far) > 1.715, striking, "{}", g(far));
            let slips = found(&[&row(far)], None, Some(10.0));
            assert_eq!(!slips.is_empty(), striking, "{far}");
        }
    }

    #[test]
    fn steps_of_the_display_are_no_slip() {
        let row = [8.02, 8.02, 8.02, 8.04];
        assert_eq!(places(&found(&[&row], Some(0.02), None)), []);
        assert_eq!(places(&found(&[&row], None, None)), [(0, 3)]);
        assert_eq!(places(&found(&[&[8.02, 8.02, 8.02, 8.02]], None, None)), []);
    }

    #[test]
    fn sound_rows_of_three_seldom_have_one() {
        let mut random = Random::seeded(3);
        for (scatter, allowed) in [(0.02, 0.06), (0.05, 0.06)] {
            let mut wrong = 0.0;
            for _ in 0..2000 {
                let row = [(); 3].map(|()| {
                    let read = 8.0 + scatter * random.normal();
                    (read / 0.01).round() * 0.01
                });
                let slips = found(&[&row], Some(0.01), Some(0.03));
                wrong += f64::from(u8::from(!slips.is_empty())) / 2000.0;
            }
            assert!(wrong < allowed, "{scatter}: {wrong}");
        }
    }
}
