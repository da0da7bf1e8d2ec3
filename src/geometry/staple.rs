//! Staples: metal across a ring wire, beyond the wire's own edges.

use super::rim::{Ray, Rim, between};
use super::{Boundary, Side};
use crate::board::RingWire;
use crate::units::{Angle, Length};

/// A staple over a ring wire. Its ends follow the ring: between 2 mm wide sides
/// that is 0.005 mm from straight at the bull and less further out.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Staple {
    /// The wire that it holds.
    pub ring: RingWire,
    /// Bearing of its middle, clockwise from the top.
    pub bearing: Angle,
    /// Its width, along the wire.
    pub width: Length,
    /// Its length, across the wire.
    pub length: Length,
}

impl Staple {
    /// A staple.
    pub const fn new(ring: RingWire, bearing: Angle, width: Length, length: Length) -> Self {
        Self {
            ring,
            bearing,
            width,
            length,
        }
    }

    /// The hole that it takes out of a bed: what lies between two rims, and
    /// between the bed's own sides if it has any.
    pub(super) fn hole(
        &self,
        inner: &Rim<'_>,
        outer: &Rim<'_>,
        bed: Option<(Ray, Ray)>,
    ) -> Option<Vec<Boundary>> {
        let half = self.width.as_mm() / 2.0;
        let side = Side::Staple(self.ring);
        let mut left = Ray::beside(self.bearing, -half, side);
        let mut right = Ray::beside(self.bearing, half, side);
        if let Some((bed_left, bed_right)) = bed {
            // Where the bed's side lies further in, it cuts the staple off.
            let clockwise = |a: &Ray, b: &Ray| {
                let (a, b) = (a.exit(outer)?, b.exit(outer)?);
                Some(a.point.cross(b.point) < 0.0)
            };
            let ahead = |ray: &Ray| ray.direction.dot(left.direction) > 0.0;
            if !ahead(&bed_left) || !ahead(&bed_right) {
                return None;
            }
            if clockwise(&left, &bed_left)? {
                left = bed_left;
            }
            if !clockwise(&right, &bed_right)? {
                right = bed_right;
            }
            if !clockwise(&left, &right)? {
                return None;
            }
        }
        let chain = between(&left, &right, inner, outer)?;
        let reversed = chain.into_iter().rev().map(|piece| Boundary {
            curve: piece.curve.reversed(),
            side: piece.side,
        });
        Some(reversed.collect())
    }
}
