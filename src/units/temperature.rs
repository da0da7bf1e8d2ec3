//! Temperatures, and how much lengths grow with them.

use std::fmt;

use super::{NotationFault, Uncertainty};

/// A temperature.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// 20 °C, at which lengths are stated (ISO 1:2022, standard reference
    /// temperature for geometrical product specification).
    pub const REFERENCE: Self = Self(20.0);

    /// From degrees Celsius that are known to be finite.
    pub(crate) const fn finite(celsius: f64) -> Self {
        Self(celsius)
    }

    /// Degrees Celsius.
    pub const fn as_celsius(self) -> f64 {
        self.0
    }

    /// Kelvins above 20 °C.
    pub const fn above_reference(self) -> f64 {
        self.0 - Self::REFERENCE.0
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} °C", libm::round(self.0 * 100.0) / 100.0)
    }
}

/// The part by which a length grows for each kelvin, of the length at 20 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Expansion {
    /// The coefficient of linear expansion, 1/K.
    pub per_kelvin: f64,
    /// How well it is known, 1/K; zero if that is not stated.
    pub uncertainty: Uncertainty,
}

impl Expansion {
    /// From numbers that are known to be such.
    pub(crate) const fn finite(per_kelvin: f64, uncertainty: Uncertainty) -> Self {
        Self {
            per_kelvin,
            uncertainty,
        }
    }

    /// How many times its length at 20 °C something has at a temperature.
    pub fn growth(self, at: Temperature) -> f64 {
        1.0 + self.per_kelvin * at.above_reference()
    }
}

impl fmt::Display for Expansion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ppm = |x: f64| libm::round(x * 1e8) / 100.0;
        write!(f, "{} ppm/K", ppm(self.per_kelvin))?;
        if self.uncertainty.standard() > 0.0 {
            write!(f, " ± {} ppm/K", ppm(self.uncertainty.expanded().expanded))?;
        }
        Ok(())
    }
}

/// Reads a temperature with its unit: `27 °C`, `80.5 °F`. The result is finite;
/// its range is the caller's to check.
pub fn parse_temperature(text: &str) -> Result<Temperature, NotationFault> {
    let celsius = |number| number;
    let fahrenheit = |number: f64| (number - 32.0) * 5.0 / 9.0;
    let units: [Unit; 4] = [
        ("°C", celsius),
        ("C", celsius),
        ("°F", fahrenheit),
        ("F", fahrenheit),
    ];
    read(text, &units).map(Temperature)
}

/// Reads a difference of temperatures, in kelvins: `1 K`, `1 °C`, `2 °F`.
pub fn parse_kelvins(text: &str) -> Result<f64, NotationFault> {
    let kelvin = |number| number;
    let fahrenheit = |number: f64| number * 5.0 / 9.0;
    let units: [Unit; 5] = [
        ("K", kelvin),
        ("°C", kelvin),
        ("C", kelvin),
        ("°F", fahrenheit),
        ("F", fahrenheit),
    ];
    read(text, &units)
}

/// Reads a coefficient of linear expansion, in 1/K: `11.5e-6 /K`, `11.5 ppm/K`,
/// `11.5 µm/(m·K)`, `6.4 ppm/°F`.
pub fn parse_expansion(text: &str) -> Result<f64, NotationFault> {
    let plain = |number| number;
    let parts = |number: f64| number * 1e-6;
    let of_fahrenheit = |number: f64| number * 9.0 / 5.0;
    let parts_of_fahrenheit = |number: f64| number * 9.0 / 5.0 * 1e-6;
    // The longer ones first: the shorter ones are their ends.
    let units: [Unit; 8] = [
        ("µm/(m·K)", parts),
        ("um/(m K)", parts),
        ("ppm/K", parts),
        ("ppm/°C", parts),
        ("ppm/°F", parts_of_fahrenheit),
        ("/K", plain),
        ("/°C", plain),
        ("/°F", of_fahrenheit),
    ];
    read(text, &units)
}

/// How a unit is written, and what a number of it comes to.
type Unit = (&'static str, fn(f64) -> f64);

/// A finite number with one of these units behind it.
fn read(text: &str, units: &[Unit]) -> Result<f64, NotationFault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NotationFault::Empty);
    }
    let found = units
        .iter()
        .find_map(|&(unit, scale)| Some((text.strip_suffix(unit)?.trim_end(), scale)));
    let Some((number, scale)) = found else {
        if is_number(text) {
            return Err(NotationFault::NoUnit(text.to_owned()));
        }
        let end = text.rfind(|c: char| c.is_ascii_digit());
        let unit = end.and_then(|end| text.get(end + 1..)).map(str::trim);
        return Err(match unit {
            Some(unit) if !unit.is_empty() => NotationFault::UnknownUnit(unit.to_owned()),
            _ => NotationFault::NotANumber(text.to_owned()),
        });
    };
    if number.contains(',') {
        return Err(NotationFault::DecimalComma(number.to_owned()));
    }
    if !is_number(number) {
        return Err(NotationFault::NotANumber(number.to_owned()));
    }
    match number.parse::<f64>() {
        Ok(number) if scale(number).is_finite() => Ok(scale(number)),
        _ => Err(NotationFault::NotFinite(number.to_owned())),
    }
}

/// Whether it is digits, perhaps with a sign, a point and an exponent; words
/// that a parser of numbers knows, such as `nan`, are none.
fn is_number(text: &str) -> bool {
    let sound = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E');
    text.starts_with(|c: char| c.is_ascii_digit() || c == '-')
        && text.chars().all(sound)
        && text.parse::<f64>().is_ok()
}

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn temperatures_have_units() {
        // By definition: 32 °F is 0 °C, 212 °F is 100 °C.
        for (text, celsius) in [
            ("27 °C", 27.0),
            ("27.5C", 27.5),
            ("-3 °C", -3.0),
            ("32 °F", 0.0),
            ("212 F", 100.0),
        ] {
            let read = parse_temperature(text).expect(text).as_celsius();
            assert!((read - celsius).abs() < 1e-12, "{text}: {read}");
        }
        assert_eq!(parse_kelvins("1 K"), Ok(1.0));
        assert_eq!(parse_kelvins("9 °F"), Ok(5.0));
    }

    #[test]
    fn coefficients_have_units() {
        for text in [
            "11.5e-6 /K",
            "11.5E-6/K",
            "11.5 ppm/K",
            "11.5 µm/(m·K)",
            "0.0000115 /°C",
        ] {
            let read = parse_expansion(text).expect(text);
            assert!((read / 11.5e-6 - 1.0).abs() < 1e-12, "{text}: {read}");
        }
        // By definition: a kelvin is 1.8 degrees Fahrenheit.
        let read = parse_expansion("10 ppm/°F").expect("read");
        assert!((read - 18e-6).abs() < 1e-18, "{read}");
    }

    #[test]
    fn what_is_none_says_why() {
        use NotationFault as N;
        let of = |text: &str| parse_temperature(text).expect_err(text);
        assert_eq!(of(""), N::Empty);
        assert_eq!(of("27"), N::NoUnit("27".to_owned()));
        assert_eq!(of("300 K"), N::UnknownUnit("K".to_owned()));
        assert_eq!(of("27,5 °C"), N::DecimalComma("27,5".to_owned()));
        assert_eq!(of("nan °C"), N::NotANumber("nan".to_owned()));
        assert_eq!(of("inf °C"), N::NotANumber("inf".to_owned()));
        assert_eq!(of("1e999 °C"), N::NotFinite("1e999".to_owned()));
        assert_eq!(of("warm"), N::NotANumber("warm".to_owned()));
        let of = |text: &str| parse_expansion(text).expect_err(text);
        assert_eq!(of("11.5e-6"), N::NoUnit("11.5e-6".to_owned()));
        assert_eq!(of("11.5 mm/K"), N::NotANumber("11.5 mm".to_owned()));
        assert_eq!(of("11.5 ppm"), N::UnknownUnit("ppm".to_owned()));
    }
}
