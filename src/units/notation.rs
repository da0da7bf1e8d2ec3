//! The one place where text becomes a length, a wire size or a percentage.
//!
//! Nothing is guessed: a text that two people could read in two ways is a
//! [`NotationFault`], and each fault says what to write instead.

use std::fmt;

use super::gauge::GaugeFault;
use super::{Gauge, Length, NotationFault, Percent};

/// The unit of a bare number in a file.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, serde::Deserialize, serde::Serialize, schemars::JsonSchema,
)]
#[serde(rename_all = "lowercase")]
pub enum LengthUnit {
    /// Millimetres.
    Mm,
    /// Inches of exactly 25.4 mm.
    In,
}

impl LengthUnit {
    /// The length of `number` of these units.
    pub const fn length(self, number: f64) -> Length {
        match self {
            Self::Mm => Length::mm(number),
            Self::In => Length::inches(number),
        }
    }

    /// How the unit is written behind a number.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::In => "in",
        }
    }
}

impl std::str::FromStr for LengthUnit {
    type Err = NotationFault;

    fn from_str(text: &str) -> Result<Self, NotationFault> {
        match text {
            "mm" => Ok(Self::Mm),
            "in" => Ok(Self::In),
            _ => Err(NotationFault::UnknownUnit(text.to_owned())),
        }
    }
}

/// The thickness of a wire, and the gauge it was given as, if any.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct WireSize {
    /// Diameter of a round wire, thickness of a strip.
    pub width: Length,
    /// The gauge, where the text gave one.
    pub gauge: Option<Gauge>,
}

impl From<Gauge> for WireSize {
    fn from(gauge: Gauge) -> Self {
        Self {
            width: gauge.diameter(),
            gauge: Some(gauge),
        }
    }
}

impl From<Length> for WireSize {
    fn from(width: Length) -> Self {
        Self { width, gauge: None }
    }
}

impl fmt::Display for WireSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.gauge {
            Some(gauge) => write!(f, "{gauge} ({:.4})", self.width),
            None => write!(f, "{:.3}", self.width),
        }
    }
}

/// Reads a length with its own unit: `8.0 mm`, `0.315 in`, `5/16 in`,
/// `6 5/16 in`. The result is finite; its sign and range are the caller's to
/// check.
pub fn parse_length(text: &str) -> Result<Length, NotationFault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NotationFault::Empty);
    }
    let cut = text
        .find(|c: char| c.is_alphabetic() || matches!(c, '"' | '″' | '%'))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(cut);
    let (number, unit) = (number.trim_end(), unit.trim());
    // `1e999` and `.nan` begin like a number and a unit; say what they are.
    let no_digits = !number.contains(|c: char| c.is_ascii_digit());
    if no_digits || unit.starts_with(['e', 'E']) && number.ends_with(char::is_numeric) {
        return Err(
            if text.contains(char::is_numeric) && text.parse::<f64>().is_ok() {
                NotationFault::NotFinite(text.to_owned())
            } else {
                NotationFault::NotANumber(text.to_owned())
            },
        );
    }
    let number = parse_number(number).map_err(|fault| match fault {
        // What is to be written instead has its unit too.
        NotationFault::DecimalComma(_) => NotationFault::DecimalComma(text.to_owned()),
        NotationFault::LeadingZero(_) => NotationFault::LeadingZero(text.to_owned()),
        other => other,
    })?;
    if unit.is_empty() {
        return Err(NotationFault::NoUnit(text.to_owned()));
    }
    Ok(unit.parse::<LengthUnit>()?.length(number))
}

/// Reads a wire: a gauge with its system (`16 SWG`) or a width (`1.6 mm`).
pub fn parse_wire(text: &str) -> Result<WireSize, NotationFault> {
    let text = text.trim();
    match text.parse::<Gauge>() {
        Ok(gauge) => Ok(gauge.into()),
        Err(GaugeFault::NoSystem) => match parse_length(text) {
            Ok(width) => Ok(width.into()),
            // `16`, `16 gauge`, `16g`, `swg 16`: a gauge was meant.
            Err(NotationFault::NoUnit(text)) => Err(NotationFault::NoGaugeSystem(text)),
            Err(NotationFault::UnknownUnit(unit)) if is_other_gauge(&unit) => {
                Err(NotationFault::NoGaugeSystem(text.to_owned()))
            }
            Err(_) if names_gauge(text) => Err(NotationFault::NoGaugeSystem(text.to_owned())),
            Err(fault) => Err(fault),
        },
        Err(fault) => Err(NotationFault::Gauge {
            text: text.to_owned(),
            fault,
        }),
    }
}

/// Letters of wire gauges that are not read (from memory): US Steel, Washburn and Moen.
fn is_other_gauge(unit: &str) -> bool {
    let letters = unit.to_ascii_lowercase().replace(['.', ' ', '&'], "");
    ["us", "ussg", "usswg", "wm", "wg"].contains(&letters.as_str())
}

fn names_gauge(text: &str) -> bool {
    let text = text.to_ascii_lowercase();
    text.contains('g') && text.contains(|c: char| c.is_ascii_digit())
}

/// Reads a percentage with its sign: `3 %`, `95%`.
pub fn parse_percent(text: &str) -> Result<Percent, NotationFault> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NotationFault::Empty);
    }
    let Some(number) = text.strip_suffix('%') else {
        return Err(match parse_number(text) {
            Ok(_) => NotationFault::NoPercentSign(text.to_owned()),
            Err(fault) => fault,
        });
    };
    let number = parse_number(number.trim_end()).map_err(|fault| match fault {
        NotationFault::DecimalComma(_) => NotationFault::DecimalComma(text.to_owned()),
        NotationFault::LeadingZero(_) => NotationFault::LeadingZero(text.to_owned()),
        other => other,
    })?;
    Ok(Percent::finite(number))
}

/// A decimal number, a fraction, or a whole number and a fraction.
pub(super) fn parse_number(text: &str) -> Result<f64, NotationFault> {
    if text.contains(',') {
        return Err(NotationFault::DecimalComma(text.to_owned()));
    }
    let not_a_number = || NotationFault::NotANumber(text.to_owned());
    let (negative, magnitude) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let mut words = magnitude.split_ascii_whitespace();
    let value = match (words.next(), words.next(), words.next()) {
        (Some(word), None, None) if word.contains('/') => parse_fraction(word, text)?,
        (Some(word), None, None) => {
            let value = parse_decimal(word).ok_or_else(not_a_number)?;
            if begins_with_zeros(word) {
                return Err(NotationFault::LeadingZero(text.to_owned()));
            }
            value
        }
        (Some(whole), Some(part), None) if is_whole(whole) && part.contains('/') => {
            let value = parse_decimal(whole).ok_or_else(not_a_number)?;
            let part = parse_fraction(part, text)?;
            if begins_with_zeros(whole) {
                return Err(NotationFault::LeadingZero(text.to_owned()));
            }
            if part >= 1.0 {
                return Err(NotationFault::ImproperFraction(text.to_owned()));
            }
            value + part
        }
        _ => return Err(not_a_number()),
    };
    if value.is_finite() {
        Ok(if negative { -value } else { value })
    } else {
        Err(NotationFault::NotFinite(text.to_owned()))
    }
}

/// Whether a zero stands before other digits: another figure may have been meant.
fn begins_with_zeros(text: &str) -> bool {
    let mut digits = text.bytes();
    digits.next() == Some(b'0') && digits.next().is_some_and(|next| next.is_ascii_digit())
}

fn is_whole(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

/// Digits with at most one point between them: no signs, exponents or words.
fn parse_decimal(text: &str) -> Option<f64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    (is_whole(whole) && is_whole(part)).then(|| text.parse().ok())?
}

fn parse_fraction(word: &str, text: &str) -> Result<f64, NotationFault> {
    let not_a_number = || NotationFault::NotANumber(text.to_owned());
    let (upper, lower) = word.split_once('/').ok_or_else(not_a_number)?;
    if !is_whole(upper) || !is_whole(lower) {
        return Err(not_a_number());
    }
    let upper: f64 = upper.parse().map_err(|_| not_a_number())?;
    let lower: f64 = lower.parse().map_err(|_| not_a_number())?;
    if lower == 0.0 {
        return Err(NotationFault::DividesByZero(text.to_owned()));
    }
    Ok(upper / lower)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_with_units_are_read() {
        for (text, mm) in [
            ("8.0 mm", 8.0),
            ("8mm", 8.0),
            ("-0.2 mm", -0.2),
            ("1 in", 25.4), // published: 1 in = 25.4 mm exactly
            ("5/16 in", 7.9375),
            ("6 5/16 in", 160.3375),
            ("  340.0   mm ", 340.0),
        ] {
            let got = parse_length(text).expect(text).as_mm();
            assert!((got - mm).abs() < 1e-12, "{text}: {got}");
        }
    }

    #[test]
    fn what_could_be_read_in_two_ways_is_refused() {
        use NotationFault as F;
        let s = str::to_owned;
        for (text, fault) in [
            ("", F::Empty),
            ("1,5 mm", F::DecimalComma(s("1,5 mm"))),
            ("0107 mm", F::LeadingZero(s("0107 mm"))),
            ("00 7/32 in", F::LeadingZero(s("00 7/32 in"))),
            ("4 17/16 in", F::ImproperFraction(s("4 17/16"))),
            ("8.0", F::NoUnit(s("8.0"))),
            ("5/16", F::NoUnit(s("5/16"))),
            ("10.7 cm", F::UnknownUnit(s("cm"))),
            ("5/0 in", F::DividesByZero(s("5/0"))),
            ("8. mm", F::NotANumber(s("8."))),
            (".5 mm", F::NotANumber(s(".5"))),
            ("+8 mm", F::NotANumber(s("+8"))),
            ("1 2 mm", F::NotANumber(s("1 2"))),
            ("1e3 mm", F::NotANumber(s("1e3 mm"))),
            ("1e999", F::NotFinite(s("1e999"))),
            (".nan", F::NotANumber(s(".nan"))),
            (".inf", F::NotANumber(s(".inf"))),
            ("mm", F::NotANumber(s("mm"))),
        ] {
            assert_eq!(parse_length(text), Err(fault), "{text}");
        }
    }

    #[test]
    fn a_wire_is_a_gauge_or_a_width() {
        let wire = parse_wire("16 SWG").expect("a gauge");
        assert_eq!(wire.gauge.map(|g| g.to_string()).as_deref(), Some("16 SWG"));
        assert_eq!(wire.to_string(), "16 SWG (1.6256 mm)");
        assert_eq!(parse_wire("0.5 mm").map(|w| w.width), Ok(Length::mm(0.5)));
        for text in ["16", "16 gauge", "swg 16", "16g"] {
            let fault = NotationFault::NoGaugeSystem(text.to_owned());
            assert_eq!(parse_wire(text), Err(fault));
        }
        assert_eq!(parse_wire("16 swg"), parse_wire("16 SWG"));
        let unknown = parse_wire("60 SWG");
        assert!(matches!(unknown, Err(NotationFault::Gauge { .. })));
    }

    #[test]
    fn percentages_need_their_sign() {
        assert_eq!(parse_percent("95 %"), Ok(Percent::finite(95.0)));
        assert_eq!(parse_percent("2.5%"), Ok(Percent::finite(2.5)));
        let unsigned = NotationFault::NoPercentSign("3".to_owned());
        assert_eq!(parse_percent("3"), Err(unsigned));
    }

    #[test]
    fn a_fault_names_the_remedy() {
        let comma = parse_length("1,5 mm").expect_err("a comma");
        assert_eq!(comma.remedy(), "write `1.5 mm`");
        let either = parse_length("1,070 in").expect_err("a comma").remedy();
        assert!(either.contains("`1.070 in`") && either.contains("`1070 in`"));
        let zeros = parse_length("0107 mm").expect_err("a zero");
        assert!(zeros.remedy().contains("`107 mm`"));
        let gauge = parse_wire("16").expect_err("no system");
        assert!(gauge.remedy().contains("16 SWG"));
    }
}
