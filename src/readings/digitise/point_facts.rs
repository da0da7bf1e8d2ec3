//! The rows of a coordinate table that say something about the whole.

use super::feature::Feature;
use super::point_table::StatedScale;
use crate::board::Quantity;
use crate::board::usual::Ranges;
use crate::document::{CsvFormat, Fault, Located, Problem, Problems};
use crate::readings::sheet_facts::Facts;
use crate::units::{Length, Percent, WireSize, parse_length, parse_percent, parse_wire};

/// The facts that a table may state, besides diameters.
pub(super) const FACTS: [&str; 14] = [
    "board",
    "name",
    "mounting",
    "profile",
    "inspector",
    "date",
    "instrument",
    "unit",
    "y axis",
    "edge",
    "ring wires",
    "sector wires",
    "dots per inch",
    "scale uncertainty",
];

/// Before the name of a round feature: that its diameter is known.
pub(super) const DIAMETER: &str = "diameter ";

/// Dots per inch that a scan can have. House rule: from a screen's to beyond
/// what any flatbed resolves.
const DOTS: (f64, f64) = (20.0, 20_000.0);

/// A wire's thickness.
pub(super) fn wire(
    facts: &Facts,
    key: &str,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<WireSize> {
    let Located { value: text, span } = facts.get(key)?;
    let (fault, message, remedy) = match parse_wire(&format.with_point(text)) {
        Ok(size) if Ranges::WIRE.contains(size.width) => return Some(size),
        Ok(size) => (
            Fault::OutOfRange,
            format!("{key} of {} mm are not possible", size.width.as_mm()),
            Ranges::WIRE.words(),
        ),
        Err(fault) => (Fault::Notation, fault.to_string(), fault.remedy()),
    };
    problems.add(Problem::new(fault, *span, message, remedy));
    None
}

/// How well the scale is known.
pub(super) fn scale_uncertainty(
    facts: &Facts,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<Percent> {
    let Located { value: text, span } = facts.get("scale uncertainty")?;
    let (fault, message, remedy) = match parse_percent(&format.with_point(text)) {
        // House rule: a scale that is known no better measures nothing.
        Ok(percent) if percent.value() > 0.0 && percent.value() <= 5.0 => return Some(percent),
        Ok(percent) => (
            Fault::OutOfRange,
            format!(
                "a scale uncertainty of {} % is not possible",
                percent.value()
            ),
            "expected above 0 and up to 5 %, expanded with k = 2".to_owned(),
        ),
        Err(fault) => (Fault::Notation, fault.to_string(), fault.remedy()),
    };
    problems.add(Problem::new(fault, *span, message, remedy));
    None
}

/// The resolution of a scan.
pub(super) fn dots_per_inch(
    facts: &Facts,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<Located<StatedScale>> {
    let Located { value: text, span } = facts.get("dots per inch")?;
    let dots = format.with_point(text).parse::<f64>().ok();
    if let Some(dots) = dots.filter(|dots| (DOTS.0..=DOTS.1).contains(dots)) {
        return Some(Located {
            value: StatedScale::DotsPerInch(dots),
            span: *span,
        });
    }
    let (fault, message) = match dots {
        Some(_) => (
            Fault::OutOfRange,
            format!("no scan has {text} dots per inch"),
        ),
        None => (Fault::Notation, format!("`{text}` is not a number of dots")),
    };
    let remedy = format!(
        "write a number from {} to {}, such as `600`",
        DOTS.0, DOTS.1
    );
    problems.add(Problem::new(fault, *span, message, remedy));
    None
}

/// A diameter that is known beforehand.
pub(super) fn diameter(
    text: &Located<String>,
    feature: Feature,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<Length> {
    let range = match feature {
        Feature::Ring(ring) => Ranges::of(Quantity::Ring(ring, true)),
        _ => Ranges::of(Quantity::Overall),
    };
    let (fault, message, remedy) = match parse_length(&format.with_point(&text.value)) {
        Ok(length) if range.contains(length) => return Some(length),
        Ok(length) => (
            Fault::OutOfRange,
            format!("a diameter of {} mm is not possible", length.as_mm()),
            range.words(),
        ),
        Err(fault) => (Fault::Notation, fault.to_string(), fault.remedy()),
    };
    problems.add(Problem::new(fault, text.span, message, remedy));
    None
}
