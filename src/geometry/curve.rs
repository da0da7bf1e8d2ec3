//! Directed arcs and straight segments, the pieces of every boundary.

use std::ops::{Add, Mul, Sub};

use crate::units::{Angle, Area, Length, NotFinite};

/// A place on the face of the board, or a step from one place to another.
///
/// ```
/// use ringrule::geometry::Point;
/// use ringrule::units::Length;
///
/// let place = Point::try_mm(3.0, 4.0)?;
/// assert_eq!(place.y(), Length::mm(4.0));
/// assert_eq!(place.distance(), Length::mm(5.0));
/// assert!(Point::try_mm(f64::NAN, 0.0).is_err());
/// # Ok::<(), ringrule::units::NotFinite>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    // Plain numbers of millimetres: the integrals of `play` run over them.
    pub(crate) x: f64,
    pub(crate) y: f64,
}

impl Point {
    /// Where the sector wires' lines meet.
    pub const ORIGIN: Self = Self { x: 0.0, y: 0.0 };

    /// So many millimetres to the right and upwards.
    pub const fn mm(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The same for numbers that come from outside: infinities and what is not
    /// a number are refused.
    pub fn try_mm(x: f64, y: f64) -> Result<Self, NotFinite> {
        let (x, y) = (Length::try_mm(x)?, Length::try_mm(y)?);
        Ok(Self::mm(x.as_mm(), y.as_mm()))
    }

    /// How far to the right.
    pub const fn x(self) -> Length {
        Length::mm(self.x)
    }

    /// How far up.
    pub const fn y(self) -> Length {
        Length::mm(self.y)
    }

    /// Distance from the origin.
    pub fn distance(self) -> Length {
        Length::mm(self.norm())
    }

    /// Of a direction or of numbers that have no unit.
    pub(crate) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The product |a||b| cos of the angle between.
    pub(crate) fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The product |a||b| sin of the angle from `self` to `other`.
    pub(crate) fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Distance from the origin, in mm.
    pub(crate) fn norm(self) -> f64 {
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
    /// Radius of the circle.
    pub radius: Length,
    /// Where it starts, anticlockwise from the x axis.
    pub start: Angle,
    /// How far it runs; positive is anticlockwise.
    pub sweep: Angle,
}

/// Which way round an arc runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// Anticlockwise, as the outline of a region runs.
    Anticlockwise,
    /// Clockwise, as the outline of a hole runs.
    Clockwise,
}

impl Turn {
    const fn sign(self) -> f64 {
        match self {
            Self::Anticlockwise => 1.0,
            Self::Clockwise => -1.0,
        }
    }
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
    /// The arc of a circle from one point on it to another. The points are taken to lie on the circle.
    pub fn between(centre: Point, radius: Length, from: Point, to: Point, way: Turn) -> Self {
        let sign = way.sign();
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
            start: Angle::radians(libm::atan2(a.y, a.x)),
            sweep: Angle::radians(sweep),
        }
    }

    /// A whole circle.
    pub const fn full(centre: Point, radius: Length, way: Turn) -> Self {
        Self {
            centre,
            radius,
            start: Angle::ZERO,
            sweep: Angle::radians(way.sign() * Angle::FULL_TURN.as_radians()),
        }
    }

    /// The point after a share of the sweep from 0 to 1.
    pub fn at(&self, share: f64) -> Point {
        let angle = self.start.as_radians() + share * self.sweep.as_radians();
        self.centre + Point::new(libm::cos(angle), libm::sin(angle)) * self.radius.as_mm()
    }

    /// The same arc from its end to its start.
    pub(super) fn reversed(self) -> Self {
        Self {
            start: self.start + self.sweep,
            sweep: -self.sweep,
            ..self
        }
    }

    /// After which share of the sweep the arc passes the bearing of a point as
    /// seen from its centre; beyond 0 to 1 where it does not. Of an arc of less
    /// than half a turn.
    pub(super) fn share(&self, point: Point) -> f64 {
        let (a, b) = (self.at(0.0) - self.centre, point - self.centre);
        libm::atan2(a.cross(b), a.dot(b)) / self.sweep.as_radians()
    }
}

impl Curve {
    /// The same piece from its end to its start.
    pub(super) fn reversed(self) -> Self {
        match self {
            Self::Arc(arc) => Self::Arc(arc.reversed()),
            Self::Segment(Segment { from, to }) => Self::Segment(Segment { from: to, to: from }),
        }
    }

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

    /// How long it is.
    pub fn length(&self) -> Length {
        match self {
            Self::Arc(arc) => arc.radius * arc.sweep.as_radians().abs(),
            Self::Segment(segment) => (segment.to - segment.from).distance(),
        }
    }

    /// ½∫(x dy − y dx) along the curve: the curve's share of the area
    /// of whatever it encloses (Green's theorem).
    pub fn swept_area(&self) -> Area {
        Area::mm2(match self {
            Self::Segment(segment) => 0.5 * segment.from.cross(segment.to),
            Self::Arc(arc) => {
                let radius = arc.radius.as_mm();
                let disc = radius * radius * arc.sweep.as_radians();
                let shift = if arc.centre == Point::ORIGIN {
                    0.0
                } else {
                    arc.centre.cross(arc.at(1.0) - arc.at(0.0))
                };
                0.5 * (disc + shift)
            }
        })
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
        let radius = Length::mm(2.0_f64.sqrt());
        let short = Arc::between(Point::ORIGIN, radius, a, b, Turn::Anticlockwise);
        assert!((short.sweep.as_radians() - FRAC_PI_2).abs() < 1e-15);
        let long = Arc::between(Point::ORIGIN, radius, a, b, Turn::Clockwise);
        assert!((long.sweep.as_radians() + 3.0 * FRAC_PI_2).abs() < 1e-15);
        assert!((short.at(1.0) - b).norm() < 1e-15);
        assert!((long.at(1.0) - b).norm() < 1e-15);
    }

    #[test]
    fn a_full_circle_sweeps_its_disc_wherever_it_lies() {
        for centre in [Point::ORIGIN, Point::new(3.0, -4.0)] {
            let circle = Curve::Arc(Arc::full(centre, Length::mm(2.0), Turn::Anticlockwise));
            assert!((circle.swept_area().as_mm2() - 4.0 * PI).abs() < 1e-12);
            assert!((circle.length().as_mm() - 2.0 * TAU).abs() < 1e-12);
        }
    }
}
