//! Simulated sheets with a known truth: how often intervals cover it, and how
//! often sound and unsound sheets are told apart. The figures of the full size
//! are printed: `cargo test --release simulation -- --ignored --nocapture`.
#![allow(clippy::expect_used, clippy::print_stdout, reason = "tests")]

mod tests;

use super::{
    Cell, Contribution, Repeatability, RowAgreement, agreement, combine, repeatability,
    standing_apart,
};
use crate::random::Random;
use crate::units::{Series, Uncertainty};

const MAX_ERROR: f64 = 0.03;
const STEP: f64 = 0.01;

/// How people measure one board.
#[derive(Clone, Copy, Debug)]
struct Scenario {
    people: usize,
    rows: usize,
    /// The standard deviation of one person's readings.
    scatter: f64,
    one_calliper: bool,
    readings: usize,
    /// Readings in each row of the first person's sheet.
    of_the_first: usize,
    /// The standard deviation of people's biases.
    touch: f64,
    /// Whether a person's bias is another one in each row.
    touch_by_row: bool,
}

/// One board measured by several people.
struct Simulated {
    truth: Vec<f64>,
    /// By row, then by person.
    series: Vec<Vec<Series>>,
}

impl Scenario {
    /// With a shift of the first person's readings in the first row.
    fn draw(self, random: &mut Random, shift: f64) -> Simulated {
        let callipers = if self.one_calliper { 1 } else { self.people };
        let errors: Vec<f64> = (0..callipers)
            .map(|_| MAX_ERROR * (2.0 * random.uniform() - 1.0))
            .collect();
        let biases: Vec<f64> = (0..self.people)
            .map(|_| self.touch * random.normal())
            .collect();
        let mut truth = Vec::new();
        let mut series = Vec::new();
        for row in 0..self.rows {
            let length = 8.0 + random.uniform();
            truth.push(length);
            let people = (0..self.people).map(|person| {
                let error = errors.get(person).or(errors.first()).copied();
                let bias = if self.touch_by_row {
                    self.touch * random.normal()
                } else {
                    biases[person]
                };
                let moved = if (row, person) == (0, 0) { shift } else { 0.0 };
                let middle = length + error.expect("one at least") + bias + moved;
                let readings = if person == 0 {
                    self.of_the_first
                } else {
                    self.readings
                };
                let readings = (0..readings).map(|_| {
                    let read = middle + self.scatter * random.normal();
                    (read / STEP).round() * STEP
                });
                Series::new(readings.collect()).expect("readings")
            });
            series.push(people.collect());
        }
        Simulated { truth, series }
    }

    fn instrument(self, person: usize) -> usize {
        if self.one_calliper { 0 } else { person }
    }

    /// U of the difference of two people: with k = 2, or with Student's t for
    /// the degrees of freedom that the readings of such a sheet have, as a
    /// report states it.
    fn expanded_difference(self, by_degrees: bool) -> f64 {
        let repeats = (self.rows * self.people * (self.readings - 1)) as f64;
        // Nobody repeats: the house rule's.
        let degrees = if repeats > 0.0 { repeats } else { 12.5 };
        let own = self.scatter / libm::sqrt(self.readings as f64);
        let error = if self.one_calliper { 0.0 } else { MAX_ERROR };
        let two = libm::sqrt(2.0);
        let difference = Uncertainty::combined([
            (two, Uncertainty::with_degrees(own, degrees)),
            (two, Uncertainty::finite(STEP / libm::sqrt(12.0))),
            (two, Uncertainty::finite(error / libm::sqrt(3.0))),
        ]);
        if by_degrees {
            difference.expanded().expanded
        } else {
            2.0 * difference.standard()
        }
    }
}

fn cells(simulated: &Simulated) -> Vec<Cell<'_>> {
    let rows = simulated.series.iter().enumerate();
    let cells = rows.flat_map(|(row, people)| {
        people.iter().enumerate().map(move |(person, series)| Cell {
            row,
            person,
            series,
            step: Some(STEP),
            max_error: Some(MAX_ERROR),
        })
    });
    cells.collect()
}

/// Shares of the simulated sheets, or of their rows.
#[derive(Clone, Copy, Debug, Default)]
struct Shares {
    /// Rows whose interval covers the truth.
    covered: f64,
    /// The mean U.
    expanded: f64,
    /// Sheets with any row disputed.
    disputed: f64,
    /// Sheets whose first row is disputed.
    first_disputed: f64,
    /// Sheets with anything set apart for its scatter.
    apart: f64,
    /// Sheets of the first person with a reading that stands apart.
    slips: f64,
}

/// How sheets are evaluated.
#[derive(Clone, Copy)]
struct Evaluation {
    sheets: usize,
    seed: u64,
    /// Whether the house rule for the touch is used.
    touch: bool,
    /// Whether it is known who used which instrument.
    named: bool,
    /// A shift of the first person's readings in the first row, in U of the
    /// difference of two people.
    shift: f64,
    /// Whether that U has Student's t in place of k = 2.
    by_degrees: bool,
}

impl Evaluation {
    const fn of(sheets: usize) -> Self {
        Self {
            sheets,
            seed: 20,
            touch: true,
            named: true,
            shift: 0.0,
            by_degrees: false,
        }
    }

    fn shares(self, scenario: Scenario) -> Shares {
        let mut random = Random::seeded(self.seed);
        let mut shares = Shares::default();
        let one = 1.0 / self.sheets as f64;
        let count = |share: &mut f64, found: bool| *share += if found { one } else { 0.0 };
        let shift = self.shift * scenario.expanded_difference(self.by_degrees);
        for _ in 0..self.sheets {
            let simulated = scenario.draw(&mut random, shift);
            let cells = cells(&simulated);
            let sheet = repeatability(&cells);
            let by = |found: &dyn Fn(&Cell<'_>) -> Option<Repeatability>| {
                let rows = (0..scenario.rows).map(|row| {
                    let cells = cells.iter().filter(|cell| cell.row == row);
                    let contribution = |cell: &Cell<'_>| {
                        let instrument = self.named.then(|| scenario.instrument(cell.person));
                        Contribution::of(cell, found(cell), instrument)
                    };
                    cells.map(contribution).collect()
                });
                rows.collect::<Vec<Vec<Contribution>>>()
            };
            let rows = by(&|cell| sheet.of(cell));
            let touch = if self.touch {
                sheet.touch(&cells[0])
            } else {
                Uncertainty::finite(0.0)
            };
            for (row, truth) in rows.iter().zip(&simulated.truth) {
                let combined = combine(row, touch).expect("finite");
                let expanded = combined.uncertainty.expect("known").coverage.expanded;
                shares.expanded += expanded * one / scenario.rows as f64;
                if (combined.value - truth).abs() <= expanded {
                    shares.covered += one / scenario.rows as f64;
                }
            }
            let compared = by(&|cell| sheet.to_compare(cell));
            let tested: Vec<_> = agreement(&compared).into_iter().flatten().collect();
            count(
                &mut shares.disputed,
                tested.iter().any(RowAgreement::disputed),
            );
            count(&mut shares.first_disputed, tested[0].disputed());
            count(&mut shares.apart, !sheet.apart.is_empty());
            let first = cells.iter().filter(|cell| cell.person == 0).copied();
            let slips = standing_apart(&first.collect::<Vec<_>>());
            count(&mut shares.slips, !slips.is_empty());
        }
        shares
    }
}
