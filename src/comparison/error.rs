//! What keeps boards from being compared.

use thiserror::Error;

use crate::board::{MetalError, Mounting, Profile, Quantity, RingWire};
use crate::play::PlayError;

/// What keeps boards from being compared.
#[derive(Clone, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum CompareError {
    /// Fewer than two boards.
    #[error("a comparison needs at least two boards; add another, such as a table's nominal board")]
    TooFew,
    /// Beds without a target.
    #[error(
        "the throws are a list of beds hit, which does not say what was aimed at; name the target"
    )]
    NoTarget,
    /// A spread, average, start total or throws that are refused.
    #[error(transparent)]
    Play(#[from] PlayError),
    /// A file of throws that says too little of a player, or nothing.
    #[error("{file}: {source}")]
    Throws {
        /// The file.
        file: String,
        /// What it lacks.
        source: PlayError,
    },
    /// A board whose rings and wires are not all known.
    #[error("{label} is not measured whole: of its rings and wires it lacks {}", list(.lacks))]
    HalfMeasured {
        /// The board.
        label: String,
        /// What is not known.
        lacks: Vec<Quantity>,
        /// Whether any of its rings is known.
        has_rings: bool,
    },
    /// A board of which no ring was measured, to be completed.
    #[error(
        "no ring of {label} was measured, so there is nothing to complete: filled, it would be \
         the nominal board; name that one, `nominal:{mounting}`, in its place"
    )]
    NothingToComplete {
        /// The board.
        label: String,
        /// Its mounting.
        mounting: Mounting,
    },
    /// A board with other wires than the nominal one.
    #[error(
        "{label} cannot be completed: it has {}, and `{title}` describes a nominal board with {}; \
         name a table for such boards",
        board.name(),
        nominal.name()
    )]
    OtherProfile {
        /// The board.
        label: String,
        /// Its profile.
        board: Profile,
        /// The table.
        title: String,
        /// The nominal board's.
        nominal: Profile,
    },
    /// A board whose measured rings leave no room for the nominal ones.
    #[error(
        "{label} cannot be completed: with the nominal lengths its {inner} would overlap the \
         {outer}; check what was measured, or measure these two wires"
    )]
    DoesNotFit {
        /// The board.
        label: String,
        /// The wire on the bull's side.
        inner: RingWire,
        /// The next one.
        outer: RingWire,
    },
    /// Areas of no band are known on both boards.
    #[error(
        "no band's free area is known both on {first} and on {other}; measure the rings and the \
         wires around the treble on both, or record `areas` that are known"
    )]
    NothingInCommon {
        /// The first board.
        first: String,
        /// The other one.
        other: String,
    },
    /// Ratios beside two boards or more.
    #[error(
        "ratios stand in place of a second board, and there are {0} boards; name the first board \
         alone, or none, or leave the ratios out"
    )]
    RatiosAndBoards(usize),
    /// A board that nothing can be thrown at: something about its wires is not
    /// known.
    #[error("{label}: {source}")]
    Face {
        /// The board.
        label: String,
        /// What is not known.
        source: PlayError,
    },
    /// The table has no nominal board of that mounting.
    #[error("`{title}` describes no nominal board for {mounting}; name another table or mounting")]
    NoNominal {
        /// The table.
        title: String,
        /// The mounting.
        mounting: Mounting,
    },
    /// A name of a nominal board without a mounting in it.
    #[error("there is no mounting `{0}`: write `nominal:staples` or `nominal:embedded`")]
    NoMounting(String),
    /// Metal is set for a board that takes no part.
    #[error("no board is called `{id}`; there are {known}")]
    NoBoard {
        /// What it is called.
        id: String,
        /// The boards that do.
        known: String,
    },
    /// A setting of metal that is none.
    #[error("{0}; {remedy}", remedy = .0.remedy())]
    Metal(#[from] MetalError),
    /// A match average that nobody has.
    #[error(
        "no player averages {average} in this leg on the first board; from wide spreads to narrow \
         ones match averages run from {lowest:.1} to {highest:.1} there"
    )]
    NoMatchAverage {
        /// The average.
        average: f64,
        /// That of the widest spread that is tried.
        lowest: f64,
        /// That of the narrowest.
        highest: f64,
    },
    /// Boards without a treble have no ratio to translate averages by.
    #[error("{0} has no free area in its treble ring; check its wires")]
    NoTreble(String),
}

impl CompareError {
    /// The same, where it is about what a file of throws says.
    pub(super) fn of_throws(self, file: &str) -> Self {
        match self {
            Self::Play(source) => Self::Throws {
                file: file.to_owned(),
                source,
            },
            other => other,
        }
    }
}

/// Names in a row.
fn list(quantities: &[Quantity]) -> String {
    let words: Vec<String> = quantities.iter().map(Quantity::to_string).collect();
    words.join(", ")
}
