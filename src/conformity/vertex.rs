//! A vertex of the limits that stays the extreme while a board's wires vary.
//!
//! At an extreme as many limits hold with equality as there are lengths that
//! vary. While those limits stay the same, the vertex moves in proportion to the
//! thickness of wires that no limit is about. Whether it still is the extreme is
//! seen without a linear programme: every limit is met, and the slopes of the
//! area are a combination of the active limits with factors of the right sign
//! (Karush, Kuhn and Tucker; Chvátal, Linear Programming, 1983, from memory).

use microlp::OptimizationDirection;

use crate::board::{InputId, Linear};
use crate::table::Interval;

/// A limit that misses its bound by less, in mm, holds with equality. House rule:
/// above the rounding of the programmes, far below a micrometre.
const ACTIVE: f64 = 1e-7;

/// By how much, in mm, rounding may break a limit, and by how much a factor may
/// have the wrong sign, as a part of the largest slope. House rule.
const ROUNDING: f64 = 1e-9;

/// What the lengths of a programme are.
#[derive(Clone, Copy)]
pub(super) struct Lengths<'a> {
    /// Those that vary.
    pub(super) free: &'a [InputId],
    /// The wires that no limit is about, each with its index in the whole list.
    pub(super) wires: &'a [(InputId, usize)],
    /// The limits on both.
    pub(super) bounds: &'a [(Linear, Interval)],
}

/// An extreme of the limits at some thickness of the wires that they are not
/// about, and how it moves with each.
pub(super) struct Vertex {
    /// The lengths there, in mm.
    at: Vec<f64>,
    direction: f64,
    /// How fast each length grows with each wire.
    moves: Vec<Move>,
    /// For each active limit, whether it is an upper (1) or a lower one (−1), and
    /// its column of the inverse of the active limits' factors.
    active: Vec<(f64, Vec<f64>)>,
}

struct Move {
    wire: InputId,
    index: usize,
    rates: Vec<f64>,
}

/// Limits that hold with equality: factors of the lengths that vary, which side,
/// and factors of the wires.
struct Active {
    factors: Vec<f64>,
    side: f64,
    wires: Vec<f64>,
}

impl Vertex {
    /// Takes note of an extreme that a programme found; `None` where its active
    /// limits do not determine it.
    pub(super) fn found(
        at: Vec<f64>,
        lengths: Lengths<'_>,
        direction: OptimizationDirection,
    ) -> Option<Self> {
        let active = independent(candidates(&at, lengths), lengths.free.len())?;
        let inverse = inverse(&active)?;
        let moves = lengths.wires.iter().enumerate();
        let moves = moves.map(|(column, &(wire, index))| {
            let mut rates = vec![0.0; at.len()];
            // The active limits stay equal to their bounds.
            for (id, row) in lengths.free.iter().zip(&inverse) {
                let terms = row.iter().zip(&active);
                let rate = terms.filter_map(|(factor, limit)| {
                    limit.wires.get(column).map(|of_wire| -factor * of_wire)
                });
                *rates.get_mut(id.index())? = rate.sum();
            }
            *rates.get_mut(wire.index())? = 1.0;
            Some(Move { wire, index, rates })
        });
        let moves: Option<Vec<Move>> = moves.collect();
        let columns = active.iter().enumerate().map(|(column, limit)| {
            let column = inverse.iter().filter_map(|row| row.get(column).copied());
            (limit.side, column.collect())
        });
        Some(Self {
            direction: match direction {
                OptimizationDirection::Maximize => 1.0,
                OptimizationDirection::Minimize => -1.0,
            },
            active: columns.collect(),
            moves: moves?,
            at,
        })
    }

    /// Where it lies, in mm, with wires of these thicknesses; `None` if it breaks
    /// a limit there.
    pub(super) fn with(&self, unlimited: &[f64], lengths: Lengths<'_>) -> Option<Vec<f64>> {
        let mut at = self.at.clone();
        for of in &self.moves {
            let step = unlimited.get(of.index)? - self.at.get(of.wire.index())?;
            for (length, rate) in at.iter_mut().zip(&of.rates) {
                // Not a number are lengths that do not matter.
                if *rate != 0.0 {
                    *length += rate * step;
                }
            }
        }
        let positive = |id: &InputId| at.get(id.index()).is_some_and(|of| *of >= -ROUNDING);
        let met = |(form, interval): &(Linear, Interval)| {
            let value = form.at(&at);
            interval.lower.is_none_or(|b| value >= b.as_mm() - ROUNDING)
                && interval.upper.is_none_or(|b| value <= b.as_mm() + ROUNDING)
        };
        (lengths.free.iter().all(positive) && lengths.bounds.iter().all(met)).then_some(at)
    }

    /// Whether no other board within the limits lies farther along these slopes.
    pub(super) fn is_farthest(&self, slopes: &Linear, lengths: Lengths<'_>) -> bool {
        let slope = |id: &InputId| {
            let term = slopes.terms().iter().find(|(other, _)| other == id);
            term.map_or(0.0, |&(_, slope)| slope)
        };
        let own: Vec<f64> = lengths.free.iter().map(slope).collect();
        let largest = own.iter().fold(0.0_f64, |most, of| most.max(of.abs()));
        self.active.iter().all(|(side, column)| {
            let factor: f64 = own.iter().zip(column).map(|(a, b)| a * b).sum();
            self.direction * side * factor >= -ROUNDING * largest
        })
    }

    /// How fast what has these slopes grows with each wire, by its index in the
    /// whole list.
    pub(super) fn rates(&self, slopes: &Linear) -> impl Iterator<Item = (usize, f64)> {
        self.moves.iter().map(|of| (of.index, slopes.at(&of.rates)))
    }
}

/// Every limit that holds with equality, that no length is negative last.
fn candidates(at: &[f64], lengths: Lengths<'_>) -> Vec<Active> {
    let mut found = Vec::new();
    for (form, interval) in lengths.bounds {
        let factor = |id: InputId| {
            let term = form.terms().iter().filter(|(other, _)| *other == id);
            term.map(|&(_, factor)| factor).sum()
        };
        let sides = [(interval.lower, -1.0), (interval.upper, 1.0)];
        for (bound, side) in sides {
            if bound.is_some_and(|bound| (form.at(at) - bound.as_mm()).abs() <= ACTIVE) {
                found.push(Active {
                    factors: lengths.free.iter().map(|&id| factor(id)).collect(),
                    side,
                    wires: lengths.wires.iter().map(|&(id, _)| factor(id)).collect(),
                });
            }
        }
    }
    for id in lengths.free {
        if at.get(id.index()).is_some_and(|of| of.abs() <= ACTIVE) {
            let one = |other: &InputId| f64::from(u8::from(other == id));
            found.push(Active {
                factors: lengths.free.iter().map(one).collect(),
                side: -1.0,
                wires: vec![0.0; lengths.wires.len()],
            });
        }
    }
    found
}

/// As many independent ones of these as there are lengths; `None` if there are
/// fewer, or more: then it is not known which of them bind.
fn independent(candidates: Vec<Active>, lengths: usize) -> Option<Vec<Active>> {
    let varying = |limit: &Active| limit.factors.iter().any(|factor| *factor != 0.0);
    let active: Vec<Active> = candidates.into_iter().filter(varying).collect();
    (active.len() == lengths).then_some(active)
}

/// The inverse of their factors, by Gauss and Jordan with partial pivoting; `None`
/// where they depend on each other.
fn inverse(active: &[Active]) -> Option<Vec<Vec<f64>>> {
    let n = active.len();
    let unit = |row: usize| (0..n).map(move |column| f64::from(u8::from(column == row)));
    let rows = active.iter().enumerate();
    let mut rows: Vec<Vec<f64>> = rows
        .map(|(row, limit)| limit.factors.iter().copied().chain(unit(row)).collect())
        .collect();
    for column in 0..n {
        let size = |row: &[f64]| row.get(column).map_or(0.0, |of| of.abs());
        let below = rows.iter().enumerate().skip(column);
        let (pivot, _) = below.max_by(|a, b| size(a.1).total_cmp(&size(b.1)))?;
        rows.swap(column, pivot);
        let mut own = rows.get(column)?.clone();
        let head = own.get(column).copied().filter(|of| of.abs() > ROUNDING)?;
        for of in &mut own {
            *of /= head;
        }
        for (index, row) in rows.iter_mut().enumerate() {
            if index == column {
                row.clone_from(&own);
                continue;
            }
            let factor = row.get(column).copied()?;
            for (of, own) in row.iter_mut().zip(&own) {
                *of -= factor * own;
            }
        }
    }
    Some(
        rows.into_iter()
            .map(|row| row.into_iter().skip(n).collect())
            .collect(),
    )
}
