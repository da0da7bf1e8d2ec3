//! A whole sheet evaluated: what every row comes to, and whether people agree.

use super::agreement::{RowAgreement, agreement};
use super::cell::Cell;
use super::combine::combine;
use super::components::Combined;
use super::contribution::Contribution;
use super::outlier::{StandsApart, standing_apart};
use super::repeatability::{Repeatability, SheetRepeatability, repeatability};
use crate::units::Uncertainty;

/// One person's readings of one row, with the instrument as it enters the
/// result. All lengths are in mm.
#[derive(Clone, Copy, Debug)]
pub struct Measured<'a> {
    /// The readings.
    pub cell: Cell<'a>,
    /// Which instrument; `None` if it is not known whether it is the one that
    /// somebody else used.
    pub instrument: Option<usize>,
    /// What is added to its readings.
    pub correction: f64,
    /// The standard uncertainty of that.
    pub of_the_correction: f64,
}

/// A sheet of one or several people, evaluated.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// How well a single reading repeats.
    pub repeatability: SheetRepeatability,
    /// The rows, in the order given.
    pub rows: Vec<EvaluatedRow>,
}

/// One row, evaluated.
#[derive(Clone, Debug)]
pub struct EvaluatedRow {
    /// What each result contributes, in the order given.
    pub contributions: Vec<Contribution>,
    /// What they give together; `None` for none.
    pub combined: Option<Combined>,
    /// How well they agree, where that can be tested.
    pub agreement: Option<RowAgreement>,
}

/// Evaluates rows together: one repeatability, one error rate for all tests of
/// agreement.
pub fn evaluate(rows: &[Vec<Measured<'_>>]) -> Evaluation {
    let cells: Vec<Cell<'_>> = rows.iter().flatten().map(|of| of.cell).collect();
    let repeatability = repeatability(&cells);
    let contribution = |of: &Measured<'_>, found: Option<Repeatability>| {
        let plain = Contribution::of(&of.cell, found, of.instrument);
        Contribution {
            value: plain.value + of.correction,
            max_error: with_correction(plain.max_error, of.of_the_correction),
            ..plain
        }
    };
    let by = |found: &dyn Fn(&Cell<'_>) -> Option<Repeatability>| {
        let row = |row: &Vec<Measured<'_>>| {
            let row = row.iter().map(|of| contribution(of, found(&of.cell)));
            row.collect::<Vec<Contribution>>()
        };
        rows.iter().map(row).collect::<Vec<_>>()
    };
    let contributions = by(&|cell| repeatability.of(cell));
    let agreements = agreement(&by(&|cell| repeatability.to_compare(cell)));
    let rows = rows.iter().zip(contributions).zip(agreements);
    let rows = rows.map(|((row, contributions), agreement)| {
        // Displays of several steps: the larger touch counts.
        let touches = row.iter().map(|of| repeatability.touch(&of.cell));
        let touch = touches.max_by(|a, b| a.standard().total_cmp(&b.standard()));
        EvaluatedRow {
            combined: combine(&contributions, touch.unwrap_or(Uncertainty::finite(0.0))),
            contributions,
            agreement,
        }
    });
    Evaluation {
        rows: rows.collect(),
        repeatability,
    }
}

/// The bounds of a rectangular error with the variance of both. What is not
/// known of the correction is common to all who used the instrument, too.
fn with_correction(max_error: Option<f64>, of_the_correction: f64) -> Option<f64> {
    if of_the_correction > 0.0 {
        let other = libm::sqrt(3.0) * of_the_correction;
        return Some(libm::hypot(max_error.unwrap_or(0.0), other));
    }
    max_error
}

/// The readings of several people that stand apart from the others of their
/// row. Each is compared with the scatter of whoever took it, with the same
/// instrument: `group` says whose cells belong together.
pub fn standing_apart_by<'a, G: PartialEq>(
    cells: impl IntoIterator<Item = (G, Cell<'a>)>,
) -> Vec<StandsApart> {
    let mut groups: Vec<(G, Vec<Cell<'a>>)> = Vec::new();
    for (group, cell) in cells {
        match groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, cells)) => cells.push(cell),
            None => groups.push((group, vec![cell])),
        }
    }
    let found = groups.iter().flat_map(|(_, cells)| standing_apart(cells));
    found.collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::expect_used, reason = "a test may stop")]
    use super::*;
    use crate::units::Series;

    /// One row: readings, instrument, what is added to them, its uncertainty.
    type Row<'a> = &'a [(&'a [f64], Option<usize>, f64, f64)];

    fn evaluated(row: Row<'_>) -> EvaluatedRow {
        let series = row.iter().map(|(readings, ..)| readings.to_vec());
        let series: Vec<Series> = series
            .map(|of| Series::new(of).expect("readings"))
            .collect();
        let people = row.iter().zip(&series).enumerate();
        let people = people.map(
            |(person, (&(_, instrument, correction, u), series))| Measured {
                cell: Cell {
                    row: 0,
                    person,
                    series,
                    step: Some(0.01),
                    max_error: Some(0.03),
                },
                instrument,
                correction,
                of_the_correction: u,
            },
        );
        let mut evaluation = evaluate(&[people.collect()]);
        evaluation.rows.remove(0)
    }

    #[test]
    fn a_known_error_of_an_instrument_is_no_dispute() {
        let a: &[f64] = &[8.00, 8.01, 8.00];
        let b: &[f64] = &[8.20, 8.21, 8.20];
        let bare = evaluated(&[(a, Some(0), 0.0, 0.0), (b, Some(1), 0.0, 0.0)]);
        assert!(bare.agreement.expect("two").disputed());
        let corrected = evaluated(&[(a, Some(0), 0.0, 0.0), (b, Some(1), -0.2, 0.01)]);
        assert!(!corrected.agreement.expect("two").disputed());
        let value = corrected.combined.expect("finite").value;
        assert!((value - 8.003_333).abs() < 1e-5, "{value}");
    }

    #[test]
    fn what_is_not_known_of_a_correction_counts_like_the_permissible_error() {
        // By hand: √(0.03²/3 + 0.02²) = 0.026458.
        let readings: &[f64] = &[8.00, 8.01, 8.00];
        let of = evaluated(&[(readings, Some(0), 0.0, 0.02)]);
        let components = of.combined.expect("finite").uncertainty.expect("known");
        let error = components.instruments.first().expect("one").standard;
        assert!((error - 0.026_457_5).abs() < 1e-6, "{error}");
    }
}
