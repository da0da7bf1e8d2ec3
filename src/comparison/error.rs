//! What keeps boards from being compared.

use thiserror::Error;

use crate::board::{MetalError, Mounting};
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
    /// Boards without a treble have no ratio to translate averages by.
    #[error("{0} has no free area in its treble ring; check its wires")]
    NoTreble(String),
}
