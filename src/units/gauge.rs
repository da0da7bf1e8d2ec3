//! Wire gauges: three systems, always with the system named.
//!
//! A bare "16 gauge" is one of at least three different wires, so nothing in
//! this program accepts one. "SWG" is the Imperial Standard Wire Gauge here;
//! the same letters are also used for the US Steel Wire Gauge, which is a
//! different series and is not accepted.

use std::fmt;
use std::str::FromStr;

use super::Length;

/// Imperial Standard Wire Gauge in thousandths of an inch, 7/0 to 50.
/// Published: engineering handbooks; BS 3737:1964 (withdrawn); fixed by Order
/// in Council in 1883. Beware of copies with No. 28 as 14.9 or No. 6 as 182.
const SWG_THOU: [f64; 57] = [
    500.0, 464.0, 432.0, 400.0, 372.0, 348.0, 324.0, 300.0, 276.0, 252.0, 232.0, 212.0, 192.0,
    176.0, 160.0, 144.0, 128.0, 116.0, 104.0, 92.0, 80.0, 72.0, 64.0, 56.0, 48.0, 40.0, 36.0, 32.0,
    28.0, 24.0, 22.0, 20.0, 18.0, 16.4, 14.8, 13.6, 12.4, 11.6, 10.8, 10.0, 9.2, 8.4, 7.6, 6.8,
    6.0, 5.2, 4.8, 4.4, 4.0, 3.6, 3.2, 2.8, 2.4, 2.0, 1.6, 1.2, 1.0,
];

/// Birmingham (Stubs) gauge in thousandths of an inch, 4/0 to 36.
/// Published: engineering handbooks.
const BWG_THOU: [f64; 40] = [
    454.0, 425.0, 380.0, 340.0, 300.0, 284.0, 259.0, 238.0, 220.0, 203.0, 180.0, 165.0, 148.0,
    134.0, 120.0, 109.0, 95.0, 83.0, 72.0, 65.0, 58.0, 49.0, 42.0, 35.0, 32.0, 28.0, 25.0, 22.0,
    20.0, 18.0, 16.0, 14.0, 13.0, 12.0, 10.0, 9.0, 8.0, 7.0, 5.0, 4.0,
];

words! {
    /// Which series a gauge number belongs to.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
    #[non_exhaustive]
    pub enum GaugeSystem {
        /// Imperial Standard Wire Gauge, written `SWG`.
        Imperial = "SWG" / "Imperial Standard Wire Gauge",
        /// American Wire Gauge, written `AWG`.
        American = "AWG" / "American Wire Gauge",
        /// Birmingham (Stubs) gauge, written `BWG`.
        Birmingham = "BWG" / "Birmingham (Stubs) gauge",
    }

    /// The letters behind the number.
    fn letters;
    /// The name in full, for messages: the letters alone can be misread.
    fn full_name;
}

impl GaugeSystem {
    /// The thickest and the thinnest number, with `1 - n` for `n/0`.
    const fn bounds(self) -> (i8, i8) {
        match self {
            Self::Imperial => (-6, 50),
            Self::American => (-3, 40),
            Self::Birmingham => (-3, 36),
        }
    }
}

/// One size of one gauge system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Gauge {
    system: GaugeSystem,
    /// The number; `0` for 1/0, `-1` for 2/0 and so on.
    number: i8,
}

/// A gauge number that its system does not have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the {} runs from {} to {}", system.full_name(), thickest, thinnest)]
pub struct NoSuchGauge {
    system: GaugeSystem,
    thickest: Gauge,
    thinnest: Gauge,
}

impl Gauge {
    /// The size `number` of `system`; `0` for 1/0, `-1` for 2/0 and so on.
    pub const fn new(system: GaugeSystem, number: i8) -> Result<Self, NoSuchGauge> {
        let (thickest, thinnest) = system.bounds();
        if number < thickest || number > thinnest {
            return Err(NoSuchGauge {
                system,
                thickest: Self {
                    system,
                    number: thickest,
                },
                thinnest: Self {
                    system,
                    number: thinnest,
                },
            });
        }
        Ok(Self { system, number })
    }

    /// Every size of a system, thickest first.
    pub fn series(system: GaugeSystem) -> impl Iterator<Item = Self> {
        let (thickest, thinnest) = system.bounds();
        (thickest..=thinnest).map(move |number| Self { system, number })
    }

    /// The system that the number belongs to.
    pub const fn system(self) -> GaugeSystem {
        self.system
    }

    /// The diameter of the wire.
    ///
    /// Imperial and Birmingham sizes are table values; American sizes follow
    /// d = 0.005 in · 92^((36 − n)/39) (published: ASTM B258).
    pub fn diameter(self) -> Length {
        let thou = |table: &[f64]| {
            let (thickest, _) = self.system.bounds();
            let row = usize::try_from(self.number - thickest).unwrap_or(0);
            Length::inches(table.get(row).copied().unwrap_or(f64::NAN) / 1000.0)
        };
        match self.system {
            GaugeSystem::Imperial => thou(&SWG_THOU),
            GaugeSystem::Birmingham => thou(&BWG_THOU),
            GaugeSystem::American => {
                let exponent = (36.0 - f64::from(self.number)) / 39.0;
                Length::inches(0.005 * libm::pow(92.0, exponent))
            }
        }
    }
}

impl fmt::Display for Gauge {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letters = self.system.letters();
        if self.number < 0 {
            write!(f, "{}/0 {letters}", 1 - i16::from(self.number))
        } else {
            write!(f, "{} {letters}", self.number)
        }
    }
}

/// What stands before a system's letters, which are read in any case: no other
/// wire is called by them in small ones.
fn before_letters<'a>(text: &'a str, letters: &str) -> Option<&'a str> {
    let cut = text.len().checked_sub(letters.len())?;
    let (before, found) = text.split_at_checked(cut)?;
    found.eq_ignore_ascii_case(letters).then_some(before)
}

/// Why a text is not a gauge.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum GaugeFault {
    /// The text does not end in the letters of a known system.
    #[error("no gauge system is named")]
    NoSystem,
    /// What stands before the letters is not a whole number or `n/0`.
    #[error("`{0}` is not a gauge number")]
    NotANumber(String),
    /// The system has no such size.
    #[error(transparent)]
    NoSuchGauge(#[from] NoSuchGauge),
}

impl FromStr for Gauge {
    type Err = GaugeFault;

    fn from_str(text: &str) -> Result<Self, GaugeFault> {
        let text = text.trim();
        let (number, system) = GaugeSystem::ALL
            .iter()
            .find_map(|&system| Some((before_letters(text, system.letters())?, system)))
            .ok_or(GaugeFault::NoSystem)?;
        let number = number.trim_end();
        let not_a_number = || GaugeFault::NotANumber(number.to_owned());
        let digits = |text: &str| -> Option<i8> {
            text.bytes()
                .all(|b| b.is_ascii_digit())
                .then(|| text.parse().ok())?
        };
        let number = match number.split_once('/') {
            Some((zeros, "0")) => match digits(zeros) {
                Some(n @ 1..) => 1 - n,
                _ => return Err(not_a_number()),
            },
            Some(_) => return Err(not_a_number()),
            None => digits(number).ok_or_else(not_a_number)?,
        };
        Ok(Self::new(system, number)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> f64 {
        text.parse::<Gauge>().expect(text).diameter().as_mm()
    }

    #[test]
    fn imperial_sizes_are_the_published_ones() {
        // Published: engineering handbooks, BS 3737:1964; converted at 25.4 mm.
        for (gauge, expected) in [
            ("7/0 SWG", 12.7),
            ("15 SWG", 1.8288),
            ("16 SWG", 1.6256),
            ("17 SWG", 1.4224),
            ("18 SWG", 1.2192),
            ("28 SWG", 0.37592),
            ("50 SWG", 0.0254),
        ] {
            assert!(
                (mm(gauge) - expected).abs() < 1e-12,
                "{gauge}: {}",
                mm(gauge)
            );
        }
    }

    #[test]
    fn american_sizes_are_the_published_ones() {
        // Published: ASTM B258, in inches to six decimals.
        for (gauge, inches) in [
            ("4/0 AWG", 0.460_000),
            ("0 AWG", 0.324_861),
            ("10 AWG", 0.101_897),
            ("18 AWG", 0.040_303),
            ("24 AWG", 0.020_101),
            ("36 AWG", 0.005_000),
        ] {
            let got = mm(gauge) / 25.4;
            assert!((got - inches).abs() < 5e-7, "{gauge}: {got}");
        }
    }

    #[test]
    fn birmingham_sizes_are_the_published_ones() {
        // Published: engineering handbooks, in thousandths of an inch.
        for (gauge, thou) in [
            ("4/0 BWG", 454.0),
            ("0 BWG", 340.0),
            ("16 BWG", 65.0),
            ("18 BWG", 49.0),
            ("36 BWG", 4.0),
        ] {
            let got = mm(gauge) / 25.4 * 1000.0;
            assert!((got - thou).abs() < 1e-9, "{gauge}: {got}");
        }
    }

    #[test]
    fn every_gauge_string_round_trips_and_gets_thinner() {
        for system in GaugeSystem::ALL {
            let mut last = f64::INFINITY;
            for gauge in Gauge::series(system) {
                assert_eq!(gauge.to_string().parse(), Ok(gauge));
                assert!(gauge.diameter().as_mm() < last, "{gauge}");
                last = gauge.diameter().as_mm();
            }
        }
    }

    #[test]
    fn a_number_outside_the_series_says_how_far_the_series_runs() {
        let fault = "51 SWG"
            .parse::<Gauge>()
            .expect_err("51 SWG does not exist");
        assert_eq!(
            fault.to_string(),
            "the Imperial Standard Wire Gauge runs from 7/0 SWG to 50 SWG"
        );
    }

    #[test]
    fn texts_that_name_no_single_wire_are_refused() {
        for text in [
            "16", "16 gauge", "G16", "-1 SWG", "+16 SWG", "1/2 SWG", "0/0 SWG", "SWG",
        ] {
            assert!(text.parse::<Gauge>().is_err(), "{text}");
        }
        // House rule: the letters in any case, always written in capitals.
        for text in ["17 swg", "17 Swg", "17swg"] {
            let gauge = text.parse::<Gauge>().map(|gauge| gauge.to_string());
            assert_eq!(gauge.as_deref(), Ok("17 SWG"), "{text}");
        }
        // 1/0 is the trade's other spelling of 0.
        assert_eq!("1/0 SWG".parse::<Gauge>(), "0 SWG".parse::<Gauge>());
    }
}
