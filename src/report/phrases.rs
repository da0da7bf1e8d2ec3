//! The words that several reports share.

use crate::board::{Construction, Edge, Input};
use crate::conformity::{LengthFinding, LimitFinding};
use crate::table::{Interval, Limit, Measurand, Place};
use crate::units::{Length, Percent};

/// Decimals of a length in mm: wires in thousandths, everything else in
/// hundredths, which is what a calliper shows.
pub(super) const fn decimals(measurand: Measurand) -> usize {
    if measurand.is_gauge() { 3 } else { 2 }
}

/// A limit's measurand with its part and its edge, as a heading.
pub(super) fn subject(finding: &LimitFinding<'_>) -> String {
    let limit = finding.limit;
    let name = match (finding.part.as_str(), limit.measurand) {
        ("" | "ring wires", measurand) => measurand.to_string(),
        (part, _) => format!("{part} thickness"),
    };
    match edge_phrase(limit) {
        Some(edge) => format!("{name}, {edge}"),
        None => name,
    }
}

/// Between or to which edges a limit is taken.
pub(super) fn edge_phrase(limit: &Limit) -> Option<&'static str> {
    let edge = limit.edge?;
    let width = matches!(
        limit.measurand,
        Measurand::TrebleWidth | Measurand::DoubleWidth
    );
    Some(match (width, edge) {
        (true, Edge::Inside) => "inside to inside",
        (true, Edge::Apex) => "apex to apex",
        (true, Edge::Outside) => "outside to outside",
        (false, Edge::Inside) => "to the inside edge",
        (false, Edge::Apex) => "to the apex",
        (false, Edge::Outside) => "to the outside edge",
    })
}

/// The lengths that conform.
pub(super) fn interval(interval: Interval, decimals: usize) -> String {
    let mm = |length: Length| format!("{:.*}", decimals, length.as_mm());
    match (interval.lower, interval.upper) {
        (Some(lower), Some(upper)) => format!("{} to {} mm", mm(lower), mm(upper)),
        (Some(lower), None) => format!("at least {} mm", mm(lower)),
        (None, Some(upper)) => format!("at most {} mm", mm(upper)),
        (None, None) => "any".to_owned(),
    }
}

/// A measured value with its expanded uncertainty, if stated.
pub(super) fn value(finding: &LengthFinding, decimals: usize) -> String {
    match finding.standard_uncertainty {
        Some(u) => format!(
            "{:.*} ± {:.*} mm",
            decimals,
            finding.value.as_mm(),
            decimals,
            2.0 * u.as_mm()
        ),
        None => format!("{:.*} mm", decimals, finding.value.as_mm()),
    }
}

/// How far a value lies beyond its limits.
pub(super) fn beyond(excess: Length, decimals: usize) -> String {
    // A hair beyond the limit must not print as 0.00.
    let least = 0.5 * libm::pow(10.0, -f64::from(u8::try_from(decimals).unwrap_or(2)));
    let size = excess.abs();
    let size = if size.as_mm() < least {
        format!("{:.1e} mm", size.as_mm())
    } else {
        format!("{:.*} mm", decimals, size.as_mm())
    };
    if excess < Length::ZERO {
        format!("{size} below the limits")
    } else {
        format!("{size} above the limits")
    }
}

/// A measured length as it stands in the board file.
pub(super) fn input(input: &Input) -> String {
    let decimals = if input.wire.is_some() { 3 } else { 2 };
    let value = match input.wire.and_then(|wire| wire.gauge) {
        Some(gauge) => format!("{gauge}, {:.decimals$}", input.value),
        None => format!("{:.decimals$}", input.value),
    };
    let edge = match input.edge {
        Some(Edge::Apex) => ", taken to the apex".to_owned(),
        Some(edge) => format!(", taken to the {edge} edge"),
        None => String::new(),
    };
    format!("{} {value}{edge}", input.quantity)
}

/// `file:line:column` of a place.
pub(super) fn place(place: &Place) -> String {
    let source = &place.document.source;
    let position = source.position(place.span.start);
    format!("{}:{}:{}", source.name(), position.line, position.column)
}

/// How a board is built, in two words.
pub(super) fn build(construction: &Construction) -> String {
    format!("{}, {}", construction.mounting, construction.profile.name())
}

/// A deviation with its sign and one decimal; nothing is never "-0.0".
pub(super) fn signed(percent: Percent) -> String {
    let text = format!("{percent:+.1}");
    match text.as_str() {
        "-0.0 %" | "+0.0 %" => "0.0 %".to_owned(),
        _ => text,
    }
}
