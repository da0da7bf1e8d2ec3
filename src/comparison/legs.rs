//! The shortest legs there are, and which of them is easiest on each board.

use super::player::player;
use super::{CompareError, Subject};
use crate::play::{AimRule, Route, Spread, Target, easiest_legs, shortest_legs};

/// The shortest ways to finish a start total, the last dart at a double.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct StartLegs {
    /// The start total.
    pub start: u32,
    /// How many darts it takes at least.
    pub darts: usize,
    /// How many ordered ways there are.
    pub ways: u128,
    /// The same by the last dart, the most first.
    pub by_last: Vec<LastDart>,
    /// The easiest on each board, in the order of the boards, in the chosen
    /// setting.
    pub easiest: Vec<EasiestLeg>,
}

/// The ways that end on one double.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct LastDart {
    /// The double.
    pub target: Target,
    /// How many ways.
    pub ways: u128,
}

/// The easiest of the shortest legs on one board.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct EasiestLeg {
    /// The board's place in the list of boards, from 0.
    pub board: usize,
    /// Its targets; left out if the player never hits one that is needed.
    pub route: Option<Route>,
    /// One try in this many succeeds; left out where the number is too large.
    pub one_in: Option<f64>,
    /// How many of the shortest legs are equally easy, this one included; 0 if
    /// there is none.
    pub equal: u128,
}

impl StartLegs {
    /// The easiest on the first board.
    pub(super) fn on_first(&self) -> Option<Route> {
        self.easiest.first()?.route.clone()
    }
}

pub(super) fn leg(
    start: u32,
    subjects: &[Subject],
    spread: Spread,
    aim: AimRule,
) -> Result<StartLegs, CompareError> {
    let legs = shortest_legs(start)?;
    let mut easiest = Vec::with_capacity(subjects.len());
    for (board, subject) in subjects.iter().enumerate() {
        let player = player(subject.setup(None), spread, aim);
        let found = easiest_legs(start, |target: Target| player.probability(target))?;
        let one_in = found.as_ref().map(|found| libm::exp(-found.log));
        easiest.push(EasiestLeg {
            board,
            equal: found.as_ref().map_or(0, |found| found.equal),
            route: found.map(|found| found.route),
            one_in: one_in.filter(|one_in| one_in.is_finite()),
        });
    }
    let last = |&(target, ways): &(Target, u128)| LastDart { target, ways };
    Ok(StartLegs {
        start,
        darts: legs.darts,
        ways: legs.ways,
        by_last: legs.by_last.iter().map(last).collect(),
        easiest,
    })
}
