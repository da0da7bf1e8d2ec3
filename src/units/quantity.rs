//! The three quantities of the plane.

use std::fmt;
use std::ops::{Add, Div, Mul, Neg, Sub};

/// One inch in millimetres, exactly, since 1 July 1959 (published: the
/// international yard and pound agreement).
const MM_PER_INCH: f64 = 25.4;

/// A number that is not finite, where a quantity was asked for.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{value} {unit} is not a finite {what}; give a finite number")]
pub struct NotFinite {
    value: f64,
    unit: &'static str,
    what: &'static str,
}

impl NotFinite {
    pub(crate) fn check(value: f64, what: &'static str, unit: &'static str) -> Result<f64, Self> {
        if value.is_finite() {
            Ok(value)
        } else {
            Err(Self { value, unit, what })
        }
    }
}

/// A length in millimetres. May be negative where it is a difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// A length given in millimetres.
    pub const fn mm(mm: f64) -> Self {
        Self(mm)
    }

    /// The same for a number that comes from outside: infinities and what is
    /// not a number are refused.
    ///
    /// ```
    /// use ringrule::units::Length;
    ///
    /// assert_eq!(Length::try_mm(25.4)?, Length::inches(1.0));
    /// assert!(Length::try_mm(f64::NAN).is_err());
    /// # Ok::<(), ringrule::units::NotFinite>(())
    /// ```
    pub fn try_mm(mm: f64) -> Result<Self, NotFinite> {
        NotFinite::check(mm, "length", "mm").map(Self::mm)
    }

    /// A length given in inches of 25.4 mm.
    pub const fn inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }

    /// The same for a number that comes from outside: infinities and what is
    /// not a number are refused.
    pub fn try_inches(inches: f64) -> Result<Self, NotFinite> {
        NotFinite::check(inches, "length", "in").map(Self::inches)
    }

    /// This length in millimetres.
    pub const fn as_mm(self) -> f64 {
        self.0
    }

    /// This length in inches of 25.4 mm.
    pub const fn as_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

/// An area in square millimetres. May be negative where it is a difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Area(f64);

impl Area {
    /// No area at all.
    pub const ZERO: Self = Self(0.0);

    /// An area given in square millimetres.
    pub const fn mm2(mm2: f64) -> Self {
        Self(mm2)
    }

    /// The same for a number that comes from outside: infinities and what is
    /// not a number are refused.
    ///
    /// ```
    /// use ringrule::units::Area;
    ///
    /// let bed = Area::try_mm2(129.5)?;
    /// assert_eq!((bed + bed).to_string(), "259.00 mm²");
    /// # Ok::<(), ringrule::units::NotFinite>(())
    /// ```
    pub fn try_mm2(mm2: f64) -> Result<Self, NotFinite> {
        NotFinite::check(mm2, "area", "mm²").map(Self::mm2)
    }

    /// This area in square millimetres.
    pub const fn as_mm2(self) -> f64 {
        self.0
    }
}

/// A plane angle. Bearings run clockwise from the top of the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// No angle at all.
    pub const ZERO: Self = Self(0.0);

    /// Once round.
    pub const FULL_TURN: Self = Self(std::f64::consts::TAU);

    /// An angle given in degrees.
    pub const fn degrees(degrees: f64) -> Self {
        Self(degrees.to_radians())
    }

    /// The same for a number that comes from outside: infinities and what is
    /// not a number are refused.
    ///
    /// ```
    /// use ringrule::units::Angle;
    ///
    /// assert!((Angle::try_degrees(18.0)?.as_radians() - 0.314).abs() < 0.001);
    /// # Ok::<(), ringrule::units::NotFinite>(())
    /// ```
    pub fn try_degrees(degrees: f64) -> Result<Self, NotFinite> {
        NotFinite::check(degrees, "angle", "°").map(Self::degrees)
    }

    /// An angle given in radians.
    pub const fn radians(radians: f64) -> Self {
        Self(radians)
    }

    /// The same for a number that comes from outside: infinities and what is
    /// not a number are refused.
    pub fn try_radians(radians: f64) -> Result<Self, NotFinite> {
        NotFinite::check(radians, "angle", "rad").map(Self::radians)
    }

    /// The angle without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// This angle in degrees.
    pub const fn as_degrees(self) -> f64 {
        self.0.to_degrees()
    }

    /// This angle in radians.
    pub const fn as_radians(self) -> f64 {
        self.0
    }
}

/// The arithmetic that a one-dimensional quantity has, written once.
macro_rules! linear_quantity {
    ($name:ident, $number:ident, $unit:literal) => {
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(terms: I) -> Self {
                terms.fold(Self::ZERO, Add::add)
            }
        }
        impl fmt::Display for $name {
            /// Honours a requested precision; without one, two decimals.
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let decimals = f.precision().unwrap_or(2);
                write!(f, "{:.*} {}", decimals, self.$number(), $unit)
            }
        }
    };
}

linear_quantity!(Length, as_mm, "mm");
linear_quantity!(Area, as_mm2, "mm²");
linear_quantity!(Angle, as_degrees, "°");

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area(self.0 * other.0)
    }
}
