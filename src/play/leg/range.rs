//! The aims that a player may choose from, and the choice.

use rayon::prelude::*;

use super::aim::{Aim, Pick, middles};
use super::chart::Chart;
use super::climb::{Climber, Place, Reached, SAME_HILL, Top};
use super::lead::Lead;
use super::line::{Line, Outlook};
use super::outcome::{chances, mean};
use crate::board::Band;
use crate::geometry::{Bed, Point};
use crate::play::{Setup, Spread, Throw};

/// Aims whose costs differ by less than this share of what is at stake tie.
const TIE: f64 = 1e-13;
/// Places nearer to a better one than this, in spreads, are not
/// climbed from: they are on its hill, and would take the place of others. With
/// less, a leg with a spread of 20 mm took 5e-6 darts more than with starts from a
/// grid all over the board; with this, the two agree to 1e-9.
const APART: f64 = 1.2;
/// How many places are climbed from, the best ones first.
const CLIMBS: usize = 8;

/// The aims that may be chosen. Of tied ones the first in this order is taken:
/// trebles, inner bull, doubles, outer singles, inner singles, each from 20
/// down (house rule).
#[derive(Debug)]
pub(super) struct Range<'a> {
    aims: Vec<Aim>,
    /// How many of them were there from the start: middles first.
    fixed: usize,
    climber: Option<Climber<'a>>,
    /// Of the last of the fixed ones, where there is one.
    chart: Chart,
    /// The middles of all beds, and places round the 25 ring: what aims are named by.
    names: Vec<(Point, Bed)>,
    /// What climbs start from, aim by aim; empty without a climber.
    places: Vec<Place>,
    /// Where each of them was best, if it was.
    leads: Vec<Option<Lead>>,
}

/// What is asked of a range: what is best under an outlook, and which aims were best in like
/// circumstances.
pub(super) struct Question {
    pub(super) outlook: Outlook,
    pub(super) hints: Vec<usize>,
}

/// What a search has led to, and by how much it leads.
struct Found {
    best: Best,
    /// Unless what is known of its lead stays.
    by: Option<f64>,
}

enum Best {
    Known(usize),
    New(Box<(Aim, Place)>),
}

/// Where a search climbs from.
struct Starts {
    aims: Vec<usize>,
    /// The least cost of what is like them and is not climbed from.
    next: f64,
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
            chart: Chart::default(),
            names: Vec::new(),
            places: Vec::new(),
            leads: Vec::new(),
        }
    }

    /// The whole board, searched to a tolerance in the unit of costs from the
    /// middles, from some places round the 25 ring, and where the spread is wide or long from
    /// a chart of it.
    pub(super) fn anywhere(setup: Setup<'a>, spread: Spread, tolerance: f64) -> Self {
        let climber = Climber::new(setup, spread, tolerance);
        let face = setup.face;
        let of_25 = Bed::new(Band::OuterBull, 0);
        let ring = face.places_around(of_25).into_iter();
        let named = middles().map(|bed| (face.middle(bed), bed));
        let names: Vec<_> = named.chain(ring.map(|place| (place, of_25))).collect();
        let (comb, scale) = (climber.surface.comb, climber.surface.scale);
        let chart = Chart::of(comb, scale);
        let named = names.iter().map(|(place, _)| scale.spreads(*place));
        let starts: Vec<Point> = named.collect();
        let starts = [starts.as_slice(), chart.places.as_slice()].concat();
        let places: Vec<Place> = starts
            .into_par_iter()
            .map(|start| climber.start(start))
            .collect();
        let aim = |place| Aim::of(place, scale, &names);
        let aims = places.iter().map(aim);
        let aims: Vec<Aim> = aims.collect();
        Self {
            fixed: aims.len(),
            aims,
            climber: Some(climber),
            chart,
            leads: vec![None; places.len()],
            names,
            places,
        }
    }

    /// Costs need not be known better than this.
    pub(super) fn tolerance(&self) -> f64 {
        let climber = self.climber.as_ref();
        climber.map_or(0.0, |climber| climber.tolerance)
    }

    /// Whether aims lie anywhere, and take long to be found.
    pub(super) const fn is_climbed(&self) -> bool {
        self.climber.is_some()
    }

    pub(super) fn get(&self, aim: usize) -> Option<&Aim> {
        self.aims.get(aim)
    }

    pub(super) fn into_aims(self) -> Vec<Aim> {
        self.aims
    }

    /// The aim with the least expected cost. `hints` are aims that were best in
    /// like circumstances.
    pub(super) fn choose(&mut self, outlook: &Outlook, hints: &[usize]) -> Pick {
        let found = self.search(outlook, hints);
        self.keep(found, outlook)
    }

    /// The same for some questions, each as if it were the only one: side by side, so that
    /// the answers do not depend on how many threads there are.
    pub(super) fn choose_each(&mut self, questions: &[Question]) -> Vec<Pick> {
        let search = |question: &Question| self.search(&question.outlook, &question.hints);
        let found: Vec<Found> = questions.par_iter().map(search).collect();
        let found = found.into_iter().zip(questions);
        found
            .map(|(found, question)| self.keep(found, &question.outlook))
            .collect()
    }

    fn search(&self, outlook: &Outlook, hints: &[usize]) -> Found {
        if let Some(found) = self.search_on_hill(outlook, hints) {
            return found;
        }
        let costs = self.aims.iter().take(self.fixed);
        let costs: Vec<f64> = costs
            .map(|aim| mean(&aim.chances, &outlook.excess))
            .collect();
        let best = least(&costs, outlook);
        let Some(climber) = &self.climber else {
            return Found {
                best: Best::Known(best),
                by: None,
            };
        };
        let (middles, charted) = costs
            .split_at_checked(self.fixed - self.chart.places.len())
            .unwrap_or((&costs, &[]));
        let mut starts = vec![Starts {
            aims: hints.to_vec(),
            next: f64::INFINITY,
        }];
        if !charted.is_empty() {
            starts.push(self.hills(climber, charted, outlook));
        }
        if charted.is_empty() || self.chart.coarse {
            starts.push(self.lowest(middles));
        }
        self.climb(climber, &starts, best, outlook)
    }

    /// Climbs on from an aim that was best, if its hill still is.
    fn search_on_hill(&self, outlook: &Outlook, hints: &[usize]) -> Option<Found> {
        let climber = self.climber.as_ref()?;
        let left = |aim: &usize| Some((*aim, self.leads.get(*aim)?.as_ref()?.left(outlook)?));
        let (aim, by) = hints.iter().find_map(left)?;
        let top = climber.climb(self.places.get(aim)?, outlook, f64::INFINITY, None);
        Some(match top.reached {
            Some(reached) => Found {
                best: self.new_best(climber, reached),
                by: Some(by),
            },
            None => Found {
                best: Best::Known(aim),
                by: None,
            },
        })
    }

    /// Climbs from some aims to the best place that is found.
    fn climb(
        &self,
        climber: &Climber<'_>,
        starts: &[Starts],
        best: usize,
        outlook: &Outlook,
    ) -> Found {
        // Where nothing is found that is better, the best of what is there.
        let mut best = self.pick(best, outlook);
        for start in starts.iter().flat_map(|starts| &starts.aims) {
            let from = self.pick(*start, outlook);
            if from.line.excess < best.line.excess {
                best = from;
            }
        }
        let (mut least, mut known, mut top) = (best.line.excess, None, None);
        let (mut climbed, mut hills) = (Vec::new(), Vec::<Top>::new());
        let mut next = f64::INFINITY;
        for starts in starts {
            let mut most = 0.0_f64;
            for start in &starts.aims {
                let Some(place) = self.places.get(*start) else {
                    continue;
                };
                if climbed.contains(start) {
                    continue;
                }
                climbed.push(*start);
                let mut found = climber.climb(place, outlook, least, known);
                most = most.max(mean(&place.chances, &outlook.excess) - found.cost);
                if found.cost <= least {
                    known = found.arrived;
                    if found.reached.is_some() {
                        (least, top) = (found.cost, found.reached.take());
                    }
                }
                hills.push(found);
            }
            // No climb from what is like them is taken to win more than these did.
            next = next.min(starts.next - most);
        }
        let at = known.unwrap_or(Point::new(f64::INFINITY, 0.0));
        let others = hills.iter().filter(|hill| {
            hill.arrived
                .is_none_or(|arrived| (arrived - at).norm() > SAME_HILL)
        });
        let by = others.fold(next, |by, hill| by.min(hill.bound)) - least;
        Found {
            best: match top {
                Some(reached) => self.new_best(climber, reached),
                None => Best::Known(best.aim),
            },
            by: Some(by),
        }
    }

    fn new_best(&self, climber: &Climber<'_>, reached: Reached) -> Best {
        let place = climber.place(reached);
        let aim = Aim::of(&place, climber.surface.scale, &self.names);
        Best::New(Box::new((aim, place)))
    }

    /// Adds what was found to the aims, where it is new, and notes its lead.
    fn keep(&mut self, found: Found, outlook: &Outlook) -> Pick {
        let aim = match found.best {
            Best::Known(aim) => aim,
            Best::New(new) => {
                let (aim, place) = *new;
                self.aims.push(aim);
                self.places.push(place);
                self.leads.push(None);
                self.aims.len() - 1
            }
        };
        if let Some(by) = found.by {
            self.lead(aim, outlook, by);
        }
        self.pick(aim, outlook)
    }

    fn lead(&mut self, aim: usize, outlook: &Outlook, by: f64) {
        if let Some(lead) = self.leads.get_mut(aim) {
            let excess = outlook.excess;
            *lead = (by > 0.0).then_some(Lead { excess, by });
        }
    }

    /// The middles with the lowest costs, the lowest first, each some way
    /// from the others.
    fn lowest(&self, costs: &[f64]) -> Starts {
        let mut ranked: Vec<(f64, usize)> = costs.iter().copied().zip(0..).collect();
        ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut starts: Vec<(usize, Point)> = Vec::with_capacity(CLIMBS);
        for (cost, aim) in ranked {
            let Some(place) = self.places.get(aim).map(|place| place.at) else {
                continue;
            };
            let close = |(_, other): &(usize, Point)| (*other - place).norm() < APART;
            if starts.iter().any(close) {
                continue;
            }
            if starts.len() == CLIMBS {
                return Starts::of(starts, cost);
            }
            starts.push((aim, place));
        }
        Starts::of(starts, f64::INFINITY)
    }

    /// The places of the chart from which the highest hills are seen, one for each.
    fn hills(&self, climber: &Climber<'_>, charted: &[f64], outlook: &Outlook) -> Starts {
        let first = self.fixed - charted.len();
        let seen = self.chart.lowest(charted).filter_map(|index| {
            let place = self.places.get(first + index)?;
            Some((first + index, climber.estimate(place, outlook)))
        });
        let mut seen: Vec<(usize, (Point, f64))> = seen.collect();
        seen.sort_by(|(_, a), (_, b)| a.1.total_cmp(&b.1));
        let mut hills: Vec<(usize, Point)> = Vec::with_capacity(CLIMBS);
        for (aim, (top, _)) in seen {
            let is_known = hills
                .iter()
                .any(|(_, other)| (*other - top).norm() < SAME_HILL);
            if !is_known && hills.len() < CLIMBS {
                hills.push((aim, top));
            }
        }
        // Under another outlook a hill may rise where there is none now.
        let is_elsewhere = |place: Point| {
            hills.iter().all(|(_, top)| {
                let away = *top - place;
                away.dot(away) > APART * APART
            })
        };
        let mut next = f64::INFINITY;
        for (place, cost) in self.chart.places.iter().zip(charted) {
            if *cost < next && is_elsewhere(*place) {
                next = *cost;
            }
        }
        Starts::of(hills, next)
    }

    fn pick(&self, aim: usize, outlook: &Outlook) -> Pick {
        let line = self.aims.get(aim).map_or(Line::VOID, |aim| Line {
            excess: mean(&aim.chances, &outlook.excess),
            leave: mean(&aim.chances, &outlook.leave),
        });
        Pick { aim, line }
    }
}

impl Starts {
    fn of(aims: Vec<(usize, Point)>, next: f64) -> Self {
        Self {
            aims: aims.into_iter().map(|(aim, _)| aim).collect(),
            next,
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
