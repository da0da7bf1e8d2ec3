//! Numbers and days on the command line, with what to write instead where one is wrong.

use jiff::civil::Date;

/// Reads a plain decimal number.
pub(crate) fn number(text: &str) -> Result<f64, String> {
    let bare = text.trim().trim_end_matches(|c: char| c.is_alphabetic());
    let bare = bare.trim_end();
    let pointed = bare.replacen(',', ".", 1);
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() => Ok(number),
        Err(_) if pointed != text && pointed.parse::<f64>().is_ok() => {
            let why = if pointed == bare {
                "give the number without a unit"
            } else {
                "the decimal mark is the point"
            };
            Err(format!("{why}: write `{pointed}`"))
        }
        _ => Err("give a plain decimal number, such as `12` or `12.5`".to_owned()),
    }
}

/// A list of two numbers that looks like one with a decimal comma: what to
/// write instead. A list of three is meant as one.
pub(crate) fn decimal_comma(option: &str, numbers: &[f64]) -> Result<(), String> {
    match *numbers {
        [whole, decimals] if whole >= 10.0 && decimals < 10.0 && decimals.fract() == 0.0 => {
            Err(format!(
                "`{option} {whole},{decimals}` gives two numbers, {whole} and {decimals}: the \
                 decimal mark is the point, write `{whole}.{decimals}`"
            ))
        }
        _ => Ok(()),
    }
}

/// Reads a day as files write it.
pub(crate) fn day(text: &str) -> Result<Date, String> {
    let date = text.parse::<Date>().ok();
    date.filter(|date| date.to_string() == text)
        .ok_or_else(|| "write year, month and day, such as `2026-11-25`".to_owned())
}
