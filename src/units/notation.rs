//! The one place where text becomes a length, a wire size or a percentage.
//!
//! Nothing is guessed: a text that two people could read in two ways is a
//! [`NotationFault`], and each fault says what to write instead.

use std::fmt;

use super::gauge::GaugeFault;
use super::{Gauge, Length, Percent};

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

/// Why a text is not the quantity that was asked for.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NotationFault {
    /// Nothing was written.
    #[error("there is no value here")]
    Empty,
    /// A comma where the decimal point belongs.
    #[error("`{0}` has a comma where a decimal point belongs")]
    DecimalComma(String),
    /// A number in quotes, or a fraction, without a unit.
    #[error("`{0}` states no unit")]
    NoUnit(String),
    /// Something other than mm or in.
    #[error("`{0}` is not a unit that can be used here")]
    UnknownUnit(String),
    /// Not a plain decimal number or fraction.
    #[error("`{0}` is not a number")]
    NotANumber(String),
    /// Too large for a finite number.
    #[error("`{0}` is not a finite number")]
    NotFinite(String),
    /// A fraction whose lower number is zero.
    #[error("`{0}` divides by zero")]
    DividesByZero(String),
    /// A gauge without a system, such as `16` or `16 gauge`.
    #[error("`{0}` does not name a gauge system")]
    NoGaugeSystem(String),
    /// A gauge number that is not one, or not in its system.
    #[error("`{text}` is not a wire gauge: {fault}")]
    Gauge {
        /// What was written.
        text: String,
        /// What is wrong with it.
        fault: GaugeFault,
    },
    /// A percentage without its sign.
    #[error("`{0}` has no percent sign")]
    NoPercentSign(String),
}

impl NotationFault {
    /// What to write instead.
    pub fn remedy(&self) -> String {
        match self {
            Self::Empty => "write a number in the file's units, or a text with its unit such as \
                            `8.0 mm` or `5/16 in`"
                .to_owned(),
            Self::DecimalComma(text) => {
                let pointed = text.replacen(',', ".", 1);
                match parse_number(&pointed) {
                    Ok(_) => format!("write `{pointed}`"),
                    Err(_) => "write a decimal point, and nothing between thousands".to_owned(),
                }
            }
            Self::NoUnit(text) => format!(
                "add the unit (`{text} mm` or `{text} in`), or write a bare number without quotes \
                 to use the file's units"
            ),
            Self::UnknownUnit(unit) => match unit.as_str() {
                "cm" => "write the length in mm: ten times the number".to_owned(),
                "\"" | "″" | "inch" | "inches" | "IN" | "In" => {
                    "write `in` for inches".to_owned()
                }
                "MM" | "Mm" | "millimetre" | "millimetres" | "millimeters" => {
                    "write `mm` for millimetres".to_owned()
                }
                "thou" | "mil" => "write the length in inches: 8 thou is `0.008 in`".to_owned(),
                _ => "lengths are written in `mm` or `in`".to_owned(),
            },
            Self::NotANumber(_) | Self::NotFinite(_) => {
                "write a plain decimal number such as `107.0`, or a text with its unit such as \
                 `107.0 mm`, `4.21 in` or `4 7/32 in`"
                    .to_owned()
            }
            Self::DividesByZero(_) => "give the fraction a lower number such as 16".to_owned(),
            Self::NoGaugeSystem(text) => {
                let number: String = text.chars().filter(char::is_ascii_digit).collect();
                let number = if number.is_empty() { "16" } else { &number };
                format!(
                    "name the system (`{number} SWG` for Imperial Standard, `{number} AWG`, \
                     `{number} BWG`), or give the wire's width, such as `1.6 mm`"
                )
            }
            Self::Gauge { fault, .. } => match fault {
                GaugeFault::NoSuchGauge(_) => {
                    "measure the wire and write its width, such as `1.6 mm`".to_owned()
                }
                _ => {
                    "write a whole number and the system, such as `16 SWG`, or `2/0 SWG`".to_owned()
                }
            },
            Self::NoPercentSign(text) => match text.trim().parse::<f64>() {
                // `0.3` is more likely a share: with a mere sign behind it, it
                // would be a hundredth of what is meant.
                Ok(share) if share > 0.0 && share <= 1.0 => {
                    let percent = (share * 1e6).round() / 1e4;
                    format!("write `{percent} %` for a share of {text} of the whole")
                }
                _ => format!("write `{text} %`"),
            },
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
    let number = parse_number(number)?;
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
            Err(_) if names_gauge(text) => Err(NotationFault::NoGaugeSystem(text.to_owned())),
            Err(fault) => Err(fault),
        },
        Err(fault) => Err(NotationFault::Gauge {
            text: text.to_owned(),
            fault,
        }),
    }
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
    Ok(Percent::finite(parse_number(number.trim_end())?))
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
        (Some(word), None, None) => parse_decimal(word).ok_or_else(not_a_number)?,
        (Some(whole), Some(part), None) if is_whole(whole) && part.contains('/') => {
            parse_decimal(whole).ok_or_else(not_a_number)? + parse_fraction(part, text)?
        }
        _ => return Err(not_a_number()),
    };
    if value.is_finite() {
        Ok(if negative { -value } else { value })
    } else {
        Err(NotationFault::NotFinite(text.to_owned()))
    }
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
            ("1,5 mm", F::DecimalComma(s("1,5"))),
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
        assert_eq!(comma.remedy(), "write `1.5`");
        let gauge = parse_wire("16").expect_err("no system");
        assert!(gauge.remedy().contains("16 SWG"));
    }
}
