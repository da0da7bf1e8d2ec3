//! A share or a deviation in percent.

use std::fmt;

/// A number of hundredths: `Percent::of(0.157)` prints as `15.7 %`.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Percent(f64);

impl Percent {
    /// From a plain ratio.
    pub const fn of(ratio: f64) -> Self {
        Self(ratio * 100.0)
    }

    /// From a number that is already in percent.
    pub const fn new(percent: f64) -> Self {
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
