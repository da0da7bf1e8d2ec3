//! Why a text is not the quantity that was asked for, and what to write instead.

use super::area_notation::parse_area;
use super::gauge::GaugeFault;
use super::notation::{parse_length, parse_number, parse_percent};

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
    /// A number with a zero before its digits, such as `0107`.
    #[error("`{0}` has a zero before its digits")]
    LeadingZero(String),
    /// A whole number with a fraction of one or more behind it, such as `4 17/16`.
    #[error("`{0}` has a fraction behind the whole number that is one or more")]
    ImproperFraction(String),
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
    /// The same of what stands in a cell, to which a unit was added before it was read.
    #[must_use]
    pub(crate) fn of_cell(self, cell: &str) -> Self {
        let cell = || cell.trim().to_owned();
        match self {
            Self::DecimalComma(_) => Self::DecimalComma(cell()),
            Self::LeadingZero(_) => Self::LeadingZero(cell()),
            other => other,
        }
    }

    /// What to write instead.
    pub fn remedy(&self) -> String {
        match self {
            Self::Empty => "write a number in the file's units, or a text with its unit such as \
                            `8.0 mm` or `5/16 in`"
                .to_owned(),
            Self::DecimalComma(text) => without_comma(text),
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
            Self::LeadingZero(text) => {
                let bare = text.trim_start_matches(['-', '0']);
                let bare = if bare.starts_with(|c: char| c.is_ascii_digit()) {
                    bare.to_owned()
                } else {
                    format!("0{bare}")
                };
                let sign = if text.starts_with('-') { "-" } else { "" };
                format!("write `{sign}{bare}`, if no other figure is missing")
            }
            Self::ImproperFraction(_) => {
                "write a fraction below one behind a whole number, such as `4 7/32 in`, or a \
                 decimal number"
                    .to_owned()
            }
            Self::DividesByZero(_) => "give the fraction a lower number such as 16".to_owned(),
            Self::NoGaugeSystem(text) if text.to_ascii_lowercase().contains("us") => {
                "sizes of US gauges are other wires than those of SWG, AWG and BWG: give the \
                 wire's width, such as `1.6 mm`"
                    .to_owned()
            }
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

/// A text with a decimal comma as it can be read; both readings where the comma may stand
/// between thousands.
fn without_comma(text: &str) -> String {
    let is_read = |text: &str| {
        parse_number(text).is_ok()
            || parse_length(text).is_ok()
            || parse_percent(text).is_ok()
            || parse_area(text).is_ok()
    };
    let pointed = text.replacen(',', ".", 1);
    if !is_read(&pointed) {
        return "write a decimal point, and nothing between thousands".to_owned();
    }
    let joined = text.replacen(',', "", 1);
    let behind = text.split_once(',').map_or("", |(_, behind)| behind);
    let digits = behind.bytes().take_while(u8::is_ascii_digit).count();
    if digits == 3 && !behind.contains('/') && is_read(&joined) {
        format!(
            "write `{pointed}` if the comma is a decimal mark, or `{joined}` if it separates thousands"
        )
    } else {
        format!("write `{pointed}`")
    }
}
