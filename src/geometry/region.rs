//! Closed boundaries, the area inside them, and how it changes.

use super::{Curve, Point};
use crate::board::{Edge, RingWire};

/// Which wire's edge a piece of boundary runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// An edge of a ring wire.
    Ring(RingWire, Edge),
    /// The clockwise edge of the sector wire with this index.
    SectorClockwise(usize),
    /// The anticlockwise edge of the sector wire with this index.
    SectorAnticlockwise(usize),
}

/// A piece of boundary, and the wire's edge that it runs along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boundary {
    /// The piece.
    pub curve: Curve,
    /// The wire's edge.
    pub side: Side,
}

/// An area bounded by closed loops: outer ones run anticlockwise, holes
/// clockwise. An empty list of loops is the empty region.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    /// The loops, each a closed chain of pieces.
    pub loops: Vec<Vec<Boundary>>,
}

impl Region {
    /// Every piece of every loop.
    pub fn pieces(&self) -> impl Iterator<Item = &Boundary> {
        self.loops.iter().flatten()
    }

    /// The area, in mm².
    pub fn area(&self) -> f64 {
        self.pieces().map(|piece| piece.curve.swept_area()).sum()
    }

    /// How fast the area grows, in mm² per mm, when the radius of each ring
    /// wire's edge grows: the signed length of the arcs along it. (The change
    /// of an area is the integral of the boundary's normal movement.)
    pub fn rate_of_ring_edge(&self, wire: RingWire, edge: Edge) -> f64 {
        let along = self
            .pieces()
            .filter(|piece| piece.side == Side::Ring(wire, edge));
        along
            .map(|piece| match piece.curve {
                Curve::Arc(arc) => arc.radius * arc.sweep,
                Curve::Segment(_) => 0.0,
            })
            .sum()
    }

    /// How fast the area grows, in mm² per mm, when every sector wire gets
    /// wider: minus half the length of the straight edges, since each side of
    /// a wire moves by half its width.
    pub fn rate_of_sector_width(&self) -> f64 {
        let straight = self
            .pieces()
            .filter(|piece| matches!(piece.curve, Curve::Segment(_)));
        -0.5 * straight.map(|piece| piece.curve.length()).sum::<f64>()
    }

    /// The largest gap between one piece's end and the next one's start, in
    /// mm: zero but for rounding in every region of a spider.
    pub fn largest_gap(&self) -> f64 {
        let gap = |chain: &Vec<Boundary>| {
            let next = chain.iter().cycle().skip(1);
            let gaps = chain.iter().zip(next).map(|(a, b)| {
                let step: Point = b.curve.start() - a.curve.end();
                step.norm()
            });
            gaps.fold(0.0, f64::max)
        };
        self.loops.iter().map(gap).fold(0.0, f64::max)
    }
}
