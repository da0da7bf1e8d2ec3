//! The lengths of a board that tell which edges were touched.

use super::measure::measure;
use super::plausible::{Expected, KINDS};
use crate::board::{Band, Construction, Edge, InputId, Linear, PerRing, Quantity, RingWire};
use crate::table::{Demand, Interval, Limit, Measurand};
use crate::units::Uncertainty;

/// The standard uncertainty, in mm, of a radius, diameter or width that states
/// none: U of 0.1 mm, what a hand reading of a calliper is trusted to. House
/// rule. Wires that state none count as exact.
const UNSTATED: f64 = 0.05;

/// The least excess, in mm, that is one: the noise of the arithmetic. House
/// rule.
const LEAST: f64 = 1e-6;

/// A length that the edges of some wires move.
pub(super) struct Evidence {
    /// The wires.
    pub(super) rings: Vec<RingWire>,
    /// What there is to say for each choice of their edges, in the order of
    /// `Edge::ALL`, the last wire's changing fastest.
    cells: Vec<Cell>,
}

/// A length for one choice of edges.
pub(super) struct Cell {
    pub(super) densities: [f64; KINDS],
    pub(super) broken: bool,
}

/// A length as declared, not yet weighed.
struct Raw {
    form: Linear,
    value: f64,
    /// The expanded uncertainty, in mm.
    expanded: f64,
    expected: Expected,
    /// `None` for the difference of two ways to one length.
    interval: Option<Interval>,
}

impl Raw {
    const fn is_limit(&self) -> bool {
        self.interval.is_some()
    }

    /// Whether this value, in mm, breaks the limit by more than the expanded
    /// uncertainty: by less, noise would explain it.
    fn is_broken(&self, value: f64) -> bool {
        let Some(Interval { lower, upper }) = self.interval else {
            return false;
        };
        let below = lower.map_or(0.0, |lower| lower.as_mm() - value);
        let above = upper.map_or(0.0, |upper| value - upper.as_mm());
        below.max(above) > self.expanded
    }
}

/// The wires whose edges may be wrong, and every length that tells; `None` where
/// no limit is broken by more than the expanded uncertainty of its length.
pub(super) fn gather(
    construction: &Construction,
    limits: &[&Limit],
) -> Option<(Vec<Candidate>, Vec<Evidence>)> {
    let raw = raw(construction, limits);
    if !raw.iter().any(|raw| raw.is_broken(raw.value)) {
        return None;
    }
    let candidates: Vec<Candidate> = RingWire::ALL
        .into_iter()
        .filter_map(|ring| Candidate::of(construction, ring))
        .collect();
    let evidence = weigh(&raw, &candidates);
    Some((candidates, evidence))
}

/// The lengths that refer to an edge, with what is expected of them.
fn raw(construction: &Construction, limits: &[&Limit]) -> Vec<Raw> {
    let mut all: Vec<Raw> = Vec::new();
    for limit in limits {
        let (Some(edge), Demand::Within(interval)) = (limit.edge, &limit.demand) else {
            continue;
        };
        for part in measure(construction, limit.measurand, edge).parts {
            let u = uncertainty(&part.form, construction);
            let Some(expected) = Expected::by(limit, *interval, u.standard()) else {
                continue;
            };
            let value = construction.value(&part.form);
            all.push(Raw {
                value: value.as_mm(),
                expanded: u.expanded().expanded.max(LEAST),
                expected,
                interval: Some(*interval),
                form: part.form.clone(),
            });
            if let Some(form) = misfit(construction, limit.measurand, edge) {
                let u = uncertainty(&form, construction);
                all.push(Raw {
                    value: construction.value(&form).as_mm(),
                    expanded: u.expanded().expanded,
                    expected: Expected::zero(u.standard()),
                    interval: None,
                    form,
                });
            }
        }
    }
    all
}

/// A width taken directly less that by the radii, where both were recorded.
fn misfit(construction: &Construction, measurand: Measurand, edge: Edge) -> Option<Linear> {
    let band = match measurand {
        Measurand::TrebleWidth => Band::Treble,
        Measurand::DoubleWidth => Band::Double,
        _ => return None,
    };
    let from_radii = construction.width_from_radii(band, edge)?;
    let form = construction
        .width_direct(band, edge)?
        .plus(-1.0, &from_radii);
    (!form.terms().is_empty()).then_some(form)
}

/// The uncertainty of a length, the house value standing in where none is
/// stated.
fn uncertainty(form: &Linear, construction: &Construction) -> Uncertainty {
    if let Some(stated) = form.uncertainty(&construction.inputs) {
        return stated;
    }
    Uncertainty::combined(form.terms().iter().filter_map(|&(id, factor)| {
        let input = construction.input(id)?;
        let unstated = if input.quantity.is_wire() {
            0.0
        } else {
            UNSTATED
        };
        let u = input.uncertainty.unwrap_or(Uncertainty::finite(unstated));
        Some((factor, u))
    }))
}

/// A wire whose own radius or diameter was measured, and whose thickness is
/// known: what could have been taken to another edge.
pub(super) struct Candidate {
    pub(super) ring: RingWire,
    input: InputId,
    pub(super) declared: Edge,
    /// The thickness, in mm.
    width: f64,
    /// What its measured length is times to be its radius.
    factor: f64,
}

impl Candidate {
    fn of(construction: &Construction, ring: RingWire) -> Option<Self> {
        let place = construction.rings[ring].as_ref()?;
        let width = construction.ring_wires[ring].as_ref()?;
        let &[(id, factor)] = place.radius.terms() else {
            return None;
        };
        let own = construction.input(id)?.quantity;
        matches!(own, Quantity::Ring(of, _) if of == ring).then(|| Self {
            ring,
            input: id,
            declared: place.edge,
            width: construction.value(width).as_mm(),
            factor,
        })
    }

    /// How a length moves if this wire was taken to an edge, in mm.
    fn shift(&self, coefficient: f64, edge: Edge) -> f64 {
        let widths = edge.apex_offset() - self.declared.apex_offset();
        coefficient / self.factor * widths * self.width
    }
}

/// Works out every choice of edges for each length.
fn weigh(all: &[Raw], candidates: &[Candidate]) -> Vec<Evidence> {
    let moved: Vec<Vec<(&Candidate, f64)>> = all
        .iter()
        .map(|raw| {
            let coefficient = |candidate: &Candidate| {
                let mut terms = raw.form.terms().iter();
                let term = terms.find(|&&(id, _)| id == candidate.input);
                term.map(|&(_, coefficient)| coefficient)
            };
            let with = |candidate| Some((candidate, coefficient(candidate)?));
            candidates.iter().filter_map(with).collect()
        })
        .collect();
    let weigh = |(index, raw): (usize, &Raw)| {
        let own = moved.get(index)?;
        let narrower = |(other, that): (usize, &Raw)| {
            let scale = moved.get(other).and_then(|that| proportion(own, that))?;
            let (own, that) = (raw.expected.half(), that.expected.half() / scale);
            let first = that.total_cmp(&own).then(other.cmp(&index)).is_lt();
            first.then_some(())
        };
        // Two limits on one length are one piece of evidence: the narrower.
        let mut others = all.iter().enumerate().filter(|(_, that)| that.is_limit());
        let repeated = raw.is_limit() && others.any(|other| narrower(other).is_some());
        let choices = 3_usize.pow(u32::try_from(own.len()).ok()?);
        let cells = (0..choices).map(|choice| {
            let mut rest = choice;
            let shift = |(candidate, coefficient): &(&Candidate, f64)| {
                let edge = Edge::ALL.get(rest % 3).copied();
                rest /= 3;
                edge.map_or(0.0, |edge| candidate.shift(*coefficient, edge))
            };
            let value = raw.value + own.iter().rev().map(shift).sum::<f64>();
            Cell {
                densities: if repeated {
                    [1.0; KINDS]
                } else {
                    raw.expected.densities(value)
                },
                broken: raw.is_broken(value),
            }
        });
        Some(Evidence {
            rings: own.iter().map(|(candidate, _)| candidate.ring).collect(),
            cells: cells.collect(),
        })
    };
    all.iter().enumerate().filter_map(weigh).collect()
}

/// How many times one length moves as much as the other with the edges of
/// wires; `None` if they do not move together.
fn proportion(one: &[(&Candidate, f64)], other: &[(&Candidate, f64)]) -> Option<f64> {
    let ((_, first), (_, second)) = (one.first()?, other.first()?);
    let scale = second / first;
    let together = |((a, x), (b, y)): (&(&Candidate, f64), &(&Candidate, f64))| {
        a.ring == b.ring && (x * scale - y).abs() < 1e-9
    };
    let all = one.len() == other.len() && one.iter().zip(other).all(together);
    all.then_some(scale.abs())
}

impl Evidence {
    /// The greatest densities that any choice of edges gives.
    pub(super) fn greatest(&self) -> [f64; KINDS] {
        let mut greatest = [0.0_f64; KINDS];
        for cell in &self.cells {
            for (most, density) in greatest.iter_mut().zip(cell.densities) {
                *most = most.max(density);
            }
        }
        greatest
    }

    /// What there is to say of it if the wires were taken to these edges.
    pub(super) fn cell(&self, taken: &PerRing<Edge>) -> Option<&Cell> {
        let digits = self.rings.iter().map(|&ring| taken[ring] as usize);
        self.cells
            .get(digits.fold(0, |index, digit| 3 * index + digit))
    }
}
