//! The finish table: what is best for every total and every dart in hand.

use super::outcome::{LARGEST, reached};
use super::solution::{Choice, Leg};
use crate::geometry::Bed;

/// What is best with some total left and some darts in hand.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct FinishRow {
    /// What is left to score.
    pub left: u32,
    /// How many darts are in hand: 3, 2 or 1.
    pub darts: usize,
    /// What is best, by where the visit began, ascending. That counts within
    /// reach of zero, since a void visit goes back there; further up the first
    /// choice stands for all.
    pub choices: Vec<Chosen>,
}

/// What is best in visits that began at a total.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Chosen {
    /// Where the visit began.
    pub begun: u32,
    /// What is best.
    pub choice: Choice,
}

impl FinishRow {
    /// The beds that are aimed at, with the choices for each: the bed that most
    /// starts of a visit call for first.
    pub fn by_bed(&self) -> Vec<(Bed, Vec<Chosen>)> {
        let mut beds: Vec<(Bed, Vec<Chosen>)> = Vec::new();
        for chosen in &self.choices {
            match beds.iter_mut().find(|(bed, _)| *bed == chosen.choice.bed) {
                Some((_, same)) => same.push(*chosen),
                None => beds.push((chosen.choice.bed, vec![*chosen])),
            }
        }
        // Stable: of as many, the one from the lower start stays first.
        beds.sort_by_key(|(_, choices)| std::cmp::Reverse(choices.len()));
        beds
    }
}

impl Leg {
    /// What is best for every total from 2 to `highest` or the start, whichever
    /// is lower, with three, two and one darts in hand. Positions that no visit
    /// of this leg leads to are left out.
    pub fn finish_table(&self, highest: u32) -> Vec<FinishRow> {
        let totals = 2..=highest.min(self.options().start);
        let rows = totals.flat_map(|left| [3, 2, 1].map(|darts| self.row(left, darts)));
        rows.filter(|row| !row.choices.is_empty()).collect()
    }

    fn row(&self, left: u32, darts: usize) -> FinishRow {
        let most = LARGEST * (3 - darts);
        // Further up no dart that is left makes the visit void.
        let near = (left as usize) < LARGEST * darts + 2;
        let reached = |scored: &u32| reached(*scored as usize, 3 - darts);
        let chosen = |scored| {
            let begun = left + scored;
            let choice = self.choice(begun, left, darts)?;
            Some(Chosen { begun, choice })
        };
        let scored = 0..=u32::try_from(most).unwrap_or_default();
        let choices = scored.filter(reached).filter_map(chosen);
        FinishRow {
            left,
            darts,
            choices: choices.take(if near { usize::MAX } else { 1 }).collect(),
        }
    }
}
