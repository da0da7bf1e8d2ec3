//! The aims that a player may choose from, and the choice.

use rayon::prelude::*;

use super::climb::Climber;
use super::line::{Line, Outlook};
use super::options::Aims;
use super::outcome::{ByOutcome, chances, mean};
use crate::board::{Band, SECTOR_ORDER};
use crate::geometry::{Bed, Point};
use crate::play::{Hits, Setup, Spread, Throw};

/// Aims whose costs differ by less than this share of what is at stake tie.
const TIE: f64 = 1e-13;
/// How many places are climbed from, the best ones first.
const CLIMBS: usize = 3;

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
}

impl<'a> Range<'a> {
    pub(super) fn new(setup: Setup<'a>, spread: Spread, aims: Aims) -> Self {
        let face = setup.face;
        let hits = |place| face.hits(&Throw::at(place, spread), setup.metal);
        let middles = middles().map(|bed| (face.middle(bed), Some(bed)));
        let mut places: Vec<(Point, Option<Bed>)> = middles.collect();
        let climber = (aims == Aims::Continuous).then(|| Climber::new(setup, spread));
        if climber.is_some() {
            let ring = face.places_around(Bed::new(Band::OuterBull, 0));
            places.extend(ring.into_iter().map(|place| (place, None)));
        }
        let aims: Vec<Aim> = places
            .into_par_iter()
            .map(|(place, bed)| Aim::new(place, bed, &hits(place)))
            .collect();
        Self {
            fixed: aims.len(),
            aims,
            climber,
        }
    }

    /// Aims that need not be searched finer than this, in the unit of costs.
    pub(super) fn tolerance(&self) -> f64 {
        self.climber.as_ref().map_or(0.0, |_| Climber::TOLERANCE)
    }

    pub(super) fn get(&self, aim: usize) -> Option<&Aim> {
        self.aims.get(aim)
    }

    pub(super) fn into_aims(self) -> Vec<Aim> {
        self.aims
    }

    /// The aim with the least expected cost. `hints` are aims that were best in
    /// like circumstances.
    pub(super) fn choose(
        &mut self,
        outlook: &Outlook,
        hints: impl Iterator<Item = usize>,
    ) -> Pick {
        let costs = self.aims.iter().take(self.fixed);
        let costs: Vec<f64> = costs
            .map(|aim| mean(&aim.chances, &outlook.excess))
            .collect();
        let best = least(&costs, outlook);
        if self.climber.is_none() {
            return self.pick(best, outlook);
        }
        let mut starts: Vec<usize> = hints.collect();
        let mut ranked: Vec<usize> = (0..self.fixed).collect();
        let cost = |aim: &usize| costs.get(*aim).copied().unwrap_or(f64::INFINITY);
        ranked.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
        starts.extend(ranked.into_iter().take(CLIMBS));
        self.climb(&starts, best, outlook)
    }

    /// Climbs from some aims, and keeps the best place that is found.
    fn climb(&mut self, starts: &[usize], best: usize, outlook: &Outlook) -> Pick {
        let mut best = self.pick(best, outlook);
        let Some(climber) = self.climber else {
            return best;
        };
        let hill = climber.hill(outlook);
        let mut seen: Vec<usize> = Vec::new();
        for start in starts {
            if seen.contains(start) {
                continue;
            }
            seen.push(*start);
            let Some(place) = self.aims.get(*start).map(|aim| aim.place) else {
                continue;
            };
            let from = self.pick(*start, outlook);
            if from.line.excess < best.line.excess {
                best = from;
            }
            let Some(top) = hill.climb(place, best.line.excess) else {
                continue;
            };
            let hits = climber.hits(top);
            self.aims.push(Aim::new(top, None, &hits));
            let found = self.pick(self.aims.len() - 1, outlook);
            if found.line.excess < best.line.excess {
                best = found;
            } else {
                self.aims.pop();
            }
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
    fn new(place: Point, bed: Option<Bed>, hits: &Hits) -> Self {
        let most = || hits.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        let bed = bed.or_else(|| most().map(|(bed, _)| bed));
        Self {
            place,
            bed: bed.unwrap_or(Bed::new(Band::InnerBull, 0)),
            chances: chances(hits),
        }
    }
}

/// The first of the least costs.
fn least(costs: &[f64], outlook: &Outlook) -> usize {
    let at_stake = outlook.excess.iter().fold(0.0, |most: f64, excess| most.max(excess.abs()));
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
