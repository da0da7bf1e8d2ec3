//! A circle without iterating over the points: where the geometric fit begins.

use super::cloud::Cloud;
use crate::geometry::Point;

/// Steps of Newton's method: from zero it comes near the least root from below
/// and needs few.
const STEPS: usize = 60;

/// Taubin's fit (IEEE Trans. PAMI 13, 1991) by Newton's method on its
/// characteristic polynomial, after Chernov, Circular and Linear Regression
/// (2010), from memory: it minimises Σ(d² − r²)²/Σd² and, unlike simpler
/// algebraic fits, hardly shrinks short arcs. Centre and radius in the units of
/// the cloud; `None` where the points show no circle.
pub(super) fn taubin(cloud: &Cloud) -> Option<(Point, f64)> {
    let mean = |of: fn(Point, f64) -> f64| {
        let each = cloud.points.iter().map(|&p| of(p, p.dot(p)));
        each.sum::<f64>() / cloud.n()
    };
    let (xx, yy, xy) = (
        mean(|p, _| p.x * p.x),
        mean(|p, _| p.y * p.y),
        mean(|p, _| p.x * p.y),
    );
    let (xz, yz, zz) = (
        mean(|p, z| p.x * z),
        mean(|p, z| p.y * z),
        mean(|_, z| z * z),
    );
    let z = xx + yy;
    let covariance = xx * yy - xy * xy;
    let variance = zz - z * z;
    let a3 = 4.0 * z;
    let a2 = -3.0 * z * z - zz;
    let a1 = variance * z + 4.0 * covariance * z - xz * xz - yz * yz;
    let a0 = xz * (xz * yy - yz * xy) + yz * (yz * xx - xz * xy) - variance * covariance;
    let value = |t: f64| a0 + t * (a1 + t * (a2 + t * a3));
    let mut root = 0.0;
    for _ in 0..STEPS {
        let next = root - value(root) / (a1 + root * (2.0 * a2 + root * 3.0 * a3));
        // Where rounding has the last word, what is there is near enough.
        if !next.is_finite() || value(next).abs() >= value(root).abs() {
            break;
        }
        root = next;
    }
    let determinant = root * root - root * z + covariance;
    let x = (xz * (yy - root) - yz * xy) / (2.0 * determinant);
    let y = (yz * (xx - root) - xz * xy) / (2.0 * determinant);
    let radius = libm::sqrt(x * x + y * y + z);
    (radius.is_finite() && radius > 0.0).then_some((Point::new(x, y), radius))
}
