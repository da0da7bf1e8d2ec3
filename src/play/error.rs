//! What cannot be thrown, asked of a throw, or learnt from throws.

use thiserror::Error;

use super::limits::{LARGEST_SPREAD, LARGEST_START, MOST_DARTS, SMALLEST_SPREAD};
use crate::board::RingWire;
use crate::geometry::Bed;

/// What cannot be thrown, asked of a throw, or learnt from throws. Its words name
/// the value and what to give instead.
///
/// ```
/// use ringrule::play::{PlayError, Route};
///
/// let error = "T20 T21".parse::<Route>().unwrap_err();
/// assert!(matches!(error, PlayError::NoSuchNumber { number: 21, .. }));
/// assert_eq!(
///     error.to_string(),
///     "`T21` asks for 21, and the board's numbers are 1 to 20",
/// );
/// ```
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum PlayError {
    /// A start total too small to end on a double.
    #[error("nobody can finish {0} on a double; the smallest total is 2")]
    StartTooSmall(u32),
    /// A start total larger than anything that is played.
    #[error("a start total of {0} is more than {LARGEST_START}, the largest accepted")]
    StartTooLarge(u32),
    /// More ways to finish than can be counted exactly.
    #[error("the shortest ways to finish {0} are too many to count in 128 bits")]
    TooManyWays(u32),
    /// A leg that no aim ever wins.
    #[error(
        "no leg from {0} is ever won: no dart that counts leads to a finish; \
         give another start, or a narrower spread"
    )]
    NeverFinishes(u32),
    /// A route without targets.
    #[error("a route needs at least one target, such as `T20 T20 T20` or `8xT20 D12`")]
    EmptyRoute,
    /// How often a target is repeated, as no whole number.
    #[error("`{0}` repeats a target no whole number of times; write `8xT20` for eight of them")]
    Count(String),
    /// A route of too many darts.
    #[error("a route may have at most {MOST_DARTS} darts")]
    RouteTooLong,
    /// A number that is not on the board.
    #[error("`{word}` asks for {number}, and the board's numbers are 1 to 20")]
    NoSuchNumber {
        /// The word.
        word: String,
        /// The number it asks for.
        number: u32,
    },
    /// A word that is no target.
    #[error("`{0}` is not a target; write T20, D16, S5 (or 5), 25 or Bull")]
    NotATarget(String),
    /// A standard deviation that is not a plausible length.
    #[error(
        "a spread of {0} mm is outside {SMALLEST_SPREAD} to {LARGEST_SPREAD} mm; \
         give the standard deviation of the throws at the board, in mm"
    )]
    Deviation(f64),
    /// A correlation that is not strictly between −1 and 1.
    #[error("a correlation of {0} is not between -1 and 1; write 0 if left and high are unrelated")]
    Correlation(f64),
    /// A correlation so close to ±1 that the throws lie on a line.
    #[error(
        "with a correlation of {0} the throws almost lie on a line; \
         write one that leaves at least {SMALLEST_SPREAD} mm across it"
    )]
    Flat(f64),
    /// A ring wire whose place or width was not recorded.
    #[error(
        "nothing can be thrown at this board: the {0} is not known; \
         record its radius, and its width in `wires`"
    )]
    UnknownRing(RingWire),
    /// The width of the sector wires was not recorded.
    #[error(
        "nothing can be thrown at this board: the width of the sector wires is not known; \
         record it as `sectors` in `wires`"
    )]
    UnknownSectors,
    /// Wires that cross leave no closed region.
    #[error("nothing can be thrown at this board: the wires around the {0} do not enclose it")]
    OpenBed(Bed),
    /// An average beyond what the board and the model allow.
    #[error(
        "no spread from {narrowest} mm up averages {average}; on this board averages run from {lowest:.2} to {highest:.2}"
    )]
    NoSpread {
        /// The average.
        average: f64,
        /// The narrowest spread that is tried, in mm.
        narrowest: f64,
        /// The lowest that has a spread here.
        lowest: f64,
        /// The highest.
        highest: f64,
    },
    /// An average that darts in the 20 bed or its treble cannot have.
    #[error("darts that all land in the 20 bed or its treble average 60 to 180, not {0}")]
    NotTwenties(f64),
    /// A ratio of two targets that is not one.
    #[error("a target cannot be {0} times as hard; give a ratio above 0")]
    Ratio(f64),
    /// Not enough throws.
    #[error("too few throws to estimate a spread: {throws}; give at least {needed}")]
    TooFewThrows {
        /// How many there are.
        throws: usize,
        /// How many it takes.
        needed: usize,
    },
    /// A position that is not finite.
    #[error("({0}, {1}) is not a place on a board; give millimetres right of and above the centre")]
    NotAPlace(f64, f64),
    /// Every dart in one hole.
    #[error("every dart landed in the same place, which shows no spread")]
    NoScatter,
    /// Hits that fit ever better as the spread shrinks or grows.
    #[error(
        "no spread fits these hits best: they fit better and better up to the end of what is tried, \
         {0:.1} mm; give throws of which some hit the target and some miss it"
    )]
    Unbounded(f64),
}
