//! A ring that is not round, as a closed chain of arcs.
//!
//! Arcs, and not a Fourier series: what is bounded by arcs and straight edges
//! has an exact area and exact hits, and the two edges of a wire of even width
//! are arcs about the same centres, so that a chain can be moved to any edge.
//! Between two places the chain is a biarc: two arcs that meet with a common
//! tangent (Bolton, Comput. Aided Des. 7, 1975, from memory).

use thiserror::Error;

use super::{Arc, Point};
use crate::units::{Angle, Length};

/// What a ring's circle is replaced by, about the ring's centre.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    arcs: Vec<Piece>,
}

/// An arc by how it differs from the circle: anticlockwise, in mm and radians.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    centre: Point,
    longer: f64,
    start: f64,
    sweep: f64,
}

/// Radii that no ring has.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum OutlineError {
    /// Two of them stand at one bearing.
    #[error("two radii at one bearing, {0}")]
    Repeated(Angle),
    /// The curve through them would bend inwards.
    #[error("the curve through these radii bends inwards near {0}")]
    BendsInwards(Angle),
    /// Too few, or too far from one another, to tell the shape by.
    #[error("a shape needs three radii or more, no two neighbours further apart than {WIDEST}°")]
    TooFew,
}

/// The widest gap between neighbouring places, in degrees, across which a shape
/// is interpolated. House rule: three evenly spaced places are enough.
const WIDEST: f64 = 121.0;

impl Outline {
    /// The curve through radii at bearings, clockwise from the top, about the
    /// ring's centre; `radius` is that of the circle which it replaces.
    ///
    /// ```
    /// use ringrule::geometry::Outline;
    /// use ringrule::units::{Angle, Length};
    ///
    /// let places = [(0.0, 107.2), (90.0, 106.8), (180.0, 107.2), (270.0, 106.8)]
    ///     .map(|(bearing, radius)| (Angle::degrees(bearing), Length::mm(radius)));
    /// assert!(Outline::through(Length::mm(107.0), &places).is_ok());
    /// assert!(Outline::through(Length::mm(107.0), &places[..2]).is_err());
    /// # Ok::<(), ringrule::geometry::OutlineError>(())
    /// ```
    pub fn through(radius: Length, places: &[(Angle, Length)]) -> Result<Self, OutlineError> {
        const TURN: f64 = std::f64::consts::TAU;
        let polar = |bearing: Angle| {
            let angle = std::f64::consts::FRAC_PI_2 - bearing.as_radians();
            angle - TURN * libm::floor(angle / TURN)
        };
        let mut knots: Vec<(f64, f64)> = places
            .iter()
            .map(|&(bearing, radius)| (polar(bearing), radius.as_mm()))
            .collect();
        knots.sort_by(|a, b| a.0.total_cmp(&b.0));
        let next = |i: usize| {
            let wrapped = knots.get(i + 1).copied();
            wrapped.or_else(|| knots.first().map(|&(angle, r)| (angle + TURN, r)))
        };
        let bearing = |angle: f64| Angle::radians(std::f64::consts::FRAC_PI_2 - angle);
        let mut gaps = Vec::with_capacity(knots.len());
        for (i, &(angle, r)) in knots.iter().enumerate() {
            let (after, far) = next(i).unwrap_or((angle + TURN, r));
            if after - angle < 1e-9 {
                return Err(OutlineError::Repeated(bearing(angle)));
            }
            gaps.push((after - angle, far - r));
        }
        let widest = gaps.iter().map(|gap| gap.0).fold(0.0, f64::max);
        if knots.len() < 3 || widest > WIDEST.to_radians() {
            return Err(OutlineError::TooFew);
        }
        // The slope at each place is that of the parabola through it and its
        // neighbours.
        let before = gaps.iter().cycle().skip(gaps.len() - 1);
        let tangents = knots.iter().zip(&gaps).zip(before);
        let ends: Vec<(Point, Point)> = tangents
            .map(|((&(angle, r), &(right, rise)), &(left, fall))| {
                let slope =
                    (left * left * rise + right * right * fall) / (left * right * (left + right));
                let (sin, cos) = libm::sincos(angle);
                let out = Point::new(cos, sin);
                let along = Point::new(-sin, cos);
                let tangent = out * slope + along * r;
                (out * r, tangent * (1.0 / tangent.norm()))
            })
            .collect();
        let mut arcs = Vec::with_capacity(2 * ends.len());
        let after = ends.iter().cycle().skip(1);
        for ((&from, &to), &(angle, _)) in ends.iter().zip(after).zip(&knots) {
            for arc in biarc(from, to).ok_or(OutlineError::BendsInwards(bearing(angle)))? {
                arcs.push(Piece {
                    longer: arc.longer - radius.as_mm(),
                    ..arc
                });
            }
        }
        Ok(Self { arcs })
    }

    /// The arcs, anticlockwise, of the edge that has this radius where the ring
    /// is round.
    pub fn arcs(&self, centre: Point, radius: Length) -> impl Iterator<Item = Arc> {
        self.arcs.iter().map(move |piece| Arc {
            centre: centre + piece.centre,
            radius: radius + Length::mm(piece.longer),
            start: Angle::radians(piece.start),
            sweep: Angle::radians(piece.sweep),
        })
    }
}

/// Two arcs, anticlockwise, from a point and direction to another; `None` if
/// either would turn clockwise.
fn biarc((from, out): (Point, Point), (to, into): (Point, Point)) -> Option<[Piece; 2]> {
    let (chord, sum) = (to - from, out + into);
    let (square, along) = (chord.dot(chord), chord.dot(sum));
    // Where both tangents are the same the quadratic is linear.
    let flat = 2.0 * (1.0 - out.dot(into));
    let reach = if flat < 1e-12 {
        square / (2.0 * along)
    } else {
        // Multiplied out, so that nothing cancels at small turns.
        square / (along + libm::sqrt(along * along + flat * square))
    };
    let joint = (from + to + (out - into) * reach) * 0.5;
    Some([arc(from, out, joint, false)?, arc(to, into, joint, true)?])
}

/// The arc from a point along its tangent to another point or, `backwards`, the
/// one that arrives at it.
fn arc(point: Point, tangent: Point, other: Point, backwards: bool) -> Option<Piece> {
    let normal = Point::new(-tangent.y, tangent.x);
    let chord = other - point;
    let rise = normal.dot(chord);
    if rise <= 0.0 {
        return None;
    }
    let radius = chord.dot(chord) / (2.0 * rise);
    let centre = point + normal * radius;
    let (a, b) = if backwards {
        (other, point)
    } else {
        (point, other)
    };
    let (a, b) = (a - centre, b - centre);
    Some(Piece {
        centre,
        longer: radius,
        start: libm::atan2(a.y, a.x),
        sweep: libm::atan2(a.cross(b), a.dot(b)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Curve;

    fn through(places: &[(f64, f64)]) -> Result<Outline, OutlineError> {
        let places: Vec<_> = places
            .iter()
            .map(|&(bearing, r)| (Angle::degrees(bearing), Length::mm(r)))
            .collect();
        Outline::through(Length::mm(100.0), &places)
    }

    fn area(outline: &Outline, radius: f64) -> f64 {
        let arcs = outline.arcs(Point::ORIGIN, Length::mm(radius));
        arcs.map(|arc| Curve::Arc(arc).swept_area().as_mm2()).sum()
    }

    #[test]
    fn equal_radii_make_the_circle() {
        let even = through(&[(0.0, 100.0), (72.0, 100.0), (190.0, 100.0), (300.0, 100.0)]);
        let even = even.expect("an outline");
        let disc = std::f64::consts::PI * 1e4;
        assert!((area(&even, 100.0) / disc - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_ring_off_centre_comes_back_from_its_radii() {
        // Invented: a circle of 100 mm, 0.5 mm off the point that its radii are
        // taken from. Sixteen places give its area to a few parts in 1e7.
        let radius = |bearing: f64| {
            let (sin, cos) = libm::sincos(bearing.to_radians());
            let (x, y) = (0.4, -0.3);
            let along = x * sin + y * cos;
            along + libm::sqrt(1e4 - (0.25 - along * along))
        };
        let places: Vec<_> = (0..16).map(|i| f64::from(i) * 22.5).collect();
        let places: Vec<_> = places.iter().map(|&b| (b, radius(b))).collect();
        let outline = through(&places).expect("an outline");
        let disc = std::f64::consts::PI * 1e4;
        let share = area(&outline, 100.0) / disc - 1.0;
        assert!(share.abs() < 5e-7, "{share}");
    }

    #[test]
    fn unevenly_spaced_places_give_the_slope_of_a_parabola() {
        // Invented: a circle 0.5 mm off its centre, its places 15 and 45 degrees
        // apart in turn.
        let radius = |bearing: f64| {
            let (sin, cos) = libm::sincos(bearing.to_radians());
            let along = 0.4 * sin - 0.3 * cos;
            along + libm::sqrt(1e4 - (0.25 - along * along))
        };
        let bearings = (0..6).flat_map(|i| [60.0 * f64::from(i), 60.0 * f64::from(i) + 15.0]);
        let places: Vec<_> = bearings.map(|b| (b, radius(b))).collect();
        let outline = through(&places).expect("an outline");
        let tangents = outline.arcs(Point::ORIGIN, Length::mm(100.0)).step_by(2);
        for arc in tangents {
            // At each place the outline runs at right angles to the line from the
            // true centre, but for what a parabola misses.
            let at = arc.at(0.0);
            let (from_own, from_true) = (at - arc.centre, at - Point::new(0.4, -0.3));
            let skew = from_own.cross(from_true) / (from_own.norm() * from_true.norm());
            assert!(skew.abs() < 6e-4, "{skew}");
        }
    }

    #[test]
    fn the_chain_is_closed_at_every_edge() {
        let oval = through(&[(10.0, 100.4), (80.0, 99.7), (200.0, 100.2), (290.0, 99.6)]);
        let oval = oval.expect("an outline");
        for radius in [99.0, 100.0, 101.0] {
            let arcs: Vec<_> = oval.arcs(Point::ORIGIN, Length::mm(radius)).collect();
            assert_eq!(arcs.len(), 8);
            for (arc, next) in arcs.iter().zip(arcs.iter().cycle().skip(1)) {
                let gap = (arc.at(1.0) - next.at(0.0)).norm();
                assert!(gap < 1e-11, "{gap}");
            }
            let turn: f64 = arcs.iter().map(|arc| arc.sweep.as_radians()).sum();
            assert!((turn - std::f64::consts::TAU).abs() < 1e-12);
        }
    }

    #[test]
    fn what_no_ring_can_be_is_refused() {
        assert_eq!(through(&[]), Err(OutlineError::TooFew));
        let near = through(&[(0.0, 100.0), (30.0, 100.0), (60.0, 100.0)]);
        assert_eq!(near, Err(OutlineError::TooFew));
        let twice = through(&[(0.0, 100.0), (120.0, 100.0), (120.0, 101.0), (240.0, 99.0)]);
        assert!(matches!(twice, Err(OutlineError::Repeated(_))));
        let dent: Vec<_> = (0..20)
            .map(|i| (f64::from(i) * 18.0, if i == 3 { 90.0 } else { 100.0 }))
            .collect();
        assert!(matches!(through(&dent), Err(OutlineError::BendsInwards(_))));
    }
}
