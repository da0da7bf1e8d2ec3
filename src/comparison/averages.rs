//! What an average on one board is worth on another.

use rayon::prelude::*;

use super::average_slopes::{AverageSide, translation_certainties};
use super::by_area::{Figure, simple_averages};
use super::{ByMetal, Certainty, Crossed, Subject};
use crate::board::Metal;
use crate::play::Averages;

/// Three-dart averages translated between a board and the first one.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AverageTable {
    /// How many times harder a treble is under the area rule: what the simple
    /// rule uses.
    pub simple_ratio: f64,
    /// One row for each average.
    pub rows: Vec<AverageRow>,
}

/// One average. Left out where no spread gives it, or where the simple rule
/// (every dart in the 20 bed or its treble: 60 to 180) does not cover it.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct AverageRow {
    /// The average.
    pub average: f64,
    /// Scored on the first board, what it is worth on this one: the same
    /// spread, each board's own best aim.
    pub from_first: ByMetal<Option<f64>>,
    /// How sure that is in the chosen setting.
    pub from_first_certainty: Certainty,
    /// The same where the boards' metal differs as far as it can.
    pub from_first_crossed: Crossed<Option<f64>>,
    /// The same under the simple rule, 60 + (average − 60)/ratio.
    pub from_first_simply: Option<f64>,
    /// How sure that is.
    pub from_first_simply_certainty: Certainty,
    /// Scored on this board, what it is worth on the first one.
    pub to_first: ByMetal<Option<f64>>,
    /// How sure that is in the chosen setting.
    pub to_first_certainty: Certainty,
    /// The same where the boards' metal differs as far as it can.
    pub to_first_crossed: Crossed<Option<f64>>,
    /// The same under the simple rule, 60 + (average − 60)·ratio.
    pub to_first_simply: Option<f64>,
    /// How sure that is.
    pub to_first_simply_certainty: Certainty,
}

/// A board's averages in the chosen setting and at both extremes; the search
/// for the best aims is made once.
pub(super) struct Prepared<'a> {
    own: Option<Averages<'a>>,
    lost: Averages<'a>,
    glances: Averages<'a>,
    metal: Metal,
}

impl<'a> Prepared<'a> {
    pub(super) fn of(subject: &'a Subject) -> Self {
        let on = |metal| Averages::on(subject.face(), metal);
        let share = subject.metal.lost_share();
        Self {
            own: (share > 0.0 && share < 1.0).then(|| on(subject.metal)),
            lost: on(Metal::Lost),
            glances: on(Metal::Glances),
            metal: subject.metal,
        }
    }

    pub(super) fn with(&self, metal: Option<Metal>) -> &Averages<'a> {
        match (&self.own, metal) {
            (Some(own), None) => own,
            _ if metal.unwrap_or(self.metal).lost_share() < 0.5 => &self.glances,
            _ => &self.lost,
        }
    }
}

pub(super) fn translate(
    average: f64,
    from: &Prepared<'_>,
    to: &Prepared<'_>,
    metal: Option<Metal>,
) -> Option<f64> {
    let (from, to) = (from.with(metal), to.with(metal));
    from.translate(average, to).ok()
}

/// Both boards' averages between which it is translated, and what is not known of them.
pub(super) struct Pair<'a> {
    pub(super) board: (&'a Prepared<'a>, AverageSide<'a>),
    pub(super) first: (&'a Prepared<'a>, AverageSide<'a>),
    /// How many times harder a treble is by area on the board.
    pub(super) treble: Figure,
}

pub(super) fn table(pair: &Pair<'_>, averages: &[f64]) -> AverageTable {
    let ((board, here), (first, than)) = (pair.board, pair.first);
    let simple = simple_averages(pair.treble, averages).rows;
    let there = translation_certainties(than, here, averages);
    let back = translation_certainties(here, than, averages);
    let row = |(index, &average): (usize, &f64)| {
        let simply = simple.get(index);
        let from_first_simply = simply.and_then(|row| row.from_first);
        let to_first_simply = simply.and_then(|row| row.to_first);
        let sure = |figure: Option<Figure>| match figure {
            Some(figure) => figure.certainty,
            None => Certainty::NotStated,
        };
        let certainty = |of: &[Certainty]| of.get(index).copied().unwrap_or(Certainty::NotStated);
        AverageRow {
            average,
            from_first: ByMetal::of(|metal| translate(average, first, board, metal)),
            from_first_certainty: certainty(&there),
            from_first_crossed: Crossed::of(|on_first, here| {
                let (from, to) = (first.with(Some(on_first)), board.with(Some(here)));
                from.translate(average, to).ok()
            }),
            from_first_simply: from_first_simply.map(|figure| figure.value),
            from_first_simply_certainty: sure(from_first_simply),
            to_first: ByMetal::of(|metal| translate(average, board, first, metal)),
            to_first_certainty: certainty(&back),
            to_first_crossed: Crossed::of(|on_first, here| {
                let (from, to) = (board.with(Some(here)), first.with(Some(on_first)));
                from.translate(average, to).ok()
            }),
            to_first_simply: to_first_simply.map(|figure| figure.value),
            to_first_simply_certainty: sure(to_first_simply),
        }
    };
    AverageTable {
        simple_ratio: pair.treble.value,
        rows: averages.par_iter().enumerate().map(row).collect(),
    }
}
