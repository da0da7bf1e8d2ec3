//! The circle that lies nearest to points.

use super::PointsError;
use super::algebraic::taubin;
use super::cloud::Cloud;
use super::symmetric::{Three, ThreeByThree, inverse, times};
use crate::geometry::Point;
use crate::units::{Angle, Area, Length, Uncertainty};

/// Points that a circle needs. House rule: through three there is always one,
/// so that only a fourth shows anything of how well it fits.
const NEEDED: usize = 4;

/// From here on an arc is too short to know its radius well: this many times
/// the uncertainty that as many points all round would leave. House rule; an
/// evenly covered arc of a quarter turn has 10.3.
const SHORT: f64 = 10.0;

/// A circle so many times larger than the spread of its points is a straight
/// line. House rule: nothing on a board is so flat an arc that a person could
/// have taken points on it.
const FLAT: f64 = 1e4;

/// Points that leave a straight line by less than this share of their spread do
/// so by rounding. House rule.
const STRAIGHT: f64 = 1e-9;

/// Steps of the iteration; some ten are usual.
const STEPS: usize = 300;

/// A circle by geometric least squares: the sum of the squares of the points'
/// distances from it is least.
///
/// ```
/// use ringrule::geometry::Point;
/// use ringrule::points::CircleFit;
///
/// let points = [(1.0, 7.0), (2.0, 6.0), (5.0, 8.0), (7.0, 7.0), (9.0, 5.0), (3.0, 7.0)];
/// let points = points.map(|(x, y)| Point::mm(x, y));
/// let fit = CircleFit::through(&points)?;
/// assert_eq!(format!("{:.5}", fit.radius), "4.71423 mm");
/// assert!(CircleFit::through(&points[..3]).is_err());
/// # Ok::<(), ringrule::points::PointsError>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct CircleFit {
    /// The centre.
    pub centre: Point,
    /// The radius.
    pub radius: Length,
    /// The covariance of the centre's x and y and of the radius, in this order:
    /// s²·(JᵀJ)⁻¹ with the derivatives J of the distances.
    pub covariance: [[Area; 3]; 3],
    /// By how much each point lies outside the circle, in the points' order.
    pub residuals: Vec<Length>,
    /// The residual standard deviation s, on three degrees of freedom less than
    /// there are points.
    pub deviation: Length,
    /// How far round the points reach: a full turn less the largest gap between
    /// two neighbours.
    pub arc: Angle,
    /// How many times larger the uncertainty of the radius is than if as many
    /// points lay all round, evenly.
    pub weakness: f64,
}

impl CircleFit {
    /// The circle through four points or more, in mm, by Levenberg's and
    /// Marquardt's method from Taubin's circle.
    pub fn through(points: &[Point]) -> Result<Self, PointsError> {
        let cloud = prepared(points)?;
        let start = taubin(&cloud).ok_or(PointsError::Collinear)?;
        fitted(&cloud, start)
    }

    /// The same from a circle that is known to be near.
    #[cfg(test)]
    fn from_start(points: &[Point], centre: Point, radius: f64) -> Result<Self, PointsError> {
        let cloud = prepared(points)?;
        let scale = 1.0 / cloud.spread;
        fitted(&cloud, ((centre - cloud.mean) * scale, radius * scale))
    }

    /// By how much the points show the circle not to be round: the largest
    /// residual less the smallest.
    pub fn out_of_roundness(&self) -> Length {
        let most = self.residuals.iter().map(|r| r.as_mm());
        let (least, most) = most.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), r| {
            (least.min(r), most.max(r))
        });
        Length::mm((most - least).max(0.0))
    }

    /// Degrees of freedom of the residuals.
    pub fn degrees_of_freedom(&self) -> f64 {
        self.residuals.len() as f64 - 3.0
    }

    /// The standard uncertainty of the radius, in mm, as far as the scatter of
    /// the points shows it.
    pub fn radius_uncertainty(&self) -> Uncertainty {
        let [_, _, [_, _, variance]] = self.covariance;
        let standard = libm::sqrt(variance.as_mm2().max(0.0));
        Uncertainty::with_degrees(standard, self.degrees_of_freedom())
    }

    /// Whether the arc is too short to know the radius well. House rule: its
    /// uncertainty is ten times what as many points all round would leave, which
    /// an even arc of a quarter turn comes to.
    pub fn is_short(&self) -> bool {
        self.weakness >= SHORT
    }
}

/// Points that are no straight line.
fn prepared(points: &[Point]) -> Result<Cloud, PointsError> {
    let cloud = Cloud::of(points, "circle", NEEDED, 3)?;
    let (axis, _) = cloud.axis();
    let away = cloud.points.iter().map(|p| p.cross(axis).abs());
    if away.fold(0.0, f64::max) < STRAIGHT {
        return Err(PointsError::Collinear);
    }
    Ok(cloud)
}

/// Centre and radius in the units of a cloud.
#[derive(Clone, Copy)]
struct Circle {
    centre: Point,
    radius: f64,
}

impl Circle {
    fn residual(self, p: Point) -> f64 {
        (p - self.centre).norm() - self.radius
    }

    fn cost(self, points: &[Point]) -> f64 {
        let squares = points.iter().map(|&p| self.residual(p) * self.residual(p));
        squares.sum()
    }

    /// The matrix `JᵀJ` and the column `Jᵀf` of the normal equations.
    fn normal(self, points: &[Point]) -> (ThreeByThree, Three) {
        let mut matrix = [[0.0; 3]; 3];
        let mut column = [0.0; 3];
        for &p in points {
            let away = p - self.centre;
            let distance = away.norm();
            // The distance from the centre itself has no slope.
            let unit = if distance > 0.0 {
                away * (1.0 / distance)
            } else {
                Point::ORIGIN
            };
            let slope = [-unit.x, -unit.y, -1.0];
            let residual = distance - self.radius;
            for ((row, sum), a) in matrix.iter_mut().zip(&mut column).zip(slope) {
                for (entry, b) in row.iter_mut().zip(slope) {
                    *entry += a * b;
                }
                *sum += a * residual;
            }
        }
        (matrix, column)
    }

    fn moved(self, [x, y, r]: Three) -> Self {
        Self {
            centre: self.centre - Point::new(x, y),
            radius: self.radius - r,
        }
    }
}

fn fitted(cloud: &Cloud, (centre, radius): (Point, f64)) -> Result<CircleFit, PointsError> {
    let start = Circle { centre, radius };
    let found = nearest(&cloud.points, start)?;
    if found.radius <= 0.0 {
        return Err(PointsError::NoFit);
    }
    let (matrix, _) = found.normal(&cloud.points);
    let shape = inverse(&matrix).ok_or(PointsError::Collinear)?;
    let scale = cloud.spread;
    let residuals = cloud.points.iter().map(|&p| found.residual(p) * scale);
    let residuals: Vec<f64> = residuals.collect();
    let squares: f64 = residuals.iter().map(|r| r * r).sum();
    let variance = squares / (cloud.n() - 3.0);
    let [_, _, [_, _, of_radius]] = shape;
    Ok(CircleFit {
        centre: cloud.mean + found.centre * scale,
        radius: Length::mm(found.radius * scale),
        covariance: shape.map(|row| row.map(|entry| Area::mm2(entry * variance))),
        residuals: residuals.into_iter().map(Length::mm).collect(),
        deviation: Length::mm(libm::sqrt(variance)),
        arc: arc(&cloud.points, found.centre),
        weakness: libm::sqrt(of_radius * cloud.n()),
    })
}

/// Levenberg's and Marquardt's iteration (Marquardt, J. SIAM 11, 1963): steps of
/// Gauss and Newton, shortened until they lead downhill.
fn nearest(points: &[Point], start: Circle) -> Result<Circle, PointsError> {
    let mut circle = start;
    let mut cost = circle.cost(points);
    let mut damping = 1e-4;
    for _ in 0..STEPS {
        if circle.radius > FLAT {
            return Err(PointsError::Collinear);
        }
        let (mut matrix, column) = circle.normal(points);
        for (index, row) in matrix.iter_mut().enumerate() {
            if let Some(entry) = row.get_mut(index) {
                *entry *= 1.0 + damping;
            }
        }
        let Some(inverse) = inverse(&matrix) else {
            damping *= 10.0;
            if damping > 1e8 {
                return Err(PointsError::Collinear);
            }
            continue;
        };
        let step = times(&inverse, &column);
        let next = circle.moved(step);
        let lower = next.cost(points);
        let size = step.iter().fold(0.0, |most: f64, s| most.max(s.abs()));
        let settled = size <= 1e-14 * circle.radius.max(1.0);
        if lower < cost {
            (circle, cost) = (next, lower);
            damping = (0.1 * damping).max(1e-15);
        } else if settled || damping > 1e8 {
            return Ok(circle);
        } else {
            damping *= 10.0;
        }
        if settled {
            return Ok(circle);
        }
    }
    Err(if circle.radius > 0.01 * FLAT {
        PointsError::Collinear
    } else {
        PointsError::NoFit
    })
}

/// A full turn less the largest gap between two neighbours.
fn arc(points: &[Point], centre: Point) -> Angle {
    let bearing = |p: &Point| libm::atan2(p.y - centre.y, p.x - centre.x);
    let mut bearings: Vec<f64> = points.iter().map(bearing).collect();
    bearings.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (bearings.first(), bearings.last()) else {
        return Angle::ZERO;
    };
    let round = Angle::FULL_TURN.as_radians() - (last - first);
    let gaps = bearings.windows(2).map(|pair| match pair {
        [a, b] => b - a,
        _ => 0.0,
    });
    let largest = gaps.fold(round, f64::max);
    Angle::FULL_TURN - Angle::radians(largest)
}

#[cfg(test)]
mod tests;
