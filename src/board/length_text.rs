//! Lengths and wires as they are written.

use serde::{Deserialize, Serialize};

use super::forms;
use crate::units::Length;

/// A length: a number in the file's units, or a text with its own unit
/// (`8.0 mm`, `0.315 in`, `5/16 in`).
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(untagged)]
pub enum LengthText {
    /// A bare number.
    Number(f64),
    /// A text with its unit.
    Text(String),
}

impl LengthText {
    /// Millimetres, to the nanometre: far beyond any reading, and short enough
    /// to read.
    pub(crate) fn mm(length: f64) -> Self {
        Self::Number(libm::round(length * 1e6) / 1e6)
    }

    pub(super) fn length(length: Length) -> Self {
        Self::mm(length.as_mm())
    }
}

/// A wire: a gauge with its system (`16 SWG` Imperial Standard, `14 AWG`,
/// `16 BWG`), or its width as a length.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(transparent)]
pub struct WireText(pub LengthText);

/// The free area of a bed: a number in the square of the file's units, or a text with
/// its own unit (`242 mm²`, `0.375 in²`).
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(transparent)]
pub struct AreaText(pub LengthText);

/// A temperature or a difference of temperatures with its unit (`27 °C`, `1 K`).
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(transparent)]
pub struct TemperatureText(pub LengthText);

/// A coefficient of linear expansion with its unit (`11.5e-6 /K`).
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(transparent)]
pub struct ExpansionText(pub LengthText);

/// All are a number or a text; only the words about them differ, and what the printed
/// schema says of how they are written.
macro_rules! number_or_text {
    ($name:ident, $forms:path, $description:literal, $examples:tt) => {
        impl ::schemars::JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> ::std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut ::schemars::SchemaGenerator) -> ::schemars::Schema {
                let mut schema = ::schemars::json_schema!({
                    "description": $description,
                    "type": ["number", "string"],
                    "examples": $examples,
                });
                $forms(&mut schema);
                schema
            }
        }
    };
}

pub(crate) use number_or_text;

number_or_text!(
    LengthText,
    forms::length,
    "A length: a number in the file's units, or a text with its own unit (`8.0 mm`, `0.315 in`, `5/16 in`).",
    [107.0, "8.0 mm", "6 5/16 in"]
);
number_or_text!(
    WireText,
    forms::wire,
    "A wire: a gauge with its system named (`16 SWG` Imperial Standard, `14 AWG` American, `16 BWG` Birmingham), or its width as a length.",
    ["16 SWG", "0.5 mm", 1.63]
);
number_or_text!(
    AreaText,
    forms::area,
    "An area: a number in the square of the file's units, or a text with its own unit (`242 mm²`, `0.375 in²`; `mm2` and `in2` will do).",
    [242.0, "242 mm²", "0.375 in²"]
);
number_or_text!(
    TemperatureText,
    forms::temperature,
    "A temperature with its unit (`27 °C`, `80.5 °F`), or a difference of temperatures (`1 K`).",
    ["27 °C", "80.5 °F"]
);
number_or_text!(
    ExpansionText,
    forms::expansion,
    "A coefficient of linear expansion with its unit (`11.5e-6 /K`, `11.5 ppm/K`, `11.5 µm/(m·K)`).",
    ["11.5e-6 /K", "11.5 ppm/K"]
);
