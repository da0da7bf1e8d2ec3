//! A point that lies too far out to belong to the others.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::units::Length;

/// How often a sound feature has such a point all the same. House rule.
const LEVEL: f64 = 0.01;

/// The index of the point that lies furthest from what was laid through the
/// points, if it is further than chance explains: Grubbs' test (Technometrics
/// 11, 1969, from memory) with the degrees of freedom that the fit leaves.
pub fn outlying(residuals: &[Length], degrees_of_freedom: f64) -> Option<usize> {
    let squares: f64 = residuals.iter().map(|r| r.as_mm() * r.as_mm()).sum();
    let deviation = libm::sqrt(squares / degrees_of_freedom);
    let size = |index: &usize| residuals.get(*index).map_or(0.0, |r| r.abs().as_mm());
    let furthest = (0..residuals.len()).max_by(|a, b| size(a).total_cmp(&size(b)))?;
    let n = residuals.len() as f64;
    let rest = degrees_of_freedom - 1.0;
    let t = StudentsT::new(0.0, 1.0, rest).ok()?;
    let t = t.inverse_cdf(1.0 - LEVEL / (2.0 * n));
    let most = libm::sqrt(degrees_of_freedom * t * t / (rest + t * t));
    (size(&furthest) > most * deviation).then_some(furthest)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::Random;

    #[test]
    fn one_in_a_hundred_sound_features_and_every_slip() {
        // Seeded: four standard errors of a share of 0.01 among 4000 are 0.0063.
        let mut random = Random::seeded(9);
        let (n, mut found) = (4000, 0);
        for _ in 0..n {
            let residuals: Vec<Length> = (0..24).map(|_| Length::mm(random.normal())).collect();
            found += i32::from(outlying(&residuals, 24.0).is_some());
            let mut slipped = residuals;
            slipped[5] = Length::mm(-12.0);
            assert_eq!(outlying(&slipped, 24.0), Some(5));
        }
        let share = f64::from(found) / f64::from(n);
        assert!((share - 0.01).abs() < 0.0063, "{share}");
    }

    #[test]
    fn too_few_say_nothing() {
        assert_eq!(outlying(&[], 0.0), None);
        assert_eq!(outlying(&[Length::mm(1.0), Length::mm(-1.0)], 1.0), None);
        assert_eq!(outlying(&[Length::ZERO; 9], 6.0), None);
    }
}
