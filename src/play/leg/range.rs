//! The aims that a player may choose from, and the choice.

use rayon::prelude::*;

use super::climb::{Climber, Place};
use super::line::{Line, Outlook};
use super::outcome::{ByOutcome, chances, mean};
use crate::board::{Band, SECTOR_ORDER};
use crate::geometry::{Bed, Point};
use crate::play::{Setup, Spread, Throw};

/// Aims whose costs differ by less than this share of what is at stake tie.
const TIE: f64 = 1e-13;
/// How many places are climbed from, the best ones first.
const CLIMBS: usize = 8;

/// A place to aim at, and what comes of it.
#[derive(Clone, Debug)]
pub(super) struct Aim {
    pub(super) place: Point,
    /// The bed whose middle it is, or the one that it hits most often.
    pub(super) bed: Bed,
    pub(super) chances: ByOutcome,
}

/// What was chosen: which aim, and what it costs.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pick {
    pub(super) aim: usize,
    pub(super) line: Line,
}

/// The aims that may be chosen. Of tied ones the first in this order is taken:
/// trebles, inner bull, doubles, outer singles, inner singles, each from 20
/// down (house rule).
#[derive(Clone, Debug)]
pub(super) struct Range<'a> {
    aims: Vec<Aim>,
    /// How many of them were there from the start: middles first.
    fixed: usize,
    climber: Option<Climber<'a>>,
    /// What climbs start from, aim by aim; empty without a climber.
    places: Vec<Place>,
}

impl<'a> Range<'a> {
    /// The middles of beds.
    pub(super) fn middles(setup: Setup<'_>, spread: Spread) -> Self {
        let aims: Vec<Aim> = middles()
            .collect::<Vec<_>>()
            .into_par_iter()
            .map(|bed| {
                let place = setup.face.middle(bed);
                let hits = setup.face.hits(&Throw::at(place, spread), setup.metal);
                let chances = chances(&hits);
                Aim {
                    place,
                    bed,
                    chances,
                }
            })
            .collect();
        Self {
            fixed: aims.len(),
            aims,
            climber: None,
            places: Vec::new(),
        }
    }

    /// The whole board, searched to a tolerance in the unit of costs from the
    /// middles, and from some places round the 25 ring.
    pub(super) fn anywhere(setup: Setup<'a>, spread: Spread, tolerance: f64) -> Self {
        let climber = Climber::new(setup, spread, tolerance);
        let face = setup.face;
        let ring = face.places_around(Bed::new(Band::OuterBull, 0));
        let beds: Vec<Bed> = middles().collect();
        let mut starts: Vec<Point> = beds.iter().map(|bed| face.middle(*bed)).collect();
        starts.extend(ring);
        let places: Vec<Place> = starts
            .into_par_iter()
            .map(|start| climber.place(start))
            .collect();
        let mut aims: Vec<Aim> = places.iter().map(Aim::of).collect();
        for (aim, bed) in aims.iter_mut().zip(beds) {
            aim.bed = bed;
        }
        Self {
            fixed: aims.len(),
            aims,
            climber: Some(climber),
            places,
        }
    }

    /// Costs need not be known better than this.
    pub(super) fn tolerance(&self) -> f64 {
        self.climber.map_or(0.0, |climber| climber.tolerance)
    }

    pub(super) fn get(&self, aim: usize) -> Option<&Aim> {
        self.aims.get(aim)
    }

    pub(super) fn into_aims(self) -> Vec<Aim> {
        self.aims
    }

    /// The aim with the least expected cost. `hints` are aims that were best in
    /// like circumstances.
    pub(super) fn choose(&mut self, outlook: &Outlook, hints: impl Iterator<Item = usize>) -> Pick {
        let costs = self.aims.iter().take(self.fixed);
        let costs: Vec<f64> = costs
            .map(|aim| mean(&aim.chances, &outlook.excess))
            .collect();
        let best = least(&costs, outlook);
        let Some(climber) = self.climber else {
            return self.pick(best, outlook);
        };
        let mut starts: Vec<usize> = hints.collect();
        let cost = |aim: &usize| costs.get(*aim).copied().unwrap_or(f64::INFINITY);
        let mut ranked: Vec<usize> = (0..self.fixed).collect();
        ranked.select_nth_unstable_by(CLIMBS.min(self.fixed.saturating_sub(1)), |a, b| {
            cost(a).total_cmp(&cost(b))
        });
        ranked.truncate(CLIMBS);
        ranked.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
        starts.extend(ranked);
        self.climb(&climber, &starts, best, outlook)
    }

    /// Climbs from some aims, and keeps the best place that is found.
    fn climb(
        &mut self,
        climber: &Climber<'_>,
        starts: &[usize],
        best: usize,
        outlook: &Outlook,
    ) -> Pick {
        let mut best = self.pick(best, outlook);
        let (mut top, mut known) = (None, None);
        for start in starts {
            let from = self.pick(*start, outlook);
            if from.line.excess < best.line.excess {
                (best, top) = (from, None);
            }
        }
        for (nth, start) in starts.iter().enumerate() {
            let again = starts.iter().take(nth).any(|other| other == start);
            let Some(place) = self.places.get(*start).filter(|_| !again) else {
                continue;
            };
            let found = climber.climb(place, outlook, best.line.excess, known);
            if found.cost <= best.line.excess {
                known = found.arrived;
            }
            if found.cost < best.line.excess && found.place.is_some() {
                best.line.excess = found.cost;
                top = found.place;
            }
        }
        if let Some(place) = top {
            self.aims.push(Aim::of(&place));
            self.places.push(place);
            best = self.pick(self.aims.len() - 1, outlook);
        }
        best
    }

    fn pick(&self, aim: usize, outlook: &Outlook) -> Pick {
        let line = self.aims.get(aim).map_or(Line::VOID, |aim| Line {
            excess: mean(&aim.chances, &outlook.excess),
            leave: mean(&aim.chances, &outlook.leave),
        });
        Pick { aim, line }
    }
}

impl Aim {
    fn of(place: &Place) -> Self {
        Self {
            place: place.at,
            bed: place.bed,
            chances: place.chances,
        }
    }
}

/// The first of the least costs.
fn least(costs: &[f64], outlook: &Outlook) -> usize {
    let stakes = outlook.excess.iter();
    let at_stake = stakes.fold(0.0, |most: f64, excess| most.max(excess.abs()));
    let mut best = (0, f64::INFINITY);
    for (aim, cost) in costs.iter().enumerate() {
        if *cost < best.1 - TIE * at_stake {
            best = (aim, *cost);
        }
    }
    best.0
}

/// The beds whose middles are aimed at, in the order in which ties are settled.
/// The 25 ring has no middle of its own.
fn middles() -> impl Iterator<Item = Bed> {
    let band = |band| (1..=20).rev().map(move |number| bed(band, number));
    band(Band::Treble)
        .chain([Bed::new(Band::InnerBull, 0)])
        .chain(band(Band::Double))
        .chain(band(Band::OuterSingle))
        .chain(band(Band::InnerSingle))
}

fn bed(band: Band, number: u8) -> Bed {
    let sector = SECTOR_ORDER.iter().position(|other| *other == number);
    Bed::new(band, sector.unwrap_or_default())
}
