//! A share or a deviation in percent.

use std::fmt;
use std::ops::Neg;

use super::NotFinite;

/// A number of hundredths.
///
/// ```
/// use ringrule::units::Percent;
///
/// assert_eq!(Percent::of(0.157)?.to_string(), "15.7 %");
/// assert!(Percent::new(f64::NAN).is_err());
/// # Ok::<(), ringrule::units::NotFinite>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Percent(f64);

impl Percent {
    /// From a plain ratio. Infinities and what is not a number are refused.
    pub fn of(ratio: f64) -> Result<Self, NotFinite> {
        Self::new(ratio * 100.0)
    }

    /// From a number that is already in percent. Infinities and what is not a
    /// number are refused.
    pub fn new(percent: f64) -> Result<Self, NotFinite> {
        NotFinite::check(percent, "percentage", "%").map(Self)
    }

    /// From a number in percent that is known to be finite.
    pub(crate) const fn finite(percent: f64) -> Self {
        Self(percent)
    }

    /// The number in front of the percent sign.
    pub const fn value(self) -> f64 {
        self.0
    }

    /// The plain ratio.
    pub const fn ratio(self) -> f64 {
        self.0 / 100.0
    }
}

impl Neg for Percent {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl fmt::Display for Percent {
    /// Honours a requested precision and `+`; without a precision, one decimal.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let decimals = f.precision().unwrap_or(1);
        if f.sign_plus() {
            write!(f, "{:+.*} %", decimals, self.0)
        } else {
            write!(f, "{:.*} %", decimals, self.0)
        }
    }
}
