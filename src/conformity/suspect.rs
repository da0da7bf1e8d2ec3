//! The classic mistake: a radius taken to one edge and declared as another.
//!
//! Every way in which the declared edges could be wrong is weighed against
//! their being right: how probable are the measured lengths under each, on a
//! board that was made to the table's limits? A ratio of two such probability
//! densities is a Bayes factor. A suspicion is a question put to whoever
//! measured, so it is raised only where one answer is far more likely than
//! right edges, and more likely than any other answer.

use super::evidence::{Evidence, gather};
use super::plausible::{KINDS, together};
use crate::board::{Construction, Edge, PerRing, RingWire};
use crate::table::Limit;

/// Wires whose declared edge looks wrong: with another one, limits that are
/// broken would be met.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Suspicion {
    /// The wires and the edges that would fit.
    pub redeclared: Vec<Redeclared>,
    /// How many broken limits would be met.
    pub cured: usize,
    /// How many limits that refer to an edge would still be broken.
    pub left: usize,
    /// How many times more likely the measured lengths are if the wires were
    /// taken to the edges that would fit than if to those declared.
    pub likelihood_ratio: f64,
}

/// Wires that share a declared edge and would share another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Redeclared {
    /// The ring wires.
    pub rings: Vec<RingWire>,
    /// The edge that the file declares.
    pub declared: Edge,
    /// The edge that would fit.
    pub fitting: Edge,
}

/// How many times more likely than right edges an alternative must be, after
/// it was weighted for how many alternatives there are: 160 times, for one of
/// four wires. House rule, from simulations of sound boards near their limits
/// and of boards with wrong edges (`tests/edges.rs`), as are the next four.
const CONVINCING: f64 = 10.0;

/// How many times more likely it must be than the next one.
const CLEAR: f64 = 1.5;

/// The weight of a further kind of mistake beside a first one.
const ANOTHER: f64 = 0.1;

/// The weight of taking an apex for a side of the wire, or the other way
/// round, beside that of taking one side for the other.
const HALF: f64 = 0.25;

/// The weight of every wire of a board being taken to the other side, or every
/// one to the apex: one habit, whatever edges are declared.
const EVERY: f64 = 0.1;

/// Looks for the wires whose edges were most likely declared wrongly. Nothing
/// is said where no limit is broken by more than the expanded uncertainty of
/// its length: noise would explain it.
pub(super) fn suspect(construction: &Construction, limits: &[&Limit]) -> Option<Suspicion> {
    let (candidates, evidence) = gather(construction, limits)?;
    let free: Vec<RingWire> = candidates
        .iter()
        .map(|candidate| candidate.ring)
        .filter(|ring| evidence.iter().any(|e| e.rings.contains(ring)))
        .collect();
    let mut declared = PerRing::from_fn(|_| Edge::Apex);
    for candidate in &candidates {
        declared[candidate.ring] = candidate.declared;
    }
    let best = search(&evidence, &free, &declared)?;
    let broken = |taken: &PerRing<Edge>| {
        let cells = evidence.iter().filter_map(|e| e.cell(taken));
        cells.filter(|cell| cell.broken).count()
    };
    let (before, left) = (broken(&declared), broken(&best.taken));
    (left < before).then(|| Suspicion {
        redeclared: redeclared(&free, &declared, &best.taken),
        cured: before - left,
        left,
        likelihood_ratio: best.likelihood_ratio,
    })
}

/// The edges that were most likely touched.
struct Best {
    taken: PerRing<Edge>,
    likelihood_ratio: f64,
}

/// Goes through every choice of edges, wire by wire, and leaves out what cannot
/// become one of the two most likely.
struct Search<'e> {
    free: &'e [RingWire],
    declared: &'e PerRing<Edge>,
    steps: Vec<Step<'e>>,
    /// The density of the measured lengths with the edges that are declared.
    as_declared: f64,
    best: Option<(f64, Best)>,
    /// The score that a choice must surpass to matter.
    floor: f64,
}

/// The choice of one wire's edge.
struct Step<'e> {
    ring: RingWire,
    /// The lengths that no later wire moves.
    settled: Vec<&'e Evidence>,
    /// The greatest densities that all later steps could give.
    rest: [f64; KINDS],
}

/// Weighs every choice of edges; `None` if none is convincing and clear.
fn search(evidence: &[Evidence], free: &[RingWire], declared: &PerRing<Edge>) -> Option<Best> {
    let mut rest = [1.0; KINDS];
    let mut steps = Vec::with_capacity(free.len());
    for (index, &ring) in free.iter().enumerate().rev() {
        let later = free.get(index + 1..).unwrap_or_default();
        let is_settled = |evidence: &&Evidence| {
            evidence.rings.contains(&ring) && !evidence.rings.iter().any(|r| later.contains(r))
        };
        let settled: Vec<&Evidence> = evidence.iter().filter(is_settled).collect();
        let greatest = settled.iter().map(|evidence| evidence.greatest());
        let before = greatest.fold(rest, times);
        steps.push(Step {
            ring,
            settled,
            rest,
        });
        rest = before;
    }
    steps.reverse();
    let densities = |evidence: &Evidence| evidence.cell(declared).map(|cell| cell.densities);
    let as_declared = evidence.iter().filter_map(densities);
    let still = evidence.iter().filter(|evidence| evidence.rings.is_empty());
    let still = still.filter_map(densities).fold([1.0; KINDS], times);
    let mut search = Search {
        free,
        declared,
        steps,
        as_declared: together(as_declared.fold([1.0; KINDS], times)),
        best: None,
        floor: CONVINCING / CLEAR,
    };
    search.choose(0, still, &mut declared.clone());
    let (score, best) = search.best?;
    // The floor is the next one's score, or too low to matter.
    (score >= CONVINCING && score >= CLEAR * search.floor).then_some(best)
}

impl Search<'_> {
    /// Chooses the edge of one wire after the other.
    fn choose(&mut self, step: usize, so_far: [f64; KINDS], taken: &mut PerRing<Edge>) {
        let Some(Step { ring, rest, .. }) = self.steps.get(step) else {
            self.weigh(so_far, taken);
            return;
        };
        let (ring, rest) = (*ring, *rest);
        for edge in Edge::ALL {
            taken[ring] = edge;
            let settled = self
                .steps
                .get(step)
                .into_iter()
                .flat_map(|step| &step.settled);
            let cells = settled.filter_map(|evidence| evidence.cell(taken));
            let now = cells.map(|cell| cell.densities).fold(so_far, times);
            // No choice weighs more than one.
            if together(times(now, rest)) > self.floor * self.as_declared {
                self.choose(step + 1, now, taken);
            }
        }
        taken[ring] = self.declared[ring];
    }

    fn weigh(&mut self, densities: [f64; KINDS], taken: &PerRing<Edge>) {
        if taken == self.declared {
            return;
        }
        let likelihood_ratio = together(densities) / self.as_declared;
        let score = likelihood_ratio * weight(self.free, self.declared, taken);
        let least = self.best.as_ref().map_or(0.0, |(score, _)| *score);
        if score <= least {
            self.floor = self.floor.max(score);
            return;
        }
        self.floor = self.floor.max(least);
        let taken = taken.clone();
        let best = Best {
            taken,
            likelihood_ratio,
        };
        self.best = Some((score, best));
    }
}

fn times(one: [f64; KINDS], other: [f64; KINDS]) -> [f64; KINDS] {
    std::array::from_fn(|kind| {
        let factor = |of: [f64; KINDS]| of.get(kind).copied().unwrap_or(1.0);
        factor(one) * factor(other)
    })
}

/// How plausible a mistake is before anything was measured. One mistake is made
/// with one, several or all of the wires that share a declared edge, each
/// number as likely as the next; of that many, half the time with neighbours,
/// half the time with any. The more choices there are, the less each weighs.
fn weight(free: &[RingWire], declared: &PerRing<Edge>, taken: &PerRing<Edge>) -> f64 {
    let half = |ring: &RingWire| taken[*ring] == Edge::Apex || declared[*ring] == Edge::Apex;
    let every = free.iter().all(|&ring| taken[ring] != declared[ring]);
    let halves = free.iter().filter(|ring| half(ring)).count();
    let habit = match (every, halves) {
        (true, 0) => EVERY,
        (true, _) if halves == free.len() => HALF * EVERY,
        _ => 0.0,
    };
    let mut weight = 1.0 / ANOTHER;
    for from in Edge::ALL {
        let share = free.iter().filter(|&&ring| declared[ring] == from);
        let share: Vec<Edge> = share.map(|&ring| taken[ring]).collect();
        for to in Edge::ALL.into_iter().filter(|&to| to != from) {
            let wrong = share.iter().filter(|&&edge| edge == to).count();
            if wrong == 0 {
                continue;
            }
            let of = share.len();
            let mut windows = share.windows(wrong);
            let together = windows.any(|some| some.iter().all(|&edge| edge == to));
            let runs = if together {
                1.0 / (of - wrong + 1) as f64
            } else {
                0.0
            };
            let any = 1.0 / choices(of, wrong);
            let apex = from == Edge::Apex || to == Edge::Apex;
            let half = if apex { HALF } else { 1.0 };
            weight *= ANOTHER * half * f64::midpoint(runs, any) / of as f64;
        }
    }
    weight.max(habit)
}

/// How many ways there are to choose some of several.
fn choices(of: usize, some: usize) -> f64 {
    let factor = |index: usize| (of - index) as f64 / (index + 1) as f64;
    (0..some).map(factor).product()
}

/// The wires that were taken to another edge than declared, by what they share.
fn redeclared(
    free: &[RingWire],
    declared: &PerRing<Edge>,
    taken: &PerRing<Edge>,
) -> Vec<Redeclared> {
    let mut steps = Vec::new();
    for from in Edge::ALL {
        for to in Edge::ALL.into_iter().filter(|&to| to != from) {
            let share = |ring: &RingWire| declared[*ring] == from && taken[*ring] == to;
            let rings: Vec<_> = free.iter().copied().filter(share).collect();
            if !rings.is_empty() {
                steps.push(Redeclared {
                    rings,
                    declared: from,
                    fitting: to,
                });
            }
        }
    }
    steps
}
