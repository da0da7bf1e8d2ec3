//! Points about their mean, in units of their own spread: what every fit begins
//! with, so that rounding depends on no unit and no origin.

use super::PointsError;
use crate::geometry::Point;

/// Points less their mean, divided by their root mean square distance from it.
pub(super) struct Cloud {
    pub(super) mean: Point,
    /// The root mean square distance from the mean, in mm.
    pub(super) spread: f64,
    pub(super) points: Vec<Point>,
}

impl Cloud {
    /// With at least `needed` points, in `places` different places.
    pub(super) fn of(
        points: &[Point],
        what: &'static str,
        needed: usize,
        places: usize,
    ) -> Result<Self, PointsError> {
        let given = points.len();
        let wrong = |p: &Point| !(p.x.is_finite() && p.y.is_finite());
        if let Some(index) = points.iter().position(wrong) {
            return Err(PointsError::NotFinite(index + 1));
        }
        if given < needed {
            let few = PointsError::TooFew {
                what,
                given,
                needed,
            };
            return Err(few);
        }
        let mut sorted = points.to_vec();
        sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        sorted.dedup();
        if sorted.len() < places {
            return Err(PointsError::Coincident {
                what,
                distinct: sorted.len(),
                needed: places,
            });
        }
        let n = given as f64;
        let sum = points.iter().fold(Point::ORIGIN, |sum, &p| sum + p);
        let mean = sum * (1.0 / n);
        let squares: f64 = points.iter().map(|&p| (p - mean).dot(p - mean)).sum();
        let spread = libm::sqrt(squares / n);
        // Squares of some sizes are no longer numbers, or nothing.
        if !(spread.is_finite() && spread > 0.0) {
            let far = |p: &Point| p.norm();
            let largest = (0..given).max_by(|&a, &b| {
                let of = |index: usize| points.get(index).map_or(0.0, far);
                of(a).total_cmp(&of(b))
            });
            return Err(PointsError::NotFinite(largest.unwrap_or(0) + 1));
        }
        Ok(Self {
            mean,
            spread,
            points: points
                .iter()
                .map(|&p| (p - mean) * (1.0 / spread))
                .collect(),
        })
    }

    pub(super) fn n(&self) -> f64 {
        self.points.len() as f64
    }

    /// The direction in which the points extend most, and the sum of the
    /// squares of their distances from the mean along it.
    pub(super) fn axis(&self) -> (Point, f64) {
        let sum = |of: fn(Point) -> f64| self.points.iter().map(|&p| of(p)).sum::<f64>();
        let (xx, yy, xy) = (sum(|p| p.x * p.x), sum(|p| p.y * p.y), sum(|p| p.x * p.y));
        let (sin, cos) = libm::sincos(0.5 * libm::atan2(2.0 * xy, xx - yy));
        let direction = Point::new(cos, sin);
        let along = self.points.iter().map(|p| p.dot(direction));
        (direction, along.map(|t| t * t).sum())
    }
}
