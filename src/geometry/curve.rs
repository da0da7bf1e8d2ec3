//! Directed arcs and straight segments, the pieces of every boundary.

use std::ops::{Add, Mul, Sub};

/// A place on the face of the board, in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right, in mm.
    pub x: f64,
    /// Upwards, in mm.
    pub y: f64,
}

impl Point {
    /// Where the sector wires' lines meet.
    pub const ORIGIN: Self = Self { x: 0.0, y: 0.0 };

    /// From coordinates in mm.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The product |a||b| cos of the angle between.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The product |a||b| sin of the angle from `self` to `other`.
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Distance from the origin, in mm.
    pub fn norm(self) -> f64 {
        libm::hypot(self.x, self.y)
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Point {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor)
    }
}

/// Part of a circle, run through in the direction of its sweep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Point,
    /// Radius of the circle, in mm.
    pub radius: f64,
    /// Where it starts, in radians anticlockwise from the x axis.
    pub start: f64,
    /// How far it runs, in radians; positive is anticlockwise.
    pub sweep: f64,
}

/// A straight edge, run through from `from` to `to`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// First end.
    pub from: Point,
    /// Second end.
    pub to: Point,
}

/// One piece of a boundary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    /// Along a ring wire.
    Arc(Arc),
    /// Along a sector wire.
    Segment(Segment),
}

impl Arc {
    /// The arc of a circle from one point on it to another, in the direction
    /// of `sign`. The points are taken to lie on the circle.
    pub fn between(centre: Point, radius: f64, from: Point, to: Point, sign: f64) -> Self {
        let (a, b) = (from - centre, to - centre);
        let turn = libm::atan2(a.cross(b), a.dot(b));
        let sweep = if turn * sign < 0.0 {
            turn + sign * std::f64::consts::TAU
        } else {
            turn
        };
        Self {
            centre,
            radius,
            start: libm::atan2(a.y, a.x),
            sweep,
        }
    }

    /// A whole circle; `sign` gives the direction.
    pub const fn full(centre: Point, radius: f64, sign: f64) -> Self {
        Self {
            centre,
            radius,
            start: 0.0,
            sweep: sign * std::f64::consts::TAU,
        }
    }

    /// The point after a share of the sweep from 0 to 1.
    pub fn at(&self, share: f64) -> Point {
        let angle = self.start + share * self.sweep;
        self.centre + Point::new(libm::cos(angle), libm::sin(angle)) * self.radius
    }
}

impl Curve {
    /// Where it starts.
    pub fn start(&self) -> Point {
        match self {
            Self::Arc(arc) => arc.at(0.0),
            Self::Segment(segment) => segment.from,
        }
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        match self {
            Self::Arc(arc) => arc.at(1.0),
            Self::Segment(segment) => segment.to,
        }
    }

    /// How long it is, in mm.
    pub fn length(&self) -> f64 {
        match self {
            Self::Arc(arc) => arc.radius * arc.sweep.abs(),
            Self::Segment(segment) => (segment.to - segment.from).norm(),
        }
    }

    /// ½∫(x dy − y dx) along the curve, in mm²: the curve's share of the area
    /// of whatever it encloses (Green's theorem).
    pub fn swept_area(&self) -> f64 {
        match self {
            Self::Segment(segment) => 0.5 * segment.from.cross(segment.to),
            Self::Arc(arc) => {
                let disc = arc.radius * arc.radius * arc.sweep;
                let shift = if arc.centre == Point::ORIGIN {
                    0.0
                } else {
                    arc.centre.cross(arc.at(1.0) - arc.at(0.0))
                };
                0.5 * (disc + shift)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI, TAU};

    #[test]
    fn an_arc_runs_the_way_it_is_told_across_the_seam_too() {
        // Across the ±180° seam of atan2, a quarter turn either way round.
        let (a, b) = (Point::new(-1.0, 1.0), Point::new(-1.0, -1.0));
        let radius = 2.0_f64.sqrt();
        let short = Arc::between(Point::ORIGIN, radius, a, b, 1.0);
        assert!((short.sweep - FRAC_PI_2).abs() < 1e-15);
        let long = Arc::between(Point::ORIGIN, radius, a, b, -1.0);
        assert!((long.sweep + 3.0 * FRAC_PI_2).abs() < 1e-15);
        assert!((short.at(1.0) - b).norm() < 1e-15);
        assert!((long.at(1.0) - b).norm() < 1e-15);
    }

    #[test]
    fn a_full_circle_sweeps_its_disc_wherever_it_lies() {
        for centre in [Point::ORIGIN, Point::new(3.0, -4.0)] {
            let circle = Curve::Arc(Arc::full(centre, 2.0, 1.0));
            assert!((circle.swept_area() - 4.0 * PI).abs() < 1e-12);
            assert!((circle.length() - 2.0 * TAU).abs() < 1e-12);
        }
    }
}
