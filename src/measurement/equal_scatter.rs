//! Does everybody scatter alike, in every row?

use super::basis::{Apart, Basis};
use super::cell::Cell;
use super::probability::f_beyond;

/// How rarely a sheet on which everybody and every row scatters alike has
/// anything set apart. House rule: the usual 5 %.
const LEVEL: f64 = 0.05;

/// The square of a step over the variance of rounding to it.
const STEP_TO_ROUNDING: f64 = 12.0;

/// A sum of squares with its degrees of freedom.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Squares {
    sum: f64,
    pub(super) degrees: f64,
    /// The largest variance of rounding among the displays.
    rounding: f64,
}

impl Squares {
    pub(super) fn of<'a>(cells: impl Iterator<Item = &'a Cell<'a>>) -> Self {
        cells.fold(Self::default(), |so_far, cell| {
            let Some((sum, degrees)) = cell.squares() else {
                return so_far;
            };
            let rounding = cell.least_deviation();
            Self {
                sum: so_far.sum + sum,
                degrees: so_far.degrees + degrees,
                rounding: so_far.rounding.max(rounding * rounding),
            }
        })
    }

    /// The pooled variance, not below what the displays can show.
    fn variance(self) -> f64 {
        self.pooled().max(self.rounding)
    }

    /// The pooled variance as the readings give it.
    pub(super) fn pooled(self) -> f64 {
        self.sum / self.degrees
    }

    fn without(self, other: Self) -> Self {
        Self {
            sum: (self.sum - other.sum).max(0.0),
            degrees: self.degrees - other.degrees,
            rounding: self.rounding,
        }
    }
}

impl Basis {
    /// Whether a cell belongs to it.
    pub(super) fn holds(self, cell: &Cell<'_>) -> bool {
        match self {
            Self::Person(person) => cell.person == person,
            Self::Row(row) => cell.row == row,
            Self::Cell { row, person } => (cell.row, cell.person) == (row, person),
            Self::Pooled | Self::House => false,
        }
    }
}

/// The person, row or cell that scatters more than the rest, if one does.
///
/// Each is tested against the rest of the sheet: the ratio of their variances,
/// F with both degrees of freedom, to the upper side, one error rate of 5 % for
/// all by Bonferroni. This is Cochran's test as extended to unequal numbers of
/// readings ('t Lam, Technometrics 52, 2010, from memory). Bartlett's test
/// takes the logarithm of each variance, so that a row of equal readings, which
/// a display with steps often gives, would be infinitely striking; that of
/// Brown and Forsythe uses distances from medians, and three readings leave
/// only two of them. Cochran's does not mind a variance of zero, and the
/// rounding's own variance is a lower bound to that of the rest. A standard
/// deviation within one step of the display is never striking: where people
/// repeat better than their display shows, a row that lies near the edge of a
/// step scatters and another does not (12 % of such sheets otherwise).
pub(super) fn scatters_more(cells: &[&Cell<'_>]) -> Option<Apart> {
    let all = Squares::of(cells.iter().copied());
    let candidates = candidates(cells);
    let tests = candidates.len() as f64;
    let judged = candidates.into_iter().filter_map(|what| {
        let own = Squares::of(cells.iter().copied().filter(|cell| what.holds(cell)));
        let rest = all.without(own);
        let within_a_step = own.pooled() <= STEP_TO_ROUNDING * own.rounding;
        let (some, others) = (own.degrees >= 1.0, rest.degrees >= 1.0);
        // Where the step is not known and all others are equal, nothing can be
        // said.
        if !(some && others && own.sum > 0.0 && rest.variance() > 0.0) || within_a_step {
            return None;
        }
        let ratio = own.pooled() / rest.variance();
        let probability = f_beyond(ratio, own.degrees, rest.degrees);
        Some(Apart {
            what,
            deviation: libm::sqrt(own.pooled()),
            rest: libm::sqrt(rest.variance()),
            probability: (probability * tests).min(1.0),
        })
    });
    judged
        .min_by(|a, b| a.probability.total_cmp(&b.probability))
        .filter(|found| found.probability < LEVEL)
}

/// Persons, rows and cells, except those that are the same readings as one
/// named before or all of the readings.
fn candidates(cells: &[&Cell<'_>]) -> Vec<Basis> {
    let repeated = || {
        cells
            .iter()
            .filter(|cell| cell.series.deviation().is_some())
    };
    let persons = repeated().map(|cell| Basis::Person(cell.person));
    let rows = repeated().map(|cell| Basis::Row(cell.row));
    let single = repeated().map(|cell| Basis::Cell {
        row: cell.row,
        person: cell.person,
    });
    let whole = repeated().count();
    let mut found: Vec<(Basis, Vec<usize>)> = Vec::new();
    for what in persons.chain(rows).chain(single) {
        let members = repeated().enumerate().filter(|(_, cell)| what.holds(cell));
        let members: Vec<usize> = members.map(|(index, _)| index).collect();
        if members.len() < whole && found.iter().all(|(_, known)| *known != members) {
            found.push((what, members));
        }
    }
    found.into_iter().map(|(what, _)| what).collect()
}
