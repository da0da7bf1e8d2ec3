//! What a comparison by areas comes to.

use super::figure::Figure;
use crate::board::{Band, FilledLength, Quantity};
use crate::comparison::{RecordedBeside, RouteName};
use crate::play::Route;

/// Boards set against the first of them by their areas. Areas in mm² of one bed, in the
/// mean over a band's beds.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaComparison {
    /// The boards, in the order of the run; of ratios alone, two that nobody described.
    pub boards: Vec<AreaBoard>,
    /// Every board but the first against the first.
    pub differences: Vec<AreaDifference>,
    /// How the perfect leg of a start total was chosen.
    pub leg_rule: LegRule,
}

/// How much is known of a board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaBoard {
    /// Its id, or which nominal board it is, or what stands for one that is not described.
    pub label: String,
    /// Where it hangs, or whose nominal board it is.
    pub name: Option<String>,
    /// The file that it was described in.
    pub file: Option<String>,
    /// How it was described.
    pub described: Described,
    /// The areas that are known, from the bull outwards.
    pub beds: Vec<KnownBed>,
    /// Areas that were recorded, of bands that the rings give.
    pub beside: Vec<RecordedBeside>,
    /// What would have to be known of its rings and wires for everything else.
    pub lacks: Vec<Quantity>,
    /// Whether any of its rings is known.
    pub has_rings: bool,
    /// Lengths that were not measured, but taken from a nominal board.
    pub filled: Vec<FilledLength>,
}

/// How a board was described.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Described {
    /// By its file.
    File,
    /// By a table: its nominal board.
    Nominal,
    /// By ratios to the first board.
    Ratios,
    /// Not at all.
    NotDescribed,
}

/// A band's free area, in the mean over its beds.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct KnownBed {
    /// Which band.
    pub band: Band,
    /// Of one bed, in mm².
    pub bed_mm2: f64,
    /// Expanded uncertainty of it (k = 2 for many degrees of freedom), in mm²; left out
    /// where the file states none.
    pub expanded_uncertainty_mm2: Option<f64>,
    /// Where it comes from.
    pub source: AreaSource,
}

/// Where an area comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum AreaSource {
    /// The rings and wires around the band.
    Rings,
    /// The file records it.
    Recorded,
}

/// One board against the first.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaDifference {
    /// The board's place in the list of boards, from 0.
    pub board: usize,
    /// Each kind of target.
    pub targets: Vec<AreaOdds>,
    /// Routes.
    pub routes: Vec<AreaRoute>,
    /// Averages; left out where the treble's ratio is not known.
    pub averages: Option<AreaAverages>,
}

/// Where a ratio comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum RatioFrom {
    /// The areas of both boards.
    Areas,
    /// It was given.
    Given,
    /// Others were given and this was not: exactly 1.
    NotNamed,
}

/// A kind of target on two boards.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaOdds {
    /// Which band.
    pub band: Band,
    /// How many times harder than on the first board; left out where an area is not known.
    pub harder: Option<Figure>,
    /// Where that comes from.
    pub from: RatioFrom,
}

/// A route on two boards.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaRoute {
    /// What it is called, if it has a name.
    pub name: Option<RouteName>,
    /// Its targets.
    pub route: Route,
    /// How many darts it has.
    pub darts: usize,
    /// What it scores.
    pub total: u32,
    /// How many times harder than on the first board; left out where a ratio that it
    /// needs is not known.
    pub harder: Option<Figure>,
    /// The bands whose ratio it lacks.
    pub lacks: Vec<Band>,
}

/// How the perfect leg of a start total was chosen among the shortest legs.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum LegRule {
    /// The easiest on the first board, every wire of which is known, for throws that
    /// scatter by so many mm in every direction about the middles of beds.
    EasiestOnFirst {
        /// The standard deviation, in mm.
        spread_mm: f64,
    },
    /// Those with the fewest darts at the inner bull; of them those with the most at
    /// singles; of them the one with the largest scores. House rule.
    FewestBulls,
}

/// Averages by the simple rule: every dart in the 20 bed or its treble.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaAverages {
    /// The treble's ratio, by which they are translated.
    pub treble: Figure,
    /// One row for each average.
    pub rows: Vec<AreaAverageRow>,
}

/// One average, and what it is worth; left out where it would be no average of such darts,
/// which run from 60 to 180.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AreaAverageRow {
    /// The average.
    pub average: f64,
    /// Scored on the first board, what it is worth on this one: 60 + (average − 60)/ratio.
    pub from_first: Option<Figure>,
    /// Scored on this board, what it is worth on the first one: 60 + (average − 60)·ratio.
    pub to_first: Option<Figure>,
}
