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
    /// The standard uncertainty.
    pub standard: f64,
    /// Degrees of freedom; infinite where nothing was estimated from a few
    /// readings.
    pub degrees_of_freedom: f64,
}

/// A coverage factor and the expanded uncertainty U = k·u that it makes.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    ///     (1.0, Uncertainty::known(0.03)),
    ///     (1.0, Uncertainty::known(0.04)),
    /// ]);
    /// assert!((both.expanded().expanded - 0.1).abs() < 1e-12); // k = 2
    /// ```
    pub const fn known(standard: f64) -> Self {
        Self {
            standard,
            degrees_of_freedom: f64::INFINITY,
        }
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
    pub const fn scaled(self, factor: f64) -> Self {
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
        let quantile =
            StudentsT::new(0.0, 1.0, degrees).map(|t| t.inverse_cdf(f64::midpoint(1.0, level)));
        let factor = quantile.unwrap_or(f64::INFINITY);
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
            let uncertainty = Uncertainty {
                standard,
                degrees_of_freedom,
            };
            (1.0, uncertainty)
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
    fn many_degrees_of_freedom_and_known_uncertainties_agree() {
        let many = Uncertainty {
            standard: 1.0,
            degrees_of_freedom: MANY,
        };
        let known = Uncertainty::known(1.0);
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
                (Uncertainty::known(1.0).probability_below(z) - p).abs() < 2e-5,
                "{p}"
            );
        }
    }
}
