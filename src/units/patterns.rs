//! The notations as regular expressions, for JSON Schema: what the readers of this
//! room take, and no more.
//!
//! They are written in what ECMA-262 and every other dialect have in common. The
//! readers stay the ones who say what is wrong: an editor shows while somebody types
//! what the program would say afterwards. `tests/schema_forms.rs` holds each pattern
//! against its reader, but for what digits alone do not show: whether a fraction behind a
//! whole number is below one. A zero with a minus sign, which readers of what is not
//! negative let pass, is left out.

/// Blanks between the parts of a number.
const BLANK: &str = r"[ \t\n\f\r]";
/// Digits, and perhaps a point with digits behind it.
const DECIMAL: &str = r"(0|[1-9][0-9]*)(\.[0-9]+)?";
/// A whole number before a fraction.
const WHOLE: &str = "(0|[1-9][0-9]*)";
/// A number as programs write it: an exponent is allowed, and a bare point.
const SCIENTIFIC: &str = r"[0-9]+(\.[0-9]*)?([eE][+-]?[0-9]+)?";
/// Gauge numbers before the letters of their system, which are read in any case.
const GAUGE: &str = r"(0*([0-9]|[1-4][0-9]|50)|0*[1-7]/0)\s*[Ss][Ww][Gg]|(0*([0-9]|[1-3][0-9]|40)|0*[1-4]/0)\s*[Aa][Ww][Gg]|(0*([0-9]|[12][0-9]|3[0-6])|0*[1-4]/0)\s*[Bb][Ww][Gg]";

/// A decimal, a fraction, or a whole number and a fraction; no sign.
fn number() -> String {
    format!(r"({DECIMAL}|({WHOLE}{BLANK}+)?[0-9]+/0*[1-9][0-9]*)")
}

/// The whole text is one of these, with blanks around it.
fn whole(forms: &[String]) -> String {
    format!(r"^\s*({})\s*$", forms.join("|"))
}

fn length_form(sign: &str) -> String {
    format!(r"{sign}{}\s*(mm|in)", number())
}

fn either_sign() -> String {
    format!("(-{BLANK}*)?")
}

/// `parse_length`: a length with its unit, of either sign.
pub(crate) fn length() -> String {
    whole(&[length_form(&either_sign())])
}

/// A length with its unit that is not negative.
pub(crate) fn positive_length() -> String {
    whole(&[length_form("")])
}

/// `parse_wire`: a gauge with its system, or a length.
pub(crate) fn wire() -> String {
    whole(&[GAUGE.to_owned(), length_form("")])
}

/// `none`, or a length that is not negative.
pub(crate) fn length_or_none() -> String {
    whole(&["none".to_owned(), length_form("")])
}

/// `parse_area` of an area that is not negative.
pub(crate) fn area() -> String {
    whole(&[format!(r"{}\s*(mm²|mm2|in²|in2)", number())])
}

/// `parse_percent` of a percentage that is not negative.
pub(crate) fn percent() -> String {
    whole(&[percent_form()])
}

fn percent_form() -> String {
    format!(r"{}\s*%", number())
}

/// A percentage that is not negative, or `any`.
pub(crate) fn percent_or_any() -> String {
    whole(&["any".to_owned(), percent_form()])
}

/// A percentage above 50 % and below 100 %; a fraction may be anything.
pub(crate) fn confidence() -> String {
    let decimal = r"(5[1-9]|[6-9][0-9])(\.[0-9]+)?|50\.[0-9]*[1-9][0-9]*";
    let fraction = format!(r"({WHOLE}{BLANK}+)?[0-9]+/0*[1-9][0-9]*");
    whole(&[format!(r"({decimal}|{fraction})\s*%")])
}

/// What metal does to a dart: a word, or a percentage up to 100 %; a fraction may be
/// anything.
pub(crate) fn metal() -> String {
    let decimal = r"(100(\.0+)?|(0|[1-9][0-9]?)(\.[0-9]+)?)";
    let fraction = format!(r"({WHOLE}{BLANK}+)?[0-9]+/0*[1-9][0-9]*");
    whole(&[format!(r"lost|glances|({decimal}|{fraction})\s*%")])
}

/// `parse_temperature`.
pub(crate) fn temperature() -> String {
    whole(&[format!(r"(-?{SCIENTIFIC}|-\.[0-9]+)\s*(°C|C|°F|F)")])
}

/// `parse_kelvins` of a difference that is not negative.
pub(crate) fn kelvins() -> String {
    whole(&[format!(r"{SCIENTIFIC}\s*(K|°C|C|°F|F)")])
}

/// `parse_expansion` of a coefficient that is not negative. Without an exponent, a
/// part per kelvin is less than a thousandth.
pub(crate) fn expansion() -> String {
    let parts = r"(µm/\(m·K\)|um/\(m K\)|ppm/K|ppm/°C|ppm/°F)";
    let small = r"([0-9]+(\.[0-9]*)?[eE][+-]?[0-9]+|0+(\.0{0,2}|\.000[0-9]*)?)";
    whole(&[
        format!(r"{SCIENTIFIC}\s*{parts}"),
        format!(r"{small}\s*(/K|/°C|/°F)"),
    ])
}

/// Where around the board: a sector's number, or degrees.
pub(crate) fn bearing() -> String {
    whole(&[
        r"0*([1-9]|1[0-9]|20)(\.0*)?".to_owned(),
        format!(r"[+]?({SCIENTIFIC}|\.[0-9]+)\s*(°|degrees|deg)"),
    ])
}

/// What the bounds of a limit may be: of a length, a wire, an angle.
pub(crate) fn bound() -> String {
    whole(&[GAUGE.to_owned(), length_form(""), angle_form()])
}

/// How far a limit may be missed on one side: by a length, an angle, a share.
pub(crate) fn distance() -> String {
    whole(&[length_form(""), angle_form(), percent_form()])
}

fn angle_form() -> String {
    format!(r"({SCIENTIFIC}|\.[0-9]+)\s*(°|degrees|deg)")
}

/// A day of the calendar, year first. Whether a February has a 29th is left to the
/// reader.
pub(crate) fn day() -> String {
    let month_and_day = r"((0[13578]|1[02])-(0[1-9]|[12][0-9]|3[01])|(0[469]|11)-(0[1-9]|[12][0-9]|30)|02-(0[1-9]|[12][0-9]))";
    format!(r"^([0-9]{{4}}|-00[0-9]{{4}})-{month_and_day}$")
}

/// A period of whole days, weeks, months or years.
pub(crate) fn period() -> String {
    whole(&[
        r"0*[1-9][0-9]*\s*(days|day|d|weeks|week|wks|wk|w|months|month|mos|mo|years|year|yrs|yr|y)"
            .to_owned(),
    ])
}

/// Anything but blanks.
pub(crate) const SOMETHING: &str = r"\S";
