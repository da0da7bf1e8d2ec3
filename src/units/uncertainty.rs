//! Standard uncertainties with their degrees of freedom, combined and expanded.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// The level of confidence that k = 2 stands for when the degrees of freedom
/// are many: the usual 95.45 %.
const USUAL_LEVEL: f64 = 0.954_499_736_103_642;

/// From so many degrees of freedom on, Student's t is taken as normal: its
/// factor at the usual level differs by 0.0003 there.
const MANY: f64 = 1e4;

/// A standard uncertainty (k = 1), in the unit of what it belongs to, with the
/// degrees of freedom behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertainty {
    standard: f64,
    degrees_of_freedom: f64,
}

/// Numbers that are not an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UncertaintyError {
    /// Negative, infinite or not a number.
    #[error("{0} is not a standard uncertainty; give a finite number, zero or above")]
    Standard(f64),
    /// Zero, negative or not a number.
    #[error("{0} degrees of freedom are none; give a number above zero, or infinity")]
    DegreesOfFreedom(f64),
}

/// A coverage factor and the expanded uncertainty U = k·u that it makes.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Coverage {
    /// The coverage factor k.
    pub factor: f64,
    /// The expanded uncertainty U.
    pub expanded: f64,
}

impl Uncertainty {
    /// An uncertainty that is known as such (type B, or stated).
    ///
    /// ```
    /// use ringrule::units::Uncertainty;
    ///
    /// let both = Uncertainty::combined([
    ///     (1.0, Uncertainty::known(0.03)?),
    ///     (1.0, Uncertainty::known(0.04)?),
    /// ]);
    /// assert!((both.expanded().expanded - 0.1).abs() < 1e-12); // k = 2
    /// assert!(Uncertainty::known(-0.03).is_err());
    /// # Ok::<(), ringrule::units::UncertaintyError>(())
    /// ```
    pub fn known(standard: f64) -> Result<Self, UncertaintyError> {
        Self::new(standard, f64::INFINITY)
    }

    /// An uncertainty with its degrees of freedom, infinite where nothing was
    /// estimated from a few readings.
    pub fn new(standard: f64, degrees_of_freedom: f64) -> Result<Self, UncertaintyError> {
        // Written so that what is not a number is refused too.
        if !(standard >= 0.0 && standard.is_finite()) {
            return Err(UncertaintyError::Standard(standard));
        }
        if degrees_of_freedom.is_nan() || degrees_of_freedom <= 0.0 {
            return Err(UncertaintyError::DegreesOfFreedom(degrees_of_freedom));
        }
        Ok(Self::with_degrees(standard, degrees_of_freedom))
    }

    /// Of a number that is known to be one.
    pub(crate) const fn finite(standard: f64) -> Self {
        Self::with_degrees(standard, f64::INFINITY)
    }

    /// Of numbers that are known to be such.
    pub(crate) const fn with_degrees(standard: f64, degrees_of_freedom: f64) -> Self {
        Self {
            standard,
            degrees_of_freedom,
        }
    }

    /// The standard uncertainty.
    pub const fn standard(self) -> f64 {
        self.standard
    }

    /// Degrees of freedom; infinite where nothing was estimated from a few
    /// readings.
    pub const fn degrees_of_freedom(self) -> f64 {
        self.degrees_of_freedom
    }

    /// The combined uncertainty of independent contributions c·u, each given as
    /// its factor c and its uncertainty: u² = Σ (c·u)², with the effective
    /// degrees of freedom of Welch and Satterthwaite, u⁴ / Σ ((c·u)⁴/ν)
    /// (JCGM 100, 5.1.2 and G.4.1, from memory).
    pub fn combined(contributions: impl IntoIterator<Item = (f64, Self)>) -> Self {
        let (mut squares, mut fourths) = (0.0, 0.0);
        for (factor, uncertainty) in contributions {
            let square = (factor * uncertainty.standard) * (factor * uncertainty.standard);
            squares += square;
            if uncertainty.degrees_of_freedom.is_finite() {
                fourths += square * square / uncertainty.degrees_of_freedom;
            }
        }
        let degrees_of_freedom = if fourths > 0.0 {
            squares * squares / fourths
        } else {
            f64::INFINITY
        };
        Self {
            standard: libm::sqrt(squares),
            degrees_of_freedom,
        }
    }

    /// The same uncertainty of a quantity that is `factor` times as large.
    #[must_use]
    pub(crate) const fn scaled(self, factor: f64) -> Self {
        Self {
            standard: self.standard * factor.abs(),
            ..self
        }
    }

    /// Expanded at the usual level: k = 2 for many degrees of freedom,
    /// otherwise Student's t for the effective ones, rounded down.
    pub fn expanded(self) -> Coverage {
        if self.degrees_of_freedom > MANY {
            return Coverage {
                factor: 2.0,
                expanded: 2.0 * self.standard,
            };
        }
        self.expanded_at(USUAL_LEVEL)
    }

    /// Expanded at a level of confidence between 0 and 1: k from Student's t
    /// with the effective degrees of freedom rounded down (JCGM 100, G.4.1,
    /// from memory).
    pub fn expanded_at(self, level: f64) -> Coverage {
        let degrees = self.degrees_of_freedom.floor().clamp(1.0, MANY);
        // No other number is a level: no factor is large enough for it.
        let quantile = (0.0..1.0).contains(&level).then(|| {
            let t = StudentsT::new(0.0, 1.0, degrees).ok()?;
            Some(t.inverse_cdf(f64::midpoint(1.0, level)))
        });
        let factor = quantile.flatten().unwrap_or(f64::INFINITY);
        Coverage {
            factor,
            expanded: factor * self.standard,
        }
    }

    /// The probability that the true value lies below the estimate plus `z`
    /// standard uncertainties: normal, or Student's t where the degrees of
    /// freedom are few.
    pub fn probability_below(self, z: f64) -> f64 {
        if self.degrees_of_freedom <= MANY {
            let t = StudentsT::new(0.0, 1.0, self.degrees_of_freedom.max(1.0));
            if let Ok(t) = t {
                return t.cdf(z);
            }
        }
        0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_gauge_of_the_guide() {
        // Published: JCGM 100 (GUM) H.1, u 32 nm, ν_eff 16, U99 93 nm. The
        // contributions (nm, degrees of freedom) are from memory of H.1.7.
        let parts = [(25.0, 18.0), (9.7, 25.6), (2.9, 50.0), (16.6, 2.0)];
        let combined = Uncertainty::combined(parts.map(|(standard, degrees_of_freedom)| {
            let uncertainty = Uncertainty::new(standard, degrees_of_freedom);
            (1.0, uncertainty.expect("an uncertainty"))
        }));
        assert!((combined.standard - 32.0).abs() < 0.5, "{combined:?}");
        assert!(
            (combined.degrees_of_freedom.floor() - 16.0).abs() < 0.5,
            "{combined:?}"
        );
        let expanded = combined.expanded_at(0.99).expanded;
        assert!((expanded - 93.0).abs() < 0.6, "{expanded}");
    }

    #[test]
    fn what_is_no_uncertainty_is_refused_with_its_value() {
        for standard in [-0.1, f64::NAN, f64::INFINITY] {
            let error = Uncertainty::known(standard).expect_err("no uncertainty");
            assert!(error.to_string().contains(&standard.to_string()), "{error}");
        }
        for degrees in [0.0, -1.0, f64::NAN] {
            let error = Uncertainty::new(0.1, degrees).expect_err("no degrees of freedom");
            assert!(error.to_string().contains(&degrees.to_string()), "{error}");
        }
        let u = Uncertainty::known(0.0).expect("exact");
        assert!(u.degrees_of_freedom().is_infinite());
        for level in [-0.5, 1.0, 2.0, f64::NAN] {
            assert!(u.expanded_at(level).factor.is_infinite(), "{level}");
        }
    }

    #[test]
    fn many_degrees_of_freedom_and_known_uncertainties_agree() {
        let many = Uncertainty {
            standard: 1.0,
            degrees_of_freedom: MANY,
        };
        let known = Uncertainty::finite(1.0);
        assert!((many.expanded().factor - known.expanded().factor).abs() < 4e-4);
        for z in [-3.0, -0.5, 0.0, 1.645, 4.0] {
            assert!((many.probability_below(z) - known.probability_below(z)).abs() < 2e-5);
        }
    }

    #[test]
    fn normal_quantiles_are_the_published_ones() {
        // JCGM 106, Table 1, from memory; recomputed independently.
        for (p, z) in [
            (0.80, 0.8416),
            (0.90, 1.2816),
            (0.95, 1.6449),
            (0.99, 2.3263),
            (0.999, 3.0902),
        ] {
            assert!(
                (Uncertainty::finite(1.0).probability_below(z) - p).abs() < 2e-5,
                "{p}"
            );
        }
    }
}
