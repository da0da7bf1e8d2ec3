//! Places counted in spreads: a plane in which darts scatter alike in every direction.

use crate::geometry::Point;
use crate::play::{Slope, Spread};

/// What a step of one spread is in mm: the lower triangle of the covariance's root.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    xx: f64,
    yx: f64,
    yy: f64,
}

impl Scale {
    pub(super) fn of(spread: Spread) -> Self {
        let rho = spread.rho();
        Self {
            xx: spread.sigma_x(),
            yx: rho * spread.sigma_y(),
            yy: spread.sigma_y() * libm::sqrt((1.0 - rho) * (1.0 + rho)),
        }
    }

    /// The variances along the two principal axes, the larger first, and the bearing of the
    /// larger one.
    fn axes(self) -> ([f64; 2], f64) {
        let Self { xx, yx, yy } = self;
        let (a, b, c) = (xx * xx, xx * yx, yx * yx + yy * yy);
        let half = libm::hypot(0.5 * (a - c), b);
        let long = 0.5 * (a + c) + half;
        // The difference would lose a short one to rounding.
        let short = self.area() * self.area() / long;
        ([long, short], 0.5 * libm::atan2(2.0 * b, a - c))
    }

    /// How many times wider darts scatter one way than across it.
    pub(super) fn elongation(self) -> f64 {
        let ([long, short], _) = self.axes();
        libm::sqrt(long / short)
    }

    /// The same, with at least so many mm for a spread in every direction.
    pub(super) fn widened(self, least: f64) -> Self {
        let (axes, turn) = self.axes();
        let [long, short] = axes.map(|variance| variance.max(least * least));
        let (sin, cos) = libm::sincos(turn);
        let xx = libm::sqrt(long * cos * cos + short * sin * sin);
        Self {
            xx,
            yx: (long - short) * cos * sin / xx,
            yy: libm::sqrt(long * short) / xx,
        }
    }

    /// A place of the board, in mm, from one in spreads.
    pub(super) fn place(self, at: Point) -> Point {
        Point::mm(self.xx * at.x, self.yx * at.x + self.yy * at.y)
    }

    /// The same the other way.
    pub(super) fn spreads(self, place: Point) -> Point {
        let x = place.x / self.xx;
        Point::new(x, (place.y - self.yx * x) / self.yy)
    }

    /// Derivatives by a step in mm as derivatives by a step in spreads.
    pub(super) fn slope(self, slope: &Slope) -> Slope {
        let Self { xx, yx, yy } = self;
        let ([x, y], [hxx, hxy, hyy]) = (slope.gradient, slope.hessian);
        Slope {
            value: slope.value,
            gradient: [xx * x + yx * y, yy * y],
            hessian: [
                xx * xx * hxx + 2.0 * xx * yx * hxy + yx * yx * hyy,
                yy * (xx * hxy + yx * hyy),
                yy * yy * hyy,
            ],
        }
    }

    /// How far a disc about the middle of the board goes sideways and up, in spreads.
    pub(super) fn extent(self, radius: f64) -> Point {
        let up = libm::hypot(self.yx / (self.xx * self.yy), 1.0 / self.yy);
        Point::new(radius / self.xx, radius * up)
    }

    /// The area of a squared spread, in mm².
    pub(super) const fn area(self) -> f64 {
        self.xx * self.yy
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    fn scale() -> Scale {
        Scale::of(Spread::with(13.0, 60.0, -0.4).expect("a spread"))
    }

    #[test]
    fn a_place_there_and_back_is_the_same() {
        let place = Point::mm(31.0, -107.0);
        let back = scale().place(scale().spreads(place));
        assert!((back - place).norm() < 1e-12);
        // One spread in any direction: the covariance's ellipse.
        let at = scale().place(Point::new(0.6, 0.8));
        let (x, y) = (at.x / 13.0, at.y / 60.0);
        assert!(((x * x + 0.8 * x * y + y * y) / 0.84 - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_widened_is_as_wide_as_asked_across_and_as_before_along() {
        // 13 by 60 mm with a correlation of -0.4, by hand: the eigenvalues of the covariance.
        let scale = scale();
        let ([long, short], _) = scale.axes();
        assert!((long + short - (169.0 + 3600.0)).abs() < 1e-9);
        assert!((long * short - 0.84 * 169.0 * 3600.0).abs() < 1e-6);
        assert!((scale.elongation() - libm::sqrt(long / short)).abs() < 1e-12);
        let same = scale.widened(5.0);
        assert!((same.xx - scale.xx).abs() + (same.yx - scale.yx).abs() < 1e-12);
        assert!((same.yy - scale.yy).abs() < 1e-12);
        let (wide, turn) = scale.widened(30.0).axes();
        assert!((wide[0] - long).abs() < 1e-9 && (wide[1] - 900.0).abs() < 1e-9);
        assert!((turn - scale.axes().1).abs() < 1e-12);
        let round = scale.widened(100.0);
        assert!((round.xx - 100.0).abs() + round.yx.abs() < 1e-12);
    }

    #[test]
    fn slopes_are_those_of_the_same_hill() {
        // A parabola in mm, looked at in spreads: by steps, against what is told.
        let hill = |place: Point| 3.0 * place.x + 2.0 * place.x * place.y - place.y * place.y;
        let at = Point::new(0.7, -0.3);
        let place = scale().place(at);
        let told = scale().slope(&Slope {
            value: hill(place),
            gradient: [3.0 + 2.0 * place.y, 2.0 * place.x - 2.0 * place.y],
            hessian: [0.0, 2.0, -2.0],
        });
        let step = 1e-3;
        let along = |x: f64, y: f64| hill(scale().place(at + Point::new(x, y)));
        let [x, y] = told.gradient;
        assert!((x - (along(step, 0.0) - along(-step, 0.0)) / (2.0 * step)).abs() < 1e-6);
        assert!((y - (along(0.0, step) - along(0.0, -step)) / (2.0 * step)).abs() < 1e-6);
        let bend = |dx: f64, dy: f64| {
            (along(dx, dy) + along(-dx, -dy) - 2.0 * along(0.0, 0.0)) / (step * step)
        };
        let [xx, xy, yy] = told.hessian;
        assert!((xx - bend(step, 0.0)).abs() < 1e-3);
        assert!((yy - bend(0.0, step)).abs() < 1e-3);
        assert!((xx + 2.0 * xy + yy - bend(step, step)).abs() < 1e-3);
    }

    #[test]
    fn a_disc_is_an_ellipse_that_is_as_far_and_as_large_as_told() {
        let (extent, step) = (scale().extent(180.0), 0.05);
        let (mut inside, mut far) = (0.0, Point::ORIGIN);
        for i in -400..=400 {
            for j in -400..=400 {
                let at = Point::new(step * f64::from(i), step * f64::from(j));
                if scale().place(at).norm() <= 180.0 {
                    inside += step * step;
                    far = Point::new(far.x.max(at.x), far.y.max(at.y));
                }
            }
        }
        assert!(
            (inside * scale().area() / (PI * 180.0 * 180.0) - 1.0).abs() < 0.01,
            "{inside}"
        );
        assert!(
            (extent.x - far.x - 0.5 * step).abs() < step,
            "{extent:?} {far:?}"
        );
        assert!(
            (extent.y - far.y - 0.5 * step).abs() < step,
            "{extent:?} {far:?}"
        );
    }
}
