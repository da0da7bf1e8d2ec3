//! The probability that a throw lands in a region, as one integral along its
//! boundary.
//!
//! Scale the plane so that the throw is standard normal about the origin. By
//! Green's theorem the probability of the region is (1/2π)∮(1 − e^(−ρ²/2)) dφ with
//! dφ = (x dy − y dx)/ρ². With t = ρ²/2 the integrand is ½·g(t)·(x dy − y dx),
//! and g(t) = (1 − e^(−t))/t is smooth everywhere, the aim itself included.
//!
//! The same nodes give the derivatives: when the region shifts, the probability
//! changes by the density times the boundary's normal movement.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::Throw;
use super::decay::mean_of_decay;
use super::gauss::{LONGEST, MOST, rule};
use crate::geometry::{Arc, Curve, Point, Region};

/// Beyond this many spreads the density is taken to be nothing: the mass out
/// there is e^(−32), about 1e-14.
pub(super) const FAR: f64 = 8.0;

/// The probability, 0 to 1, that a throw lands in a region; right to 1e-10 for any
/// spread that can be constructed.
pub fn probability(throw: &Throw, region: &Region) -> f64 {
    let plane = Plane::of(throw);
    let (mut sums, mut turns) = (Sums::default(), Turns::default());
    for piece in region.pieces() {
        plane.integrate::<false>(&piece.curve, &mut turns, &mut sums);
    }
    sums.value.clamp(0.0, 1.0)
}

/// Integrals along a curve, in the scaled plane.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sums {
    /// The curve's share of the probability.
    pub(super) value: f64,
    /// Of its derivatives by a shift of the region, x and y.
    pub(super) slope: [f64; 2],
    /// Of its second derivatives, xx, xy and yy.
    pub(super) bend: [f64; 3],
}

impl Sums {
    pub(super) fn add(&mut self, factor: f64, other: &Self) {
        self.value += factor * other.value;
        for (mine, theirs) in self.slope.iter_mut().zip(other.slope) {
            *mine += factor * theirs;
        }
        for (mine, theirs) in self.bend.iter_mut().zip(other.bend) {
            *mine += factor * theirs;
        }
    }
}

/// The plane, scaled so that a throw is standard normal about the origin: the
/// inverse of the covariance's Cholesky factor, a lower triangle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Plane {
    aim: Point,
    xx: f64,
    yx: f64,
    yy: f64,
    /// Scaled lengths are at most this times lengths in mm.
    stretch: f64,
    /// Scaled lengths are at least this times lengths in mm.
    shrink: f64,
}

impl Plane {
    pub(super) fn of(throw: &Throw) -> Self {
        let spread = throw.spread;
        let across = libm::sqrt((1.0 - spread.rho()) * (1.0 + spread.rho()));
        Self {
            aim: throw.aim,
            xx: 1.0 / spread.sigma_x(),
            yx: -spread.rho() / (across * spread.sigma_x()),
            yy: 1.0 / (across * spread.sigma_y()),
            stretch: 1.0 / spread.smallest(),
            shrink: 1.0 / spread.largest(),
        }
    }

    /// Whether a disc lies wholly beyond what the throw reaches.
    pub(super) fn is_beyond(&self, centre: Point, radius: f64) -> bool {
        let clear = FAR / self.shrink + radius;
        let away = centre - self.aim;
        if away.dot(away) > clear * clear {
            return true;
        }
        // Across a long spread a throw does not reach as far as along it.
        let place = self.scaled(away);
        place.x.abs() > FAR + self.xx * radius
            || place.y.abs() > FAR + libm::hypot(self.yx, self.yy) * radius
    }

    /// A difference of places, in mm, as one in the scaled plane.
    fn scaled(&self, step: Point) -> Point {
        Point::new(self.xx * step.x, self.yx * step.x + self.yy * step.y)
    }

    /// Derivatives by a shift of the region in the scaled plane as derivatives
    /// by the aim, in 1/mm: the region shifts against the aim.
    pub(super) fn slope_by_aim(&self, slope: [f64; 2]) -> [f64; 2] {
        let [x, y] = slope;
        [-(self.xx * x + self.yx * y), -self.yy * y]
    }

    /// Second derivatives by the aim, in 1/mm².
    pub(super) fn bend_by_aim(&self, bend: [f64; 3]) -> [f64; 3] {
        let [xx, xy, yy] = bend;
        [
            self.xx * self.xx * xx + 2.0 * self.xx * self.yx * xy + self.yx * self.yx * yy,
            self.yy * (self.xx * xy + self.yx * yy),
            self.yy * self.yy * yy,
        ]
    }

    /// Adds a curve's integrals; the derivatives only if `D`.
    pub(super) fn integrate<const D: bool>(
        &self,
        curve: &Curve,
        turns: &mut Turns,
        sums: &mut Sums,
    ) {
        match curve {
            Curve::Segment(segment) => {
                let from = self.scaled(segment.from - self.aim);
                let to = self.scaled(segment.to - self.aim);
                straight::<D>(from, to, sums);
            }
            Curve::Arc(arc) => {
                let half = 0.5 * arc.sweep.as_radians();
                self.bent::<D>(arc, arc.start.as_radians() + half, half, turns, sums);
            }
        }
    }

    /// Part of an arc, from `middle − half` to `middle + half`.
    fn bent<const D: bool>(
        &self,
        arc: &Arc,
        middle: f64,
        half: f64,
        turns: &mut Turns,
        sums: &mut Sums,
    ) {
        let radius = arc.radius.as_mm();
        let (sin, cos) = libm::sincos(middle);
        let centre = self.scaled(arc.centre - self.aim);
        let along = self.scaled(Point::new(cos, sin) * radius);
        let across = self.scaled(Point::new(-sin, cos) * radius);
        let length = 2.0 * half.abs() * radius * self.stretch;
        if is_far(centre + along, 0.5 * length) {
            let (sin, cos) = libm::sincos(half);
            let (out, side) = (centre + along * cos, across * sin);
            sums.value += angle(out - side, out + side) / TAU;
            return;
        }
        let parts = panels(length).max(panels(LONGEST * half.abs() * 2.0 / FRAC_PI_2));
        if parts > 1 {
            let share = half / f64::from(parts);
            for part in 0..parts {
                let offset = f64::from(2 * part + 1) * share - half;
                self.bent::<D>(arc, middle + offset, share, turns, sums);
            }
            return;
        }
        for &(sin, cos, weight) in turns.of(half, rule(length.max(2.0 * half.abs()))) {
            let place = centre + along * cos + across * sin;
            let step = (across * cos - along * sin) * weight;
            sums.take::<D>(place, step);
        }
    }
}

/// Sines, cosines and weights at the nodes of the arc before: the beds of a band
/// are bounded by arcs of one length, so the next one mostly needs the same.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Turns {
    half: f64,
    count: usize,
    values: [(f64, f64, f64); MOST],
}

impl Turns {
    /// Those of an arc of this half sweep, under a rule.
    // Exactly equal, bit for bit, or computed anew.
    #[allow(clippy::float_cmp)]
    fn of(&mut self, half: f64, rule: &[(f64, f64)]) -> &[(f64, f64, f64)] {
        if self.half != half || self.count != rule.len() {
            (self.half, self.count) = (half, rule.len());
            for (value, (node, weight)) in self.values.iter_mut().zip(rule) {
                let (sin, cos) = sincos_of_small(half * node);
                *value = (sin, cos, half * weight);
            }
        }
        self.values.get(..self.count).unwrap_or_default()
    }
}

/// A straight edge in the scaled plane.
fn straight<const D: bool>(from: Point, to: Point, sums: &mut Sums) {
    let middle = (from + to) * 0.5;
    let half = (to - from) * 0.5;
    let length = 2.0 * libm::sqrt(half.dot(half));
    if is_far(middle, 0.5 * length) {
        sums.value += angle(from, to) / TAU;
        return;
    }
    let parts = panels(length);
    if parts > 1 {
        let share = (to - from) * (1.0 / f64::from(parts));
        for part in 0..parts {
            let start = from + share * f64::from(part);
            straight::<D>(start, start + share, sums);
        }
        return;
    }
    for &(node, weight) in rule(length) {
        sums.take::<D>(middle + half * node, half * weight);
    }
}

/// Whether all within a distance of a place is out of reach, in the scaled
/// plane. Squares, since a root for every piece of boundary adds up.
fn is_far(place: Point, within: f64) -> bool {
    let clear = FAR + within;
    place.dot(place) > clear * clear
}

impl Sums {
    /// Adds the integrands at a place, times the step along the curve.
    #[inline]
    fn take<const D: bool>(&mut self, place: Point, step: Point) {
        let t = 0.5 * place.dot(place);
        let g = mean_of_decay(t);
        self.value += place.cross(step) * g * (0.5 / TAU);
        if D {
            let density = (1.0 - t * g) / TAU;
            // The normal times the step's length.
            let (x, y) = (density * step.y, -density * step.x);
            self.slope[0] += x;
            self.slope[1] += y;
            self.bend[0] -= place.x * x;
            self.bend[1] -= place.x * y;
            self.bend[2] -= place.y * y;
        }
    }
}

/// How many parts to cut a length in: panels of at most [`LONGEST`], but two
/// halves while it is long, so that what lies far off is never cut finely.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn panels(length: f64) -> u16 {
    if length > 3.0 * LONGEST {
        2
    } else {
        libm::ceil(length / (LONGEST * (1.0 + 1e-9))) as u16
    }
}

/// The angle from one place to another, seen from the origin, −π to π.
fn angle(from: Point, to: Point) -> f64 {
    libm::atan2(from.cross(to), from.dot(to))
}

/// Sine and cosine of an angle of at most an eighth of a turn: Taylor's
/// series, whose first term left out is below 1e-16 there.
#[inline]
fn sincos_of_small(angle: f64) -> (f64, f64) {
    let s = angle * angle;
    let mut sin = 1.0 - s * (1.0 / 210.0);
    sin = 1.0 - s * (1.0 / 156.0) * sin;
    sin = 1.0 - s * (1.0 / 110.0) * sin;
    sin = 1.0 - s * (1.0 / 72.0) * sin;
    sin = 1.0 - s * (1.0 / 42.0) * sin;
    sin = 1.0 - s * (1.0 / 20.0) * sin;
    sin = 1.0 - s * (1.0 / 6.0) * sin;
    let mut cos = 1.0 - s * (1.0 / 240.0);
    cos = 1.0 - s * (1.0 / 182.0) * cos;
    cos = 1.0 - s * (1.0 / 132.0) * cos;
    cos = 1.0 - s * (1.0 / 90.0) * cos;
    cos = 1.0 - s * (1.0 / 56.0) * cos;
    cos = 1.0 - s * (1.0 / 30.0) * cos;
    cos = 1.0 - s * (1.0 / 12.0) * cos;
    (angle * sin, 1.0 - 0.5 * s * cos)
}
