//! Closed boundaries, the area inside them, and how it changes.

use super::Curve;
use crate::board::{Edge, RingWire};
use crate::units::{Area, Length};

/// Which wire's edge a piece of boundary runs along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Side {
    /// An edge of a ring wire.
    Ring(RingWire, Edge),
    /// The clockwise edge of the sector wire with this index.
    SectorClockwise(usize),
    /// The anticlockwise edge of the sector wire with this index.
    SectorAnticlockwise(usize),
    /// A staple over this ring wire.
    Staple(RingWire),
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

    /// The area.
    pub fn area(&self) -> Area {
        self.pieces().map(|piece| piece.curve.swept_area()).sum()
    }

    /// How fast the area grows when the radius of each ring wire's edge grows,
    /// in mm² per mm, which is a length: the signed one of the arcs along it.
    /// (The change of an area is the integral of the boundary's normal
    /// movement.)
    pub fn rate_of_ring_edge(&self, wire: RingWire, edge: Edge) -> Length {
        let along = self
            .pieces()
            .filter(|piece| piece.side == Side::Ring(wire, edge));
        along
            .map(|piece| match piece.curve {
                Curve::Arc(arc) => arc.radius * arc.sweep.as_radians(),
                Curve::Segment(_) => Length::ZERO,
            })
            .sum()
    }

    /// How fast the area grows when every sector wire gets wider: minus half the
    /// length of its straight edges, since each side of a wire moves by half its
    /// width.
    pub fn rate_of_sector_width(&self) -> Length {
        let straight = self.pieces().filter(|piece| {
            matches!(
                piece.side,
                Side::SectorClockwise(_) | Side::SectorAnticlockwise(_)
            )
        });
        straight.map(|piece| piece.curve.length()).sum::<Length>() * -0.5
    }

    /// The largest gap between one piece's end and the next one's start:
    /// zero but for rounding in every region of a spider.
    pub fn largest_gap(&self) -> Length {
        let gap = |chain: &Vec<Boundary>| {
            let next = chain.iter().cycle().skip(1);
            let gaps = chain
                .iter()
                .zip(next)
                .map(|(a, b)| (b.curve.start() - a.curve.end()).norm());
            gaps.fold(0.0, f64::max)
        };
        Length::mm(self.loops.iter().map(gap).fold(0.0, f64::max))
    }
}
