//! The words that several reports share.

use crate::board::{Basis, Board, Construction, Edge, Input};
use crate::conformity::{Bounds, ComparedBand, LengthFinding, LimitFinding, WirePart};
use crate::table::{Interval, Limit, Measurand};
use crate::units::{Coverage, Length, Percent};

/// Decimals of a length in mm: wires in thousandths, everything else in
/// hundredths, which is what a calliper shows.
pub(in crate::report) const fn decimals(measurand: Measurand) -> usize {
    if measurand.is_gauge() { 3 } else { 2 }
}

/// A number with its noun.
pub(in crate::report) fn count(number: usize, one: &str, more: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { more })
}

/// A limit's measurand with its part and its edge, as a heading.
pub(in crate::report) fn subject(finding: &LimitFinding<'_>) -> String {
    let limit = finding.limit;
    let name = match finding.part {
        Some(WirePart::Ring(ring)) => format!("{ring} thickness"),
        Some(WirePart::RingWires) | None => limit.measurand.to_string(),
    };
    match edge_phrase(limit) {
        Some(edge) => format!("{name}, {edge}"),
        None => name,
    }
}

/// Between or to which edges a limit is taken.
pub(in crate::report) fn edge_phrase(limit: &Limit) -> Option<&'static str> {
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
pub(in crate::report) fn interval(interval: Interval, decimals: usize) -> String {
    match bare_interval(interval, decimals) {
        any if interval.lower.is_none() && interval.upper.is_none() => any,
        bounded => bounded + " mm",
    }
}

/// The lengths that conform, without their unit.
pub(in crate::report) fn bare_interval(interval: Interval, decimals: usize) -> String {
    let mm = |length: Length| format!("{:.*}", decimals, length.as_mm());
    match (interval.lower, interval.upper) {
        (Some(lower), Some(upper)) => format!("{} to {}", mm(lower), mm(upper)),
        (Some(lower), None) => format!("at least {}", mm(lower)),
        (None, Some(upper)) => format!("at most {}", mm(upper)),
        (None, None) => "any".to_owned(),
    }
}

/// A measured value with its expanded uncertainty, if stated. k is 2 unless it
/// is named.
pub(in crate::report) fn value(finding: &LengthFinding, decimals: usize) -> String {
    let value = finding.value.as_mm();
    let Some(u) = finding.uncertainty else {
        return format!("{value:.decimals$} mm");
    };
    let coverage = u.expanded();
    let k = unusual_factor(coverage);
    format!(
        "{value:.decimals$} ± {:.decimals$} mm{k}",
        coverage.expanded
    )
}

/// The coverage factor: 2, or to two decimals.
pub(in crate::report) fn factor(coverage: Coverage) -> String {
    if (coverage.factor - 2.0).abs() < 0.005 {
        "2".to_owned()
    } else {
        format!("{:.2}", coverage.factor)
    }
}

/// The coverage factor in brackets, where it is not the usual 2.
fn unusual_factor(coverage: Coverage) -> String {
    match factor(coverage).as_str() {
        "2" => String::new(),
        other => format!(" (k = {other})"),
    }
}

/// A band's deviation in words, with its expanded uncertainty.
pub(in crate::report) fn deviation(band: &ComparedBand<'_>) -> String {
    let deviation = band.deviation.value();
    let (u, k) = band.uncertainty.map_or_else(Default::default, |u| {
        let coverage = u.expanded();
        (
            format!(" ± {:.1}", coverage.expanded),
            unusual_factor(coverage),
        )
    });
    if deviation.abs() < 0.05 {
        return format!(
            "as nominal{}{k}",
            if u.is_empty() { u } else { format!(",{u} %") }
        );
    }
    let word = if deviation < 0.0 { "less" } else { "more" };
    format!("{:.1}{u} % {word} than nominal{k}", deviation.abs())
}

/// The deviations that conform, for a table's column.
pub(in crate::report) fn within(bounds: Option<&Bounds<'_>>) -> String {
    let bound = |percent: Percent| format!("{:+.1}", percent.value());
    match bounds.map(|bounds| (bounds.lower, bounds.upper)) {
        Some((Some(lower), Some(upper))) => format!("{} to {} %", bound(lower), bound(upper)),
        Some((Some(lower), None)) => format!("at least {} %", bound(lower)),
        Some((None, Some(upper))) => format!("at most {} %", bound(upper)),
        _ => "no limit".to_owned(),
    }
}

/// What a board's uncertainties rest on, where that is not said at each length.
pub(in crate::report) fn uncertainty_basis(board: &Board) -> String {
    let has = |wanted: fn(&Basis) -> bool| {
        let mut inputs = board.construction.inputs.iter();
        inputs.any(|input| wanted(&input.basis))
    };
    let from_instrument = has(|basis| matches!(basis, Basis::Instrument));
    let from_readings = has(|basis| matches!(basis, Basis::Readings { .. }));
    let Some(instrument) = board.instrument.as_ref() else {
        return String::new();
    };
    let Some(u) = instrument.type_b() else {
        return String::new();
    };
    if !from_instrument && !from_readings {
        return String::new();
    }
    let mut parts = Vec::new();
    if let Some(step) = instrument.resolution {
        parts.push(format!("step {} mm", step.as_mm()));
    }
    if let Some(error) = instrument.max_error {
        parts.push(format!("permissible error ± {} mm", error.as_mm()));
    }
    let name = instrument.name.as_deref().unwrap_or("instrument");
    format!(
        "uncertainty from {name} (type B, rectangular: {}): ± {:.3} mm (k = 2)",
        parts.join(", "),
        u.expanded().expanded
    )
}

/// How far a value lies beyond its limits.
pub(in crate::report) fn beyond(excess: Length, decimals: usize) -> String {
    let size = bare_excess(excess.abs(), decimals);
    let size = size.trim_start_matches('+');
    if excess < Length::ZERO {
        format!("{size} mm below the limits")
    } else {
        format!("{size} mm above the limits")
    }
}

/// How far a value lies beyond its limits, with its sign and without its unit.
pub(in crate::report) fn bare_excess(excess: Length, decimals: usize) -> String {
    // A hair beyond the limit must not print as 0.00.
    let least = 0.5 * libm::pow(10.0, -f64::from(u8::try_from(decimals).unwrap_or(2)));
    if excess.abs().as_mm() < least {
        format!("{:+.1e}", excess.as_mm())
    } else {
        format!("{:+.*}", decimals, excess.as_mm())
    }
}

/// A measured length as it stands in the board file.
pub(in crate::report) fn input(input: &Input) -> String {
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
    format!("{} {value}{}{edge}", input.quantity, readings(&input.basis))
}

/// What is to be known of readings behind a mean.
fn readings(basis: &Basis) -> String {
    let Basis::Readings { series, .. } = basis else {
        return String::new();
    };
    let n = series.readings().len();
    let Some(s) = series.deviation() else {
        return ", one reading: its scatter is not known".to_owned();
    };
    let outlier = series.outlier().map_or_else(String::new, |outlier| {
        format!(
            "; reading {} of {} mm lies {:.1} s out: look at it again",
            outlier.index + 1,
            outlier.value,
            outlier.distance
        )
    });
    format!(", mean of {n} readings, s = {s:.3} mm{outlier}")
}

/// How a board is built, in two words.
pub(in crate::report) fn build(construction: &Construction) -> String {
    format!("{}, {}", construction.mounting, construction.profile.name())
}

/// A deviation with its sign and one decimal; nothing is never "-0.0".
pub(in crate::report) fn signed(percent: Percent) -> String {
    let text = format!("{percent:+.1}");
    match text.as_str() {
        "-0.0 %" | "+0.0 %" => "0.0 %".to_owned(),
        _ => text,
    }
}
