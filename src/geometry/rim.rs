//! The closed edges and the straight ones that a bed is cut out by.

use super::{Arc, Boundary, Curve, Outline, Point, Segment, Side, Turn};
use crate::units::{Angle, Length};

/// An edge of a ring wire: a circle, or a chain of arcs where the ring is not
/// round.
#[derive(Clone, Copy)]
pub(super) struct Rim<'s> {
    pub(super) centre: Point,
    pub(super) radius: Length,
    pub(super) side: Side,
    pub(super) outline: Option<&'s Outline>,
}

/// A point on a rim, and which of its arcs it lies on.
#[derive(Clone, Copy)]
pub(super) struct OnRim {
    pub(super) point: Point,
    arc: usize,
}

impl Rim<'_> {
    /// The parallel one, so much further out.
    pub(super) fn moved(self, by: Length) -> Self {
        Self {
            radius: self.radius + by,
            ..self
        }
    }

    fn arcs(&self) -> Vec<Arc> {
        match self.outline {
            Some(outline) => outline.arcs(self.centre, self.radius).collect(),
            None => vec![Arc::full(self.centre, self.radius, Turn::Anticlockwise)],
        }
    }

    fn boundary(&self, arc: Arc, way: Turn) -> Boundary {
        let curve = Curve::Arc(match way {
            Turn::Anticlockwise => arc,
            Turn::Clockwise => arc.reversed(),
        });
        Boundary {
            curve,
            side: self.side,
        }
    }

    /// All of it.
    pub(super) fn whole(&self, way: Turn) -> Vec<Boundary> {
        let mut arcs = self.arcs();
        if way == Turn::Clockwise {
            arcs.reverse();
        }
        let pieces = arcs.into_iter().map(|arc| self.boundary(arc, way));
        pieces.collect()
    }

    /// The way from one point on it to another.
    pub(super) fn between(&self, from: OnRim, to: OnRim, way: Turn) -> Vec<Boundary> {
        if self.outline.is_none() {
            let arc = Arc::between(self.centre, self.radius, from.point, to.point, way);
            let curve = Curve::Arc(arc);
            let side = self.side;
            return vec![Boundary { curve, side }];
        }
        let (start, end) = match way {
            Turn::Anticlockwise => (from, to),
            Turn::Clockwise => (to, from),
        };
        let arcs = self.arcs();
        let part = |arc: &Arc, a: Point, b: Point| {
            Arc::between(arc.centre, arc.radius, a, b, Turn::Anticlockwise)
        };
        let mut parts = Vec::new();
        let mut index = start.arc;
        // Every arc once, and the first a second time if the way goes round.
        for step in 0..=arcs.len() {
            let Some(arc) = arcs.get(index) else { break };
            let a = if step == 0 { start.point } else { arc.at(0.0) };
            let is_last = index == end.arc && (step > 0 || arc.share(a) <= arc.share(end.point));
            let b = if is_last { end.point } else { arc.at(1.0) };
            parts.push(part(arc, a, b));
            if is_last {
                break;
            }
            index = (index + 1) % arcs.len();
        }
        if way == Turn::Clockwise {
            parts.reverse();
        }
        let pieces = parts.into_iter().map(|arc| self.boundary(arc, way));
        pieces.collect()
    }

    /// Whether a point lies within it or on it.
    pub(super) fn is_within(&self, point: Point) -> bool {
        let away = point - self.centre;
        let distance = away.norm();
        if self.outline.is_none() || distance == 0.0 {
            return distance <= self.radius.as_mm();
        }
        let ray = Ray {
            origin: self.centre,
            direction: away * (1.0 / distance),
            side: self.side,
        };
        ray.exit(self)
            .is_some_and(|exit| distance <= (exit.point - self.centre).norm())
    }
}

/// The edge of a sector wire, as a ray.
#[derive(Clone, Copy)]
pub(super) struct Ray {
    pub(super) origin: Point,
    pub(super) direction: Point,
    pub(super) side: Side,
}

impl Ray {
    /// The edge of a sector wire at a signed distance to the clockwise side of
    /// the line through the origin at its bearing.
    pub(super) fn beside(bearing: Angle, offset: f64, side: Side) -> Self {
        let (sin, cos) = libm::sincos(bearing.as_radians());
        Self {
            origin: Point::new(cos, -sin) * offset,
            direction: Point::new(sin, cos),
            side,
        }
    }

    /// Where the ray leaves a rim; `None` if it misses it.
    pub(super) fn exit(&self, rim: &Rim<'_>) -> Option<OnRim> {
        /// How far beyond its ends an arc is looked for, as a share of it: what
        /// rounding may leave between two arcs that meet.
        const NOISE: f64 = 1e-9;
        let Some(outline) = rim.outline else {
            let point = self.leaves(rim.centre, rim.radius.as_mm())?;
            return Some(OnRim { point, arc: 0 });
        };
        let mut arcs = outline.arcs(rim.centre, rim.radius).enumerate();
        arcs.find_map(|(index, arc)| {
            let point = self.leaves(arc.centre, arc.radius.as_mm())?;
            let share = arc.share(point);
            let on_it = (-NOISE..=1.0 + NOISE).contains(&share);
            on_it.then_some(OnRim { point, arc: index })
        })
    }

    fn leaves(&self, centre: Point, radius: f64) -> Option<Point> {
        let from = self.origin - centre;
        let along = from.dot(self.direction);
        let across = from.cross(self.direction);
        let square = radius * radius - across * across;
        if square < 0.0 {
            return None;
        }
        Some(self.origin + self.direction * (libm::sqrt(square) - along))
    }

    /// Where two rays' lines meet; `None` if they are parallel.
    pub(super) fn meet(&self, other: &Self) -> Option<Point> {
        let sine = self.direction.cross(other.direction);
        if sine.abs() < 1e-12 {
            return None;
        }
        let along = (other.origin - self.origin).cross(other.direction) / sine;
        Some(self.origin + self.direction * along)
    }

    fn boundary(&self, from: Point, to: Point) -> Boundary {
        Boundary {
            curve: Curve::Segment(Segment { from, to }),
            side: self.side,
        }
    }
}

/// The boundary of what lies between two rays and two rims, anticlockwise: out
/// along the right ray, along the outer rim, in along the left ray, and back
/// along the inner rim. Where the rays meet before the inner rim is left behind,
/// their meeting point takes its place. Empty where they meet beyond the outer
/// one; `None` where a ray misses a rim.
pub(super) fn between(
    left: &Ray,
    right: &Ray,
    inner: &Rim<'_>,
    outer: &Rim<'_>,
) -> Option<Vec<Boundary>> {
    let meeting = left.meet(right);
    let beyond = |rim: &Rim<'_>| {
        meeting.is_some_and(|point| !rim.is_within(point) && point.dot(left.direction) > 0.0)
    };
    if beyond(outer) {
        return Some(Vec::new());
    }
    let (far_right, far_left) = (right.exit(outer)?, left.exit(outer)?);
    let tip = meeting.filter(|_| beyond(inner));
    let near = match tip {
        Some(_) => None,
        None => Some((right.exit(inner)?, left.exit(inner)?)),
    };
    let (first, last) = match (tip, near) {
        (Some(tip), _) => (tip, tip),
        (None, Some((right, left))) => (right.point, left.point),
        (None, None) => return None,
    };
    let mut chain = vec![right.boundary(first, far_right.point)];
    chain.extend(outer.between(far_right, far_left, Turn::Anticlockwise));
    chain.push(left.boundary(far_left.point, last));
    if let Some((near_right, near_left)) = near {
        chain.extend(inner.between(near_left, near_right, Turn::Clockwise));
    }
    Some(chain)
}
