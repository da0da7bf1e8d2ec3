//! The line that lies nearest to points, and how it is seen from a centre.

use super::PointsError;
use super::cloud::Cloud;
use crate::geometry::Point;
use crate::units::{Angle, Length, Uncertainty};

/// Points that a line needs. House rule: through two there is always one, so
/// that only a third shows anything of how well it fits.
const NEEDED: usize = 3;

/// A straight line by orthogonal least squares: the sum of the squares of the
/// points' distances from it is least.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LineFit {
    /// The mean of the points, which lies on the line.
    pub middle: Point,
    /// A step of one along the line, towards either end.
    direction: Point,
    /// By how much each point lies to the right of the direction, in mm.
    across: Vec<f64>,
    /// The sum of the squares of the points' distances from the mean along the
    /// line, in mm².
    reach: f64,
    /// The residual standard deviation, on two degrees of freedom less than
    /// there are points.
    pub deviation: Length,
}

/// A line as it is seen from a centre, in the direction in which its points lie.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct SeenLine {
    /// Its direction, clockwise from the top.
    pub bearing: Angle,
    /// By how much it passes the centre on the clockwise side, to the right of
    /// who looks along it from the centre.
    pub offset: Length,
    /// The standard uncertainty of the bearing, in radians.
    pub bearing_uncertainty: Uncertainty,
    /// The standard uncertainty of the offset, in mm, for a centre that is
    /// exactly known.
    pub offset_uncertainty: Uncertainty,
    /// The correlation of both.
    pub correlation: f64,
    /// By how much each point lies on the clockwise side of the line.
    pub residuals: Vec<Length>,
}

impl LineFit {
    /// The line through three points or more, in mm.
    ///
    /// ```
    /// use ringrule::geometry::Point;
    /// use ringrule::points::LineFit;
    /// use ringrule::units::Angle;
    ///
    /// let points = [20.0, 60.0, 100.0, 160.0].map(|along| Point::mm(along, 0.3));
    /// let line = LineFit::through(&points)?.seen_from(Point::ORIGIN)?;
    /// // A wire that points to the right and passes 0.3 mm above the centre, which
    /// // is on its anticlockwise side.
    /// assert!((line.bearing - Angle::degrees(90.0)).as_degrees().abs() < 1e-9);
    /// assert_eq!(format!("{:.3}", line.offset), "-0.300 mm");
    /// # Ok::<(), ringrule::points::PointsError>(())
    /// ```
    pub fn through(points: &[Point]) -> Result<Self, PointsError> {
        let cloud = Cloud::of(points, "line", NEEDED, 2)?;
        let (direction, reach) = cloud.axis();
        let right = right_of(direction);
        let scale = cloud.spread;
        let across = cloud.points.iter().map(|p| p.dot(right) * scale);
        let across: Vec<f64> = across.collect();
        let squares: f64 = across.iter().map(|d| d * d).sum();
        Ok(Self {
            middle: cloud.mean,
            direction,
            across,
            reach: reach * scale * scale,
            deviation: Length::mm(libm::sqrt(squares / (cloud.n() - 2.0))),
        })
    }

    /// Degrees of freedom of the residuals.
    pub fn degrees_of_freedom(&self) -> f64 {
        self.across.len() as f64 - 2.0
    }

    /// A step of one along the line and one to its right.
    pub(crate) fn steps(&self) -> [Point; 2] {
        [self.direction, right_of(self.direction)]
    }

    /// The variance of the line's place across at a distance along from the
    /// mean, as a multiple of a point's.
    pub(crate) fn share_at(&self, along: f64) -> f64 {
        1.0 / self.across.len() as f64 + along * along / self.reach
    }

    /// How it is seen from a centre.
    pub fn seen_from(&self, centre: Point) -> Result<SeenLine, PointsError> {
        let away = self.middle - centre;
        let along = away.dot(self.direction);
        // As long as the points lie on both sides as much as on one, the line
        // has no direction.
        if along.abs() <= 1e-9 * libm::sqrt(self.reach) {
            return Err(PointsError::NoSide);
        }
        let sign = if along < 0.0 { -1.0 } else { 1.0 };
        let direction = self.direction * sign;
        let along = along * sign;
        let degrees = self.degrees_of_freedom();
        let deviation = self.deviation.as_mm();
        let turn = deviation / libm::sqrt(self.reach);
        let shift = deviation * libm::sqrt(self.share_at(along));
        // A turn about the mean moves the line the other way at the centre.
        let covariance = -along * turn * turn;
        Ok(SeenLine {
            bearing: Angle::radians(libm::atan2(direction.x, direction.y)),
            offset: Length::mm(away.dot(right_of(direction))),
            bearing_uncertainty: Uncertainty::with_degrees(turn, degrees),
            offset_uncertainty: Uncertainty::with_degrees(shift, degrees),
            correlation: if turn > 0.0 {
                covariance / (turn * shift)
            } else {
                0.0
            },
            residuals: self.across.iter().map(|d| Length::mm(sign * d)).collect(),
        })
    }
}

fn right_of(direction: Point) -> Point {
    Point::new(direction.y, -direction.x)
}

#[cfg(test)]
mod tests;
