//! Text that becomes an area.

use super::notation::parse_number;
use super::{Area, LengthUnit, NotationFault};

/// Why a text is no area.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum AreaFault {
    /// A number in quotes, or a fraction, without a unit.
    #[error("`{0}` states no unit of area")]
    NoUnit(String),
    /// Something other than mm² or in².
    #[error("`{0}` is not a unit of area that can be used here")]
    UnknownUnit(String),
    /// What stands before the unit is not a plain number.
    #[error(transparent)]
    Number(NotationFault),
}

impl AreaFault {
    /// What to write instead.
    pub fn remedy(&self) -> String {
        match self {
            Self::NoUnit(text) => format!(
                "add the unit (`{text} mm²` or `{text} in²`), or write a bare number without \
                 quotes to use the square of the file's units"
            ),
            Self::UnknownUnit(unit) => match unit.as_str() {
                "mm" => "an area is written in `mm²` (or `mm2`)".to_owned(),
                "in" => "an area is written in `in²` (or `in2`)".to_owned(),
                "cm²" | "cm2" => "write the area in mm²: a hundred times the number".to_owned(),
                _ => "areas are written in `mm²` or `in²`; `mm2` and `in2` will do".to_owned(),
            },
            Self::Number(NotationFault::DecimalComma(text)) => {
                NotationFault::DecimalComma(text.clone()).remedy()
            }
            Self::Number(_) => "write a plain decimal number such as `242`, or a text with its \
                                unit such as `242 mm²` or `0.375 in²`"
                .to_owned(),
        }
    }
}

impl LengthUnit {
    /// The area of `number` squares of this unit.
    pub const fn area(self, number: f64) -> Area {
        let side = self.length(1.0).as_mm();
        Area::mm2(number * side * side)
    }
}

/// Reads an area with its own unit: `242 mm²`, `0.375 in2`, `3/8 in²`. The result is
/// finite; its sign and range are the caller's to check.
///
/// ```
/// use ringrule::units::parse_area;
///
/// assert_eq!(parse_area("0.375 in²")?.to_string(), "241.93 mm²");
/// assert!(parse_area("242 mm").is_err());
/// # Ok::<(), ringrule::units::AreaFault>(())
/// ```
pub fn parse_area(text: &str) -> Result<Area, AreaFault> {
    let text = text.trim();
    let cut = text.find(char::is_alphabetic).unwrap_or(text.len());
    let (number, unit) = text.split_at(cut);
    let number = number.trim_end();
    if number.is_empty() {
        return Err(AreaFault::Number(NotationFault::NotANumber(
            text.to_owned(),
        )));
    }
    let number = parse_number(number).map_err(AreaFault::Number)?;
    match unit.trim() {
        "mm²" | "mm2" => Ok(LengthUnit::Mm.area(number)),
        "in²" | "in2" => Ok(LengthUnit::In.area(number)),
        "" => Err(AreaFault::NoUnit(text.to_owned())),
        other => Err(AreaFault::UnknownUnit(other.to_owned())),
    }
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::*;

    #[test]
    fn an_area_is_the_number_times_the_square_of_its_unit() {
        // An inch is 25.4 mm exactly (published: the international yard and pound
        // agreement of 1959, from memory).
        for (text, mm2) in [
            ("242 mm²", 242.0),
            ("242mm2", 242.0),
            ("0.375 in²", 241.9350),
            ("3/8 in2", 241.9350),
            ("-3 mm²", -3.0),
        ] {
            let area = parse_area(text).expect("an area").as_mm2();
            assert!((area - mm2).abs() < 1e-9, "{text}: {area}");
        }
    }

    #[test]
    fn what_is_no_area_is_refused_with_a_remedy() {
        for (text, remedy) in [
            ("242", "mm²"),
            ("242 mm", "`mm²`"),
            ("0.375 in", "`in²`"),
            ("2,42 mm²", "write `2.42`"),
            ("2.42 cm²", "hundred times"),
            ("242 acres", "`mm²` or `in²`"),
            ("mm²", "plain decimal number"),
            ("", "plain decimal number"),
            ("nan mm²", "plain decimal number"),
            ("1e3 mm²", "`mm²` or `in²`"),
        ] {
            let fault = parse_area(text).expect_err("no area");
            assert!(
                fault.remedy().contains(remedy),
                "{text}: {}",
                fault.remedy()
            );
        }
    }
}
