//! What a production run comes to.

use jiff::civil::Date;

use super::Order;
use super::capability::{Capability, Withheld};
use super::charts::{Chart, NotCharted};
use super::normality::Normality;
use super::summary::{Outside, Summary};
use crate::board::Band;
use crate::conformity::WirePart;
use crate::table::{Limit, Table};

/// A production run.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Lot<'t> {
    /// The table that says what is looked at.
    pub table: &'t Table,
    /// The boards, in the order of the run.
    pub boards: Vec<LotBoard>,
    /// Whose order that is.
    pub order: Order,
    /// The probability, from 0 to 1, that any chart of a sound run gives a signal.
    pub false_alarm: f64,
    /// How many charts share it.
    pub charts: usize,
    /// Every limited length and band area, in the order of the table.
    pub series: Vec<Series<'t>>,
}

/// What is kept of a board.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LotBoard {
    /// Its id.
    pub id: String,
    /// Its file.
    pub file: String,
    /// The year in which it was made, if its file says.
    pub made: Option<u16>,
    /// The day on which it was inspected, if its file says.
    pub inspected: Option<Date>,
}

/// What a series is of.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub enum Subject<'t> {
    /// A length that a limit is about.
    Length {
        /// The limit.
        limit: &'t Limit,
        /// Which wires, where the limit is for several.
        part: Option<WirePart>,
    },
    /// The free area of a band, as its deviation from the nominal board's.
    Area(Band),
}

/// The unit of a series.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Percent of the nominal area.
    Percent,
}

/// Where values conform, in the series' unit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Tolerance {
    /// There are no limits.
    None,
    /// The same for every board; at least one end is there.
    Same {
        /// The least value that conforms.
        lower: Option<f64>,
        /// The greatest value that conforms.
        upper: Option<f64>,
    },
    /// They move with wires that no limit is about, from board to board.
    Differs,
}

/// One measurand of all boards. Values are in its [unit](Subject::unit).
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Series<'t> {
    /// What it is of.
    pub subject: Subject<'t>,
    /// Where values conform.
    pub tolerance: Tolerance,
    /// The values, in the order of the run.
    pub values: Vec<f64>,
    /// The place in the run of the board of each value, from 0.
    pub places: Vec<usize>,
    /// How many boards should have had one and did not.
    pub lacking: usize,
    /// How many values rest on a length that states no uncertainty: nothing of the
    /// measurement could be taken out for these.
    pub unstated: usize,
    /// The mean variance of the measurement that is independent from board to board,
    /// in the square of the unit.
    pub noise: f64,
    /// Mean, spread and extremes; `None` of no value.
    pub summary: Option<Summary>,
    /// How many are outside their limits; `None` where there are none.
    pub outside: Option<Outside>,
    /// The charts.
    pub chart: Result<Chart, NotCharted>,
    /// How normal the values look, where that can be said.
    pub normality: Option<Normality>,
    /// The capability of the process.
    pub capability: Result<Capability, Withheld>,
}

impl Subject<'_> {
    /// Its unit.
    pub const fn unit(&self) -> Unit {
        match self {
            Self::Length { .. } => Unit::Mm,
            Self::Area(_) => Unit::Percent,
        }
    }
}

impl Series<'_> {
    /// How many values there are.
    pub const fn count(&self) -> usize {
        self.values.len()
    }

    /// Whether a chart gives a signal.
    pub fn is_unstable(&self) -> bool {
        self.chart
            .as_ref()
            .is_ok_and(|chart| !chart.signals.is_empty())
    }
}

impl Lot<'_> {
    /// Whether a chart of any series gives a signal.
    pub fn is_unstable(&self) -> bool {
        self.series.iter().any(Series::is_unstable)
    }

    /// Whether any value is outside its limits.
    pub fn has_outside(&self) -> bool {
        let outside = |series: &Series<'_>| series.outside.is_some_and(|own| own.count > 0);
        self.series.iter().any(outside)
    }
}
