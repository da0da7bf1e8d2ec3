//! Where two boards want different aims.

use super::options::Aims;
use super::solution::{Choice, Leg};

/// A position in which two legs aim at different beds.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Difference {
    /// Where the visit began.
    pub begun: u32,
    /// What is left to score.
    pub left: u32,
    /// How many darts are in hand: 3, 2 or 1.
    pub darts: usize,
    /// What is best in either leg.
    pub choices: [Choice; 2],
    /// What it costs in either leg, in the objective's unit, to aim this one
    /// dart where the other leg aims; known for aims at middles.
    pub losses: Option<[f64; 2]>,
}

/// The positions in which two legs of the same player on two boards aim at
/// different beds, for totals up to `highest`: by total, then by darts in hand
/// from three down, then by where the visit began. Aims that cost no more than
/// `negligible` on both boards are left out where that is known.
pub fn differences(first: &Leg, second: &Leg, highest: u32, negligible: f64) -> Vec<Difference> {
    let known = first.options().aims == Aims::Middles && second.options().aims == Aims::Middles;
    let mut differences = Vec::new();
    for row in first.finish_table(highest) {
        for chosen in row.choices {
            let (begun, left, darts) = (chosen.begun, row.left, row.darts);
            let Some(other) = second.choice(begun, left, darts) else {
                continue;
            };
            if other.bed == chosen.choice.bed {
                continue;
            }
            let position = [begun as usize, left as usize, darts];
            let losses = known.then(|| losses(first, second, position)).flatten();
            if losses.is_some_and(|losses| losses.iter().all(|loss| *loss <= negligible)) {
                continue;
            }
            differences.push(Difference {
                begun,
                left,
                darts,
                choices: [chosen.choice, other],
                losses,
            });
        }
    }
    differences
}

/// What it costs each to aim where the other does: middles have one order on
/// all boards.
fn losses(first: &Leg, second: &Leg, position: [usize; 3]) -> Option<[f64; 2]> {
    let [begun, left, darts] = position;
    let aims = [first, second].map(|leg| Some(leg.step(begun, left, darts)?.aim));
    let [one, other] = aims;
    Some([first.loss(position, other?)?, second.loss(position, one?)?])
}
